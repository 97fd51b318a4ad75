using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Visits;

namespace Washwear.Dashboard.Tests.Visits;

public sealed class CloseOutPageTests
{
    [Fact]
    public async Task What_was_entered_is_there_again_and_each_problem_stands_in_the_part_of_the_form_that_it_is_about()
    {
        IHtmlDocument page = await Markup.ParseAsync(typeof(CloseOutPage), VisitSamples.Refused, Samples.Context);

        Assert.True(Input(page, "check/turn-impeller/result", "fail").IsChecked);
        Assert.Equal("two", page.QuerySelector("input[name='check/turn-impeller/reading']")!.GetAttribute("value"));
        Assert.True(Input(page, "part/wash-pump/mode", "seized").IsChecked);
        Assert.True(Input(page, "found/wash-pump/seized/scale", "yes").IsChecked);
        Assert.Equal("Scale.", page.QuerySelector("textarea[name=note]")!.TextContent);
        Assert.Equal(4, page.QuerySelectorAll(".field-error").Length);
        Assert.Equal("part/wash-pump/out", Near(page, "removed_before_fitted").QuerySelector("input[type=radio][name$='/out']")!.GetAttribute("name"));
        Assert.NotNull(Near(page, "kind").QuerySelector("input[name='check/turn-impeller/reading']"));
        Assert.All(page.QuerySelectorAll(".field-error"), error => Assert.All(error.Ancestors<IElement>().Where(above => above.LocalName == "details"),
            details => Assert.True(details.HasAttribute("open"), details.OuterHtml)));
    }

    [Fact]
    public async Task A_fresh_form_shows_the_essentials_and_folds_the_rest()
    {
        IHtmlDocument page = await Markup.ParseAsync(typeof(CloseOutPage), VisitSamples.Form, Samples.Context);

        Assert.True(Input(page, "fault", "E21").IsChecked);
        Assert.Empty(page.QuerySelectorAll("details[open]"));
        Assert.All(page.QuerySelectorAll("input[name=arrived], input[name=outcome], .save-bar button"), essential =>
            Assert.DoesNotContain(essential.Ancestors<IElement>(), above => above.LocalName == "details"));
        Assert.Contains("mind: live parts, caustic detergent", page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Contains("A standard wash ran to its end by itself.", page.Body!.TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ProgrammeGrade.Intensive, "A intensive wash")]
    [InlineData(null, "A full wash")]
    public void The_proofs_asked_for_name_the_grade_and_every_heating_circuit(ProgrammeGrade? grade, string words)
    {
        IReadOnlyList<Proof> proofs = Proof.Asked(grade);
        Assert.Equal(["no-leak", "drain-holds-and-drains", "heating-circuits", "full-wash", "detergent-dissolved", "guards-and-lockout"], proofs.Select(proof => proof.Code));
        Assert.StartsWith(words.Replace("A i", "An i", StringComparison.Ordinal), proofs.Single(proof => proof.Code == Proof.FullWash).How, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_form_asks_in_German_and_leaves_the_words_of_the_way_in_for_records_marked_as_English()
    {
        using IDisposable reader = ReaderPreferences.Use(Texts.TextFileTests.German);
        IHtmlDocument page = await Markup.ParseAsync(typeof(CloseOutPage), VisitSamples.Refused, Samples.Context);
        Assert.Contains("Freischalten, gegen Wiedereinschalten sichern, Spannungsfreiheit feststellen, bevor Sie das Gerät öffnen.", page.QuerySelector(".caution-line")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("Achtung: Teile unter Spannung, ätzender Reiniger", page.Body!.TextContent, StringComparison.Ordinal);
        Assert.Equal(["proven", "repaired_not_proven", "waiting_part", "waiting_approval", "no_fault_found"], page.QuerySelectorAll("input[name=outcome]").Select(choice => choice.GetAttribute("value")));
        Assert.Equal("Repariert, nicht nachgewiesen", Input(page, "outcome", "repaired_not_proven").ParentElement!.TextContent);
        Assert.All(page.QuerySelectorAll(".field-error"), error => Assert.Equal("en", error.GetAttribute("lang")));
        Assert.Equal("Eine Reinigung der Stufe Intensiv lief von selbst bis zum Ende.", Proof.Asked(ProgrammeGrade.Intensive).Single(proof => proof.Code == Proof.FullWash).How);
        Assert.Equal(
            "Wash pump: altes Teil ausgebaut, ausgefallen vorgefunden (seized), zuletzt gut gesehen am 3. Juni; neues Teil eingebaut, P-1, Charge B7.",
            VisitSentences.PartChange("Wash pump", "found_failed", "seized", "3. Juni", true, "P-1", "B7"));
    }

    private static IHtmlInputElement Input(IHtmlDocument page, string name, string value) =>
        (IHtmlInputElement)page.QuerySelector($"input[name='{name}'][value='{value}']")!;

    // The closest entry of the form around a problem.
    private static IElement Near(IHtmlDocument page, string rule) => page.QuerySelector($".field-error[data-rule='{rule}']")!.Closest(".entry")!;
}
