using AngleSharp.Html.Dom;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Repairs;

public sealed class RepairPagesTests
{
    [Fact]
    public void A_repair_says_what_is_known_and_what_is_missing()
    {
        Assert.Equal("Repaired, not proven. Missing: full wash, no leak; or 2 more clean washes in a row.", RepairSamples.NotProven.Sentence);
        Assert.Equal("In doubt: the unit refused the first wash after it.", RepairSamples.InDoubt.Sentence);
        Assert.Equal("Proven by 3 clean washes in a row since the repair.", RepairSentences.State(RepairSamples.NotProven with { State = RepairState.ProvenByWashes, CleanWashes = 3 }));
        Assert.Equal("Proven: every proof that was asked for passed.", RepairSentences.State(RepairSamples.NotProven with { State = RepairState.ProvenByProofs }));
    }

    [Fact]
    public void A_repair_is_told_in_German_too()
    {
        using IDisposable reader = ReaderPreferences.Use(Texts.TextFileTests.German);
        Assert.Equal(
            "Repariert, nicht nachgewiesen. Es fehlt: vollständige Reinigung, kein Leck; oder 2 weitere saubere Reinigungen hintereinander.",
            RepairSentences.State(RepairSamples.NotProven));
        Assert.Equal("Zweifelhaft: das Gerät hat die erste Reinigung danach verweigert.", RepairSentences.State(RepairSamples.InDoubt));
        Assert.Equal(
            "62 % der Störungen wurden beim ersten Einsatz behoben und blieben 30 Tage weg; 6 % kamen in dieser Zeit wieder, und 62 % der Reparaturen sind nachgewiesen.",
            RepairSentences.Finding(RepairSamples.Row("all", null, "All", 50, 80), 365, 30));
    }

    [Fact]
    public void The_finding_tells_the_shares_or_why_there_is_none()
    {
        Assert.Equal(
            "62 % of faults were fixed at the first visit and stayed away for 30 days; 6 % came back within that time, and 62 % of the repairs are proven.",
            RepairSentences.Finding(RepairSamples.Row("all", null, "All", 50, 80), 365, 30));
        Assert.Equal(
            "No fault that visits ended in the last 365 days is old enough to judge.",
            RepairSentences.Finding(RepairSamples.Row("all", null, "All", 0, 0), 365, 30));
    }

    [Fact]
    public async Task Today_lists_repairs_that_are_not_proven_with_links_to_unit_and_visit()
    {
        IHtmlDocument today = await Pages.ParseAsync("today, unproven");
        Assert.Equal(["/units/OV-1001", "/visits/V%2F1"], today.QuerySelectorAll("section[aria-labelledby=unproven] tbody tr:first-child a").Select(link => link.GetAttribute("href")));
        Assert.Contains("The first 2 of 12", today.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("is proven by its proofs", (await Pages.ParseAsync("today, technician")).Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_group_leads_to_the_faults_and_every_fault_to_its_visits()
    {
        IHtmlDocument page = await Pages.ParseAsync("repairs, full");
        Assert.Contains(page.QuerySelectorAll("section[aria-labelledby=codes] tbody a"), link => link.GetAttribute("href") == "/repairs?code=E21#behind");
        Assert.Equal(["/visits/V%2F1", "/visits/V%202"], page.QuerySelectorAll("section[aria-labelledby=behind] td a").Select(link => link.GetAttribute("href")));
    }

    [Fact]
    public async Task What_a_share_is_stands_beneath_it_with_the_readers_own_figures()
    {
        string help = string.Join('\n', (await Pages.ParseAsync("repairs, full")).QuerySelectorAll("details.method p").Select(line => line.TextContent));
        Assert.Contains("stayed away for 30 days. Here that holds for 50 of 80 faults.", help, StringComparison.Ordinal);
        Assert.Contains("again within 30 days of its end. Here 5 of 80 faults did.", help, StringComparison.Ordinal);
        // The bounds solve the two binomial tails for 2.5 %: 0.5096 and 0.7308.
        Assert.Contains("Here 50 of 80 fixed at the first visit mean 51 % to 73 %.", help, StringComparison.Ordinal);
        Assert.Contains("ann: 15 of 25 are 60 %, drawn towards the mean 60 %.", help, StringComparison.Ordinal);
        Assert.Empty((await Pages.ParseAsync("repairs, empty")).QuerySelectorAll("details.method"));
    }

    [Fact]
    public async Task What_was_left_out_for_a_reason_of_its_own_words_is_told_before_its_count()
    {
        RepairQualityReport quality = RepairSamples.Page.Quality;
        RepairsPageReport report = RepairSamples.Page with
        {
            Quality = quality with
            {
                Basis = quality.Basis with { Excluded = new Dictionary<string, int> { ["too_recent_to_tell"] = 18, ["it was fitted before records began"] = 56 } },
            },
        };
        IHtmlDocument page = await Markup.ParseAsync(typeof(RepairsPage), report, Samples.Context);
        Assert.Contains("it was fitted before records began (56); 18 too recent to tell", page.QuerySelector(".basis dl")!.TextContent, StringComparison.Ordinal);
    }
}
