using System.Net;
using System.Text.Json;

namespace Washwear.Api.Tests.VisitSheets;

/// <summary>The visit sheet over HTTP, with probabilities worked by hand.</summary>
public sealed class VisitSheetTests : IAsyncLifetime
{
    private const string Pump = """{"position":"pump","failure_mode":"seized"}""";
    private const string Hose = """{"position":"hose","failure_mode":"torn"}""";
    private SheetFleet _fleet = null!;

    public async Task InitializeAsync()
    {
        _fleet = await SheetFleet.StartAsync();
        await _fleet.SendAsync("fault", "2026-02-27T08:00:00Z", "\"code\":\"E21\"");
        await _fleet.SendAsync("meter", "2026-03-02T11:00:00Z", "\"washes_total\":10");
    }

    public async Task DisposeAsync() => await _fleet.DisposeAsync();

    [Fact]
    public async Task Without_earlier_visits_probabilities_are_the_catalogues_and_the_sheet_says_so()
    {
        JsonElement sheet = await _fleet.SheetAsync();

        // Prior weights 6, 3 and 0.5 for something else: 6 / 9.5, 3 / 9.5, 0.5 / 9.5.
        AssertProbabilities(sheet, 6 / 9.5, 3 / 9.5, 0.5 / 9.5);
        Assert.Equal("Locked out for 3 days 4 h: No water circulates.", sheet.GetProperty("sentence").GetString());
        Assert.Equal("open", sheet.GetProperty("fault").GetProperty("reason").GetString());
        Assert.StartsWith("No water circulates. It locks out washing. Open since Fri 27 Feb 2026, 09:00",
            sheet.GetProperty("fault").GetProperty("sentence").GetString(), StringComparison.Ordinal);
        string[] doubts = [.. sheet.GetProperty("basis").GetProperty("doubts").EnumerateArray().Select(doubt => doubt.GetString()!)];
        Assert.Contains(doubts, doubt => doubt.StartsWith("No closed visit of the fleet for E21 has told what it found",
            StringComparison.Ordinal));
        Assert.Contains(doubts, doubt => doubt == "Too few failures on record for a life curve of: wash pump, pump hose, burner.");
    }

    [Fact]
    public async Task Visits_of_the_fleet_add_to_the_catalogue_unproven_ones_half_and_a_new_one_is_seen_at_once()
    {
        await _fleet.VisitAsync("2026-01-05", "proven", Pump);
        await _fleet.VisitAsync("2026-01-06", "proven", Pump);
        await _fleet.VisitAsync("2026-01-07", "proven", Hose);
        await _fleet.VisitAsync("2026-01-08", "repaired_not_proven", Hose);
        await _fleet.VisitAsync("2026-01-09", "waiting_part", Hose);
        await _fleet.VisitAsync("2026-01-10", "proven", null);
        await _fleet.VisitAsync("2026-01-11", "proven", Hose, "OVEN-3");

        // Pump 6 + 2 = 8; hose 3 + 1 + 1/2 = 4.5; something else 0.5; sum 13. What waits is not closed, a visit without a finding tells
        // nothing, and OVEN-3's model means something else by the code.
        JsonElement sheet = await _fleet.SheetAsync();
        AssertProbabilities(sheet, 8 / 13.0, 4.5 / 13, 0.5 / 13);
        Assert.Equal(4, sheet.GetProperty("basis").GetProperty("n").GetInt32());
        Assert.Equal(1, sheet.GetProperty("basis").GetProperty("excluded").GetProperty("visits_that_told_no_finding").GetInt32());
        Assert.Equal(
            "2 of 4 earlier visits for this fault found it, the catalogue gives it 63 %; the age of the fitted part is not known.",
            sheet.GetProperty("diagnosis").GetProperty("causes")[0].GetProperty("sentence").GetString());

        // One more for the hose: 8, 5.5, 0.5 of 14; voided: as before.
        string key = await _fleet.VisitAsync("2026-01-12", "proven", Hose);
        AssertProbabilities(await _fleet.SheetAsync(), 8 / 14.0, 5.5 / 14, 0.5 / 14);
        await _fleet.VoidAsync(key);
        AssertProbabilities(await _fleet.SheetAsync(), 8 / 13.0, 4.5 / 13, 0.5 / 13);
    }

