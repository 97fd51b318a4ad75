using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Dashboard.Tests.VisitSheets;

public sealed class VisitSheetPageTests
{
    [Fact]
    public async Task What_is_needed_first_stands_before_everything_else()
    {
        IHtmlDocument page = await PageAsync(SheetSamples.Full);
        string first = page.QuerySelector(".sheet-first")!.TextContent;
        Assert.Contains("Drain valve does not close.", first, StringComparison.Ordinal);
        Assert.Contains("Check next", first, StringComparison.Ordinal);
        Assert.Contains("Turn the pump by hand, 12 min", first, StringComparison.Ordinal);
        Assert.Contains("wash pump (46 %)", first, StringComparison.Ordinal);
        Assert.Contains("found at fault on 30 May 2025", first, StringComparison.Ordinal);
        int caution = page.DocumentElement.InnerHtml.IndexOf("id=\"caution\"", StringComparison.Ordinal);
        int checks = page.DocumentElement.InnerHtml.IndexOf("id=\"checks\"", StringComparison.Ordinal);
        Assert.True(caution > 0 && caution < checks, "cautions come before the checks");
    }

    [Fact]
    public async Task Each_check_links_to_the_sheet_with_its_result_and_a_told_one_can_be_taken_back()
    {
        IHtmlDocument page = await PageAsync(SheetSamples.Full);
        string[] links = [.. page.QuerySelectorAll(".check-links a").Select(link => link.GetAttribute("href")!)];
        Assert.Equal(6, links.Length);
        Assert.Equal("/units/OV-1003/visit-sheet?fault=E-41&result=look%3Apass&result=smell%3Anot_done&result=turn%3Apass", links[0]);
        Assert.EndsWith("&result=turn%3Anot_done", links[2], StringComparison.Ordinal);
        IElement back = page.QuerySelector(".check-done a")!;
        Assert.Equal("/units/OV-1003/visit-sheet?fault=E-41&result=smell%3Anot_done", back.GetAttribute("href"));
        Assert.Contains("Passed", page.QuerySelector(".check-done")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("1 more cause below 1 %", page.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_question_replaces_the_result_of_a_check_and_keeps_the_others_order()
    {
        SheetQuestion question = new SheetQuestion("F", [new("a", SheetResult.Pass), new("b:c", SheetResult.Fail)], 0.8).With("A",
            SheetResult.Fail);
        Assert.Equal("/units/U%2F1/visit-sheet?fault=F&result=b%3Ac%3Afail&result=A%3Afail&certainty=0.8",
            Urls.VisitSheet("U/1", question));
        Assert.Equal("/units/U/visit-sheet", Urls.VisitSheet("U"));
    }

    [Fact]
    public void Cautions_are_those_of_the_hazards_given_each_once_and_every_hazard_of_the_catalogue_has_one()
    {
        string[] hazards = ["electric", "water", "hot", "caustic", "gas", "compressed_gas", "moving"];
        foreach (Choice language in ReaderPreferences.Languages)
        {
            using IDisposable reader = ReaderPreferences.Use(new PreferenceChoice(Language: language.Code).For([]));
            Assert.Equal(hazards.Order(), SafetyCautions.For([("all", hazards), ("again", hazards)]).Select(caution => caution.Hazard).Order());
        }

        Caution only = Assert.Single(SafetyCautions.For([("a", ["gas"]), ("b", []), ("c", ["GAS"])]));
        Assert.Equal(["a", "c"], only.Checks);
    }

    [Fact]
    public void A_cause_explains_itself_by_visits_and_by_the_age_of_the_part()
    {
        Assert.Equal(
            "31 of 70 earlier visits for this fault found it, and this wash pump is 410 days old (half have failed by 500).",
            DiagnosisSentences.Why(SheetSamples.Cause, 70, SheetSamples.Pump));
        Assert.Equal(
            "31 of 70 earlier visits for this fault found it, but this wash pump is only 410 days old (half have failed by 500).",
            DiagnosisSentences.Why(SheetSamples.Cause with { HazardFactor = 0.2 }, 70, SheetSamples.Pump));
        Assert.Equal(
            "2 of 3 earlier visits for this fault found it, the catalogue gives it 30 %.",
            DiagnosisSentences.Why(SheetSamples.Cause with { VisitsThatFoundIt = 2 }, 3, null));
        Assert.Equal(
            "No earlier visit for this fault has told what it found; the catalogue gives it 30 %.",
                DiagnosisSentences.Why(SheetSamples.Cause, 0, null));
    }

    [Fact]
    public async Task A_sheet_is_told_in_German_with_the_names_of_parts_as_they_were_registered()
    {
        using IDisposable reader = ReaderPreferences.Use(Texts.TextFileTests.German);
        Assert.Equal(
            "Bei 31 von 70 früheren Einsätzen wegen dieser Störung gefunden, aber hier ist Wash pump erst 410 Tage alt (die Hälfte fällt bis 500 aus).",
            DiagnosisSentences.Why(SheetSamples.Cause with { HazardFactor = 0.2 }, 70, SheetSamples.Pump));
        Assert.Equal("Wash pump, weak flow", DiagnosisSentences.CauseName("Wash pump", "weak_flow"));
        Assert.Equal(
            $"Drain valve does not close. Sie sperrt die Reinigung. Offen seit {Text.Moment(SheetSamples.Full.Fault!.RaisedAt, Samples.Zone)} (vor 8 Tagen 5 h). "
            + "In den letzten 365 Tagen hier 3-mal gemeldet.",
            VisitSheetSentences.Fault(SheetSamples.Full.Fault!, Samples.AsOf, Samples.Zone));
        Assert.EndsWith(
            " seit 8 Tagen 5 h: Drain valve does not close.",
            VisitSheetSentences.Purpose(SheetSamples.Full.Cleaning[0], SheetSamples.Full.Fault, Samples.AsOf), StringComparison.Ordinal);
        IHtmlDocument page = await PageAsync(SheetSamples.Full);
        Assert.Contains("Als Nächstes prüfen", page.QuerySelector(".sheet-first")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("Wash pump (46 %)", page.QuerySelector(".sheet-first")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("1 weitere Ursache unter 1 %", page.Body!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_sheet_for_planned_work_has_no_causes_and_one_that_is_certain_says_so_first()
    {
        IHtmlDocument planned = await PageAsync(SheetSamples.Empty);
        Assert.Null(planned.QuerySelector(".sheet-causes"));
        Assert.Contains("Nothing fitted is known to be worn", planned.QuerySelector(".sheet-first")!.TextContent, StringComparison.Ordinal);
        IHtmlDocument certain = await PageAsync(SheetSamples.Full with
        {
            Diagnosis = SheetSamples.Full.Diagnosis! with { Sentence = "Certain enough at 90 %.", NextCheck = null },
        });
        Assert.Contains("Certain enough at 90 %.", certain.QuerySelector(".sheet-first")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void Parts_to_bring_say_what_they_leave_open()
    {
        PartToBring pump = new("wash-pump", "Wash pump", "P-1", 0.6);
        Assert.Equal("With this along nothing is missing in 96 % of such cases. In 36 % it is cleared without a part.",
            DiagnosisSentences.Bring([pump], 0.96, 0.9, 0.36));
        Assert.Equal("In 95 % of such cases no part is needed.", DiagnosisSentences.Bring([], 0.95, 0.9, 0.95));
        Assert.Equal(
            "With these along nothing is missing in 64 % of such cases, less than the 90 % wished for: the rest is something that the catalogue does not name.",
            DiagnosisSentences.Bring([pump, pump], 0.64, 0.9, 0));
    }

    [Fact]
    public async Task Paper_counts_what_it_leaves_to_the_screen_and_leaves_out_no_caution_no_proof_and_no_part_to_bring()
    {
        const int Many = 12;
        VisitSheetReport full = SheetSamples.Full;
        IHtmlDocument page = await PageAsync(full with
        {
            Diagnosis = full.Diagnosis! with { Causes = [.. Enumerable.Repeat(SheetSamples.Cause, Many)], Earlier = [.. Enumerable.Repeat("An earlier visit.", Many)] },
            Checks = [.. Enumerable.Range(0, Many).Select(i => full.Checks[2] with { Check = "check-" + i })],
            Bring = full.Bring with { Parts = [.. Enumerable.Repeat(full.Bring.Parts[0], Many)], Worth = [.. Enumerable.Repeat(full.Bring.Worth[0], Many)] },
            Recommendations = [.. Enumerable.Range(0, Many).Select(i => full.Recommendations[0] with { Position = "hose-" + i })],
            Fitted = [.. Enumerable.Range(0, Many).Select(i => SheetSamples.Pump with { Position = "pump-" + i })],
            Proofs = [.. Enumerable.Repeat(full.Proofs[0], Many)],
            Cautions = SafetyCautions.For([("all", ["electric", "water", "hot", "caustic", "gas", "compressed_gas", "moving"])]),
        });

        foreach (string list in new[] { ".causes > li", ".checks > li", ".plain > li", ".sheet tbody > tr" })
        {
            IElement[] rows = [.. page.QuerySelectorAll(list)];
            int left = rows.Count(row => row.ClassList.Contains("screen-only"));
            Assert.Equal(Many, rows.Length);
            Assert.InRange(left, 1, Many - 1);
            Assert.Contains($"{left} more on the screen.", rows[0].Closest("section")!.QuerySelector(".paper-only")!.TextContent, StringComparison.Ordinal);
        }

        Assert.Equal(7, page.QuerySelectorAll(".caution li:not(.screen-only)").Length);
        Assert.Equal(Many, page.QuerySelectorAll(".proofs li:not(.screen-only)").Length);
        Assert.Equal(Many, page.QuerySelectorAll(".told-parts li:not(.screen-only) b").Length);
        Assert.Single(page.QuerySelectorAll(".sheet-bare"));
        Assert.Empty((await PageAsync(SheetSamples.Empty)).QuerySelectorAll(".sheet-bare, .sheet-dense, .sheet-body li.screen-only"));
    }

    [Fact]
    public async Task Paper_says_once_what_was_found_and_names_parts_of_unknown_age_in_one_line()
    {
        IHtmlDocument page = await PageAsync(SheetSamples.Full);
        Assert.Equal("Pump hose: worn on 24 Apr 2025, left in (hardened).", Assert.Single(page.QuerySelectorAll(".plain > li:not(.screen-only)")).TextContent);
        Assert.Contains("Wash pump", Assert.Single(page.QuerySelectorAll(".sheet tbody > tr:not(.screen-only)")).TextContent, StringComparison.Ordinal);
        Assert.Contains("Age not known: drain valve.", page.QuerySelector("section[aria-labelledby=fitted]")!.TextContent, StringComparison.Ordinal);
        Assert.Empty(page.QuerySelectorAll("section[aria-labelledby=state] .screen-only"));
        Assert.Contains("Also open: W-07 Door switch slow.", page.QuerySelector("section[aria-labelledby=state]")!.TextContent, StringComparison.Ordinal);
    }

    private static Task<IHtmlDocument> PageAsync(VisitSheetReport report) =>
        Markup.ParseAsync(typeof(VisitSheetPage), report, Samples.Context);
}
