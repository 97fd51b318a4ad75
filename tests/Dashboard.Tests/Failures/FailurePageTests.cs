using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Failures;

public sealed class FailurePageTests
{
    [Fact]
    public async Task Each_decision_says_what_is_seen_why_what_to_do_and_where_the_records_are()
    {
        IHtmlDocument document = await Pages.ParseAsync("failures, full");
        IElement[] decisions = [.. document.QuerySelectorAll(".decisions > li")];
        Assert.Equal(3, decisions.Length);
        Assert.Contains("batch B17", decisions[0].QuerySelector("h3")!.TextContent, StringComparison.Ordinal);
        Assert.Equal(2, decisions[0].QuerySelectorAll("ul li").Length);
        Assert.Equal([FailureSamples.Full.Decisions[0].Link, FailureSamples.Full.Decisions[0].Records], decisions[0].QuerySelectorAll("a").Select(link => link.GetAttribute("href")));
        Assert.Equal("The three things that need a decision this month", document.GetElementById("decisions")!.TextContent);
    }

    [Theory]
    [InlineData("failures, full", 4, 4)]
    [InlineData("failures, parts compared", 4, 3)]
    public async Task Those_that_stand_out_are_named_in_words(string page, int rates, int others)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        int inTables = document.QuerySelectorAll("td .stands-out").Count(mark => mark.TextContent == "Stands out");
        Assert.True(inTables >= rates, $"{inTables}");
        Assert.True(document.QuerySelectorAll("svg text").Count(text => text.TextContent == FailureWords.StandsOut) >= others);
    }

    [Fact]
    public async Task The_form_sends_every_choice_that_the_page_keeps_in_its_address()
    {
        IHtmlDocument document = await Pages.ParseAsync("failures, parts compared");
        IElement form = document.QuerySelector("form.choices")!;
        Assert.Equal("get", form.GetAttribute("method"));
        Assert.Equal(
            ["axis", "by", "code", "compare", "from", "gap_hours", "measure", "model", "of", "operator", "position", "site", "to", "window_days"],
            form.QuerySelectorAll("[name]").Select(control => control.GetAttribute("name")!).Order(StringComparer.Ordinal));
        Assert.Equal("parts", form.QuerySelector("select[name=of] option[selected]")!.GetAttribute("value"));
        Assert.Equal("locked_out_hours", form.QuerySelector("input[name=measure]")!.GetAttribute("value"));
        Assert.True(form.QuerySelector("details")!.HasAttribute("open"));
    }

    [Fact]
    public async Task An_empty_fleet_gets_words_and_no_picture()
    {
        IHtmlDocument document = await Pages.ParseAsync("failures, empty");
        Assert.Empty(document.QuerySelectorAll("figure, form.choices, #decisions"));
        Assert.Equal("No failure is on record yet.", document.QuerySelector("h1")!.TextContent);
        Assert.Contains("reports of faults", document.QuerySelector(".empty")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_window_in_which_nothing_was_watched_leaves_the_choices_to_change_it()
    {
        FailuresPageReport report = FailureSamples.Empty with { Offered = new FailureOffers([new Offer("OP-1", "Invented Canteens")], [], [], []) };
        IHtmlDocument document = await Markup.ParseAsync(typeof(FailuresPage), report, Samples.Context);
        Assert.Empty(document.QuerySelectorAll("figure"));
        Assert.Contains("No unit was watched", document.QuerySelector(".empty")!.TextContent, StringComparison.Ordinal);
        Assert.NotNull(document.QuerySelector("form.choices"));
    }

    [Fact]
    public async Task One_month_without_a_failure_is_told_with_its_bound()
    {
        IHtmlDocument document = await Pages.ParseAsync("failures, one quiet month");
        Assert.Contains("Only one month was watched, May 2025: 0 failures, at a pace of 0 (0 to 14.8)", document.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_link_leaves_out_the_window_that_the_page_takes_anyway()
    {
        FailureChoice choice = FailureSamples.Choice;
        Assert.Equal("/failures", Urls.Failures(FailureWindow.Asked(choice, FailureSamples.To)));
        Assert.Equal("/failures?from=2025-03-05T07:30:00Z".Replace(":", "%3A", StringComparison.Ordinal),
            Urls.Failures(FailureWindow.Asked(choice with { From = FailureSamples.To.AddDays(-90) }, FailureSamples.To)));
        Assert.NotNull(FailureWindow.Asked(choice with { To = FailureSamples.To.AddDays(-1) }, FailureSamples.To).From);
    }

    [Fact]
    public void One_click_chooses_the_last_months_up_to_now()
    {
        FailureChoice last = FailureWindow.Last(FailureSamples.Choice with { Model = "H20" }, 6, FailureSamples.To);
        Assert.Equal((new DateTimeOffset(2024, 12, 3, 0, 0, 0, TimeSpan.Zero), null, "H20"), (last.From, last.To, last.Model));
    }

    [Theory]
    [InlineData("E-41", "E-41 Drain valve does not close", null)]
    [InlineData("E-41", "Drain valve does not close", "E-41")]
    [InlineData(null, "Drain valve", null)]
    public void A_code_stands_beside_a_name_that_does_not_begin_with_it(string? code, string name, string? beside) =>
        Assert.Equal(beside, FailureWords.Beside(name, code));

    [Fact]
    public void Failures_to_expect_are_whole() => Assert.Equal(
        "about 58 failures (43 to 74)", FailureWords.Expected(new Washwear.Analytics.Numerics.Estimate(57.7, 43, 74, 0.95, "exact")));

    [Fact]
    public async Task A_verdict_is_not_said_twice()
    {
        FailuresPageReport report = FailureSamples.Full with { Trend = FailureSamples.Trend with { Sentence = "Getting worse: failures come more often." } };
        IHtmlDocument document = await Markup.ParseAsync(typeof(FailuresPage), report, Samples.Context);
        IElement lead = document.GetElementById("worse")!.ParentElement!.QuerySelector(".lead")!;
        Assert.Equal("Getting worse: failures come more often.", lead.TextContent);
        Assert.Equal("Getting worse", lead.QuerySelector("strong")!.TextContent);
    }

    [Theory]
    [InlineData("worse")]
    [InlineData("rates")]
    [InlineData("repeats")]
    [InlineData("pareto")]
    [InlineData("recurrence")]
    public async Task Each_section_explains_its_figures_in_place_with_one_of_the_readers_own(string section)
    {
        IHtmlDocument document = await Pages.ParseAsync("failures, full");
        IElement help = document.GetElementById(section)!.Closest("section")!.QuerySelector("details.method")!;
        Assert.Contains(help.QuerySelectorAll("p"), text => text.TextContent.StartsWith("Here: ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_a_failure_cost_is_explained_with_the_first_that_cost_something()
    {
        IHtmlDocument document = await Pages.ParseAsync("failure records, faults");
        string help = document.QuerySelector("details.method")!.TextContent;
        Assert.Contains("Here: OV-1001, Drain valve does not close, was locked out for 12 h 30 min.", help, StringComparison.Ordinal);
        Assert.Contains("Here: OV-1001, Drain valve does not close, cost 9 h 36 min.", help, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_choice_has_words()
    {
        Assert.All(Enum.GetValues<RepeatKind>(), cause => Assert.EndsWith(".", FailureWords.Name(cause) + FailureWords.Meaning(cause), StringComparison.Ordinal));
        Assert.All(Enum.GetValues<RateGroup>(), by => Assert.NotEmpty(FailureWords.One(by)));
        Assert.All(Enum.GetValues<ParetoGroup>(), by => Assert.NotEmpty(FailureWords.One(by)));
        Assert.All(Enum.GetValues<ParetoMeasure>(), measure => Assert.NotEmpty(FailureWords.Name(measure)));
        Assert.Equal("part_number", FailureWords.Code(RateGroup.PartNumber));
    }
}