    [Fact]
    public async Task Results_change_probabilities_by_Bayes_rule_and_checking_stops_at_the_certainty()
    {
        // turn-pump misses 0.1 and alarms falsely 0.05; bend:hose 0.2 and 0.1. Weights 6, 3, 0.5.
        // turn-pump passes: 6 x 0.1 = 0.6; 3 x 0.95 = 2.85; 0.5 x 0.95 = 0.475; sum 3.925.
        JsonElement passed = await _fleet.SheetAsync("?result=turn-pump:pass");
        AssertProbabilities(passed, 0.6 / 3.925, 2.85 / 3.925, 0.475 / 3.925);
        Assert.Equal("check_next", Stage(passed));
        Assert.Equal("bend:hose", passed.GetProperty("diagnosis").GetProperty("next_check").GetString());
        Assert.Equal(5, passed.GetProperty("diagnosis").GetProperty("minutes_spent").GetDouble());

        // bend:hose fails after that: 0.6 x 0.1 = 0.06; 2.85 x 0.8 = 2.28; 0.475 x 0.1 = 0.0475; sum 2.3875: the hose 0.955.
        JsonElement found = await _fleet.SheetAsync("?result=TURN-PUMP:pass&result=bend:hose:fail");
        AssertProbabilities(found, 0.06 / 2.3875, 2.28 / 2.3875, 0.0475 / 2.3875);
        Assert.Equal("certain", Stage(found));
        Assert.Contains("pump hose, torn (95 %)", Sentence(found), StringComparison.Ordinal);
        Assert.Contains("Stop checking", Sentence(found), StringComparison.Ordinal);

        // 0.955 is not 0.97: nothing is left to check, and the sheet says so.
        JsonElement asked = await _fleet.SheetAsync("?result=turn-pump:pass&result=bend:hose:fail&certainty=0.97");
        Assert.Equal("not_certain", Stage(asked));
        Assert.Contains("No check that is left could tell more", Sentence(asked), StringComparison.Ordinal);

        // What was not done changes nothing and is not proposed again.
        JsonElement skipped = await _fleet.SheetAsync("?result=turn-pump:not_done");
        AssertProbabilities(skipped, 6 / 9.5, 3 / 9.5, 0.5 / 9.5);
        Assert.Equal("bend:hose", skipped.GetProperty("diagnosis").GetProperty("next_check").GetString());
        Assert.Equal("not_done", skipped.GetProperty("checks")[0].GetProperty("result").GetString());
    }

    [Fact]
    public async Task Parts_reach_nine_in_ten_with_the_fewest_and_each_says_the_chance_that_it_is_needed()
    {
        // The pump alone covers 0.632, both 0.947: both are brought.
        JsonElement bring = (await _fleet.SheetAsync()).GetProperty("bring");
        Assert.Equal(["P-1", "H-1"], bring.GetProperty("parts").EnumerateArray().Select(part =>
            part.GetProperty("part_number").GetString()));
        Assert.Equal(6 / 9.5, bring.GetProperty("parts")[0].GetProperty("chance_needed").GetDouble(), 12);
        Assert.Equal(9 / 9.5, bring.GetProperty("covered").GetDouble(), 12);

        // turn-pump fails: 6 x 0.9 = 5.4; 3 x 0.05 = 0.15; 0.5 x 0.05 = 0.025; sum 5.575: the pump 0.969 alone is enough. The hose, its
        // companion, is worth it only once somebody found it worn.
        JsonElement certain = (await _fleet.SheetAsync("?result=turn-pump:fail")).GetProperty("bring");
        Assert.Equal("P-1", Assert.Single(certain.GetProperty("parts").EnumerateArray()).GetProperty("part_number").GetString());
        Assert.Equal(5.4 / 5.575, certain.GetProperty("covered").GetDouble(), 12);
        Assert.Empty(certain.GetProperty("worth").EnumerateArray());
        await _fleet.SendAsync("condition", "2026-02-01T09:00:00Z", "\"position\":\"hose\",\"grade\":\"worn\",\"note\":\"hardened\"");
        JsonElement worn = (await _fleet.SheetAsync("?result=turn-pump:fail")).GetProperty("bring");
        JsonElement worth = Assert.Single(worn.GetProperty("worth").EnumerateArray());
        Assert.Equal("Graded worn on 1 Feb 2026, while the wash pump is open", worth.GetProperty("why").GetString());
    }

    [Fact]
    public async Task Cautions_are_those_of_exactly_these_checks_and_end_with_what_comes_first()
    {
        JsonElement sheet = await _fleet.SheetAsync();
        Assert.Equal(["electric", "water", "moving"], sheet.GetProperty("cautions").EnumerateArray().Select(caution =>
            caution.GetProperty("hazard").GetString()));
        Assert.Contains("Local codes, the maker's instructions", sheet.GetProperty("deferral").GetString(), StringComparison.Ordinal);
        Assert.Empty((await _fleet.SheetAsync("?fault=E40")).GetProperty("cautions").EnumerateArray());
    }

