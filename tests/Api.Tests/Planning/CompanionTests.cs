using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;

namespace Washwear.Api.Tests.Planning;

/// <summary>What to swap together, over HTTP: the pump while the unit is open for its hose.</summary>
public sealed class CompanionTests
{
    private const double Swap = 100;
    private const double Failure = 1000;
    private const double DaysPerYear = 365.25;

    [Fact]
    public async Task The_age_is_that_of_least_cost_with_the_fleets_own_openings_as_opportunities()
    {
        await using ApiHost host = await StartAsync(withHoses: true);
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(host, "/v1/plan/companions")).GetProperty("rows").EnumerateArray());

        // One hose came in 400 days ago and was changed twice since: two openings in 400 unit-days.
        double perYear = 2 / (400 / DaysPerYear);
        Assert.Equal(perYear, row.GetProperty("openings_per_year").GetDouble(), perYear * 1e-6);
        double best = Enumerable.Range(1, 1000).Select(age => (double)age).MinBy(age => CostRate(age, perYear / DaysPerYear));
        Assert.Equal(best, row.GetProperty("swap_past_days").GetDouble(), 1.0);
        Assert.Equal(("hose", "wash-pump"), (row.GetProperty("opened").GetString(), row.GetProperty("companion").GetString()));
        Assert.True(row.GetProperty("saving_five_years").GetDouble() > 3 * row.GetProperty("saving_standard_error").GetDouble());
        Assert.Equal(1, row.GetProperty("past_age_now").GetInt32());
        Assert.StartsWith("model,model_name,opened,", await host.Admin.GetStringAsync("/v1/plan/companions?format=csv"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_lives_of_the_opened_position_nothing_is_said()
    {
        await using ApiHost host = await StartAsync(withHoses: false);
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(host, "/v1/plan/companions")).GetProperty("rows").EnumerateArray());
        Assert.Equal("no such parts are fitted", row.GetProperty("not_planned").GetString());
        Assert.Equal(JsonValueKind.Null, row.GetProperty("swap_past_age").ValueKind);
    }

    [Fact]
    public async Task The_visit_sheet_names_the_companion_where_it_is_past_that_age_and_only_there()
    {
        await using ApiHost host = await StartAsync(withHoses: true);
        object[] faults = [.. new[] { "P-0", "P-1" }.Select(unit => new { type = "fault", key = "f-" + unit, unit, at = PlannedFleet.Now.AddHours(-2), code = "E1" })];
        using HttpResponseMessage sent = await host.Admin.PostAsJsonAsync("/v1/records", faults);
        Assert.Equal(2, (await sent.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("accepted").GetInt32());

        JsonElement young = (await PlannedFleet.GetAsync(host, "/v1/units/P-0/visit-sheet")).GetProperty("bring");
        Assert.Equal("hose", Assert.Single(young.GetProperty("parts").EnumerateArray()).GetProperty("position").GetString());
        Assert.Empty(young.GetProperty("worth").EnumerateArray());

        JsonElement old = (await PlannedFleet.GetAsync(host, "/v1/units/P-1/visit-sheet")).GetProperty("bring");
        JsonElement pump = Assert.Single(old.GetProperty("worth").EnumerateArray());
        Assert.Equal(("wash-pump", "hose"), (pump.GetProperty("position").GetString(), pump.GetProperty("while_open").GetString()));
        Assert.Contains("days, from which swapping it along is cheaper (in five years about", pump.GetProperty("why").GetString(), StringComparison.Ordinal);
    }

    private static async Task<ApiHost> StartAsync(bool withHoses)
    {
        ApiHost host = await PlannedFleet.StartAsync([50, 900]);
        await PlannedFleet.PutAsync(host, "/v1/models/T10", """
            {"name":"Ten-tray oven","kind":"combi oven","programmes":[],
             "faults":[{"code":"E1","text":"Water below the unit","locks_out_washing":true,"causes":[{"position":"hose","prior_weight":50}]}],
             "positions":[{"position":"wash-pump","name":"Wash pump","part_numbers":["P-1"],"replace_minutes":40,"part_cost":100,"planned_visit_cost":100,"failure_cost":900},
                          {"position":"hose","name":"Hose","part_numbers":["H-1"],"replace_minutes":15,"part_cost":30,"companions":["wash-pump"]}]}
            """);
        if (withHoses)
        {
            object[] records = [.. Hoses()];
            using HttpResponseMessage sent = await host.Admin.PostAsJsonAsync("/v1/records", records);
            Assert.Equal(records.Length, (await sent.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("accepted").GetInt32());
        }

        return host;
    }

    // Ten hoses long ago that wore out, so that their lives have a model; and the two changes of the last two years.
    private static IEnumerable<object> Hoses()
    {
        for (int i = 0; i < 10; i++)
        {
            DateTimeOffset began = new(2016, 1, 1, 0, 0, 0, TimeSpan.Zero);
            yield return Change($"h-in-{i}", $"B-{i}", began, null);
            yield return Change($"h-out-{i}", $"B-{i}", began.AddDays(300 + (50 * i)), "failed", refit: false);
        }

        yield return Change("h-1", "P-0", PlannedFleet.Now.AddDays(-400), null);
        yield return Change("h-2", "P-0", PlannedFleet.Now.AddDays(-200), "failed");
        yield return Change("h-3", "P-0", PlannedFleet.Now.AddDays(-100), "precaution");
    }

    private static object Change(string key, string unit, DateTimeOffset at, string? reason, bool refit = true) => new
    {
        type = "part_change",
        key,
        unit,
        at = at.ToString("O", CultureInfo.InvariantCulture),
        position = "hose",
        removed = reason is null ? null : new { reason },
        fitted = refit ? new { part_number = "H-1" } : null,
    };

    // A part past the limit is swapped at the next opportunity, which comes at rate r (Dekker and Dijkstra 1992): mean cycle = integral of S up to
    // the limit + integral of S(t) exp(-r (t - limit)) behind it; it ends in a failure but for the opportunities. By the trapezoid rule.
    private static double CostRate(double limit, double rate)
    {
        const double step = 0.5;
        (double cycle, double opportunities) = (0, 0);
        for (double t = 0; t < 6000; t += step)
        {
            double at = t + (step / 2);
            double waits = at < limit ? 1 : Math.Exp(-rate * (at - limit));
            double alive = Math.Exp(-Math.Pow(at / PlannedFleet.Scale, PlannedFleet.Shape)) * waits * step;
            cycle += alive;
            opportunities += at < limit ? 0 : rate * alive;
        }

        return ((Swap * opportunities) + (Failure * (1 - opportunities))) / cycle;
    }
}