    [Fact]
    public async Task Proofs_ask_for_the_grade_of_the_rule_and_for_every_heating_circuit_whatever_was_at_fault()
    {
        JsonElement[] water = [.. (await _fleet.SheetAsync()).GetProperty("proofs").EnumerateArray()];
        Assert.Contains(water, proof => proof.GetProperty("code").GetString() == "heating-circuits");
        Assert.Contains(water, proof => proof.GetProperty("how").GetString() == "A standard wash ran to its end by itself.");
        Assert.Contains((await _fleet.SheetAsync("?fault=E40")).GetProperty("proofs").EnumerateArray(), proof =>
            proof.GetProperty("code").GetString() == "heating-circuits");
    }

    [Fact]
    public async Task A_fault_without_causes_or_without_an_entry_is_told_in_words_and_gives_no_figures()
    {
        JsonElement listed = await _fleet.SheetAsync("?fault=e50");
        Assert.Equal(JsonValueKind.Null, listed.GetProperty("diagnosis").ValueKind);
        Assert.Equal("E50", listed.GetProperty("question").GetProperty("fault").GetString());
        Assert.Contains(listed.GetProperty("basis").GetProperty("doubts").EnumerateArray(), doubt =>
            doubt.GetString()!.StartsWith("The catalogue names no cause for E50", StringComparison.Ordinal));

        await _fleet.SendAsync("fault", "2026-03-01T08:00:00Z", "\"code\":\"X77\"", "OVEN-2");
        JsonElement unlisted = await _fleet.SheetAsync(unit: "OVEN-2");
        Assert.Equal("X77", unlisted.GetProperty("fault").GetProperty("code").GetString());
        Assert.Equal(JsonValueKind.Null, unlisted.GetProperty("fault").GetProperty("meaning").ValueKind);
        Assert.Contains("says nothing about X77", unlisted.GetProperty("fault").GetProperty("sentence").GetString(),
            StringComparison.Ordinal);
        Assert.Empty(unlisted.GetProperty("checks").EnumerateArray());
    }

    [Theory]
    [InlineData("?result=turn-pump", "result form")]
    [InlineData("?result=turn-pump:maybe", "result form")]
    [InlineData("?result=look:pass", "result known")]
    [InlineData("?result=turn-pump:pass&result=Turn-Pump:fail", "result twice")]
    [InlineData("?certainty=1", "certainty range")]
    [InlineData("?certainty=much", "certainty range")]
    [InlineData("?fault=E22", "fault known")]
    [InlineData("?fault=E50&result=turn-pump:pass", "result known")]
    public async Task What_cannot_be_meant_is_refused_with_what_to_give_instead(string query, string fieldAndRule)
    {
        await ProblemAssert.ListsAsync(await _fleet.Host.Admin.GetAsync("/v1/units/OVEN-1/visit-sheet" + query), fieldAndRule);
        using HttpResponseMessage page = await _fleet.Host.Admin.GetAsync("/units/OVEN-1/visit-sheet" + query);
        Assert.Equal(HttpStatusCode.BadRequest, page.StatusCode);
    }

    [Fact]
    public async Task A_unit_that_is_not_known_is_not_found_and_a_stranger_sees_nothing()
    {
        Assert.Equal(HttpStatusCode.NotFound, (await _fleet.Host.Admin.GetAsync("/v1/units/OVEN-9/visit-sheet")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await _fleet.Host.Admin.GetAsync("/units/OVEN-9/visit-sheet")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await _fleet.Host.Stranger.GetAsync("/v1/units/OVEN-1/visit-sheet")).StatusCode);
        string page = await _fleet.Host.Admin.GetStringAsync("/units/oven-1/visit-sheet");
        Assert.Contains("Turn the pump by hand", page, StringComparison.Ordinal);
        Assert.Contains("result=turn-pump%3Afail", page, StringComparison.Ordinal);
    }

    private static string Stage(JsonElement sheet) => sheet.GetProperty("diagnosis").GetProperty("stage").GetString()!;

    private static string Sentence(JsonElement sheet) => sheet.GetProperty("diagnosis").GetProperty("sentence").GetString()!;

    private static void AssertProbabilities(JsonElement sheet, double pump, double hose, double somethingElse)
    {
        Dictionary<string, double> got = SheetFleet.Probabilities(sheet);
        Assert.Equal(pump, got["pump"], 12);
        Assert.Equal(hose, got["hose"], 12);
        Assert.Equal(somethingElse, got["-"], 12);
    }
}
