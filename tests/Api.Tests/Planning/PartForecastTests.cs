using System.Net;
using System.Text.Json;

namespace Washwear.Api.Tests.Planning;

/// <summary>Chances, forecasts and best ages over HTTP, held against the published fit of the bearings.</summary>
public sealed class PartForecastTests
{
    private const double PlannedCost = 200;
    private const double FailureCost = 1000;
    private const double DaysPerYear = 365.25;

    [Fact]
    public async Task The_best_age_is_that_of_the_published_life_and_the_costs()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100]);
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(host, "/v1/plan/replacements")).GetProperty("rows").EnumerateArray());

        double best = BestAge();
        Assert.Equal("replace_at_age", row.GetProperty("verdict").GetString());
        Assert.Equal(PlannedFleet.Shape, row.GetProperty("shape").GetProperty("estimate").GetDouble(), PlannedFleet.Shape * 1e-6);
        Assert.Equal(best, row.GetProperty("age").GetProperty("estimate").GetDouble(), best * 1e-3);
        Assert.Equal(PlannedCost, row.GetProperty("planned_cost").GetDouble());
        Assert.Equal(FailureCost, row.GetProperty("failure_cost").GetDouble());
        Assert.Equal(CostRate(best) * DaysPerYear, row.GetProperty("cost_per_year").GetDouble(), CostRate(best) * DaysPerYear * 1e-5);
        double low = row.GetProperty("flat_from").GetDouble();
        double high = row.GetProperty("flat_to").GetDouble();
        Assert.InRange(best, low, high);
        Assert.Equal(CostRate(best) * 1.01, CostRate(low), CostRate(best) * 1e-4);
        Assert.Equal(CostRate(best) * 1.01, CostRate(high), CostRate(best) * 1e-4);
    }

    [Fact]
    public async Task Each_parts_chance_is_that_of_the_published_curve_and_the_forecast_adds_them_up()
    {
        double[] ages = [0, 300, 700, 1200];
        await using ApiHost host = await PlannedFleet.StartAsync(ages);
        JsonElement parts = await PlannedFleet.GetAsync(host, "/v1/plan/failures/parts");
        double[] chances = [.. parts.GetProperty("rows").EnumerateArray().Select(row => row.GetProperty("chance90_days").GetProperty("estimate").GetDouble())];
        double[] published = [.. ages.Select(age => Chance(age, 90))];
        Assert.All(published.Zip(chances), pair => Assert.Equal(pair.First, pair.Second, pair.First * 1e-5));

        JsonElement months = await PlannedFleet.GetAsync(host, "/v1/plan/failures?by=month&days=90");
        Assert.Equal(["2026-03", "2026-04", "2026-05"], months.GetProperty("rows").EnumerateArray().Select(row => row.GetProperty("key").GetString()));
        Assert.Equal(
            published.Sum(), months.GetProperty("rows").EnumerateArray().Sum(row => row.GetProperty("expected").GetDouble()), published.Sum() * 1e-5);

        // The exact distribution is mixed over the life model's uncertainty, so its mean is near, not at, the sum.
        JsonElement total = months.GetProperty("total");
        Assert.Equal(published.Sum(), total.GetProperty("expected").GetDouble(), published.Sum() * 0.1);
        Assert.Equal(4, total.GetProperty("parts").GetInt32());
        Assert.True(total.GetProperty("lower").GetInt32() <= total.GetProperty("upper").GetInt32());
        foreach (string by in new[] { "part_number", "site", "stock_point" })
        {
            JsonElement row = Assert.Single((await PlannedFleet.GetAsync(host, "/v1/plan/failures?by=" + by)).GetProperty("rows").EnumerateArray());
            Assert.Equal(total.GetProperty("expected").GetDouble(), row.GetProperty("expected").GetDouble(), 1e-9);
        }
    }

    [Fact]
    public async Task A_part_is_due_on_the_day_on_which_it_reaches_the_best_age()
    {
        double best = BestAge();
        await using ApiHost host = await PlannedFleet.StartAsync([best - 20.5, best + 50]);
        JsonElement[] rows = [.. (await PlannedFleet.GetAsync(host, "/v1/plan/failures/parts")).GetProperty("rows").EnumerateArray()];
        Assert.Equal("2026-03-22", rows[0].GetProperty("due_on").GetString());
        Assert.Equal(JsonValueKind.Null, rows[0].GetProperty("extra_cost_per_week").ValueKind);
        Assert.Equal("2026-03-02", rows[1].GetProperty("due_on").GetString());
        double week = (Chance(best + 50, 7) * (FailureCost - PlannedCost)) - (CostRate(best) * 7);
        Assert.Equal(week, rows[1].GetProperty("extra_cost_per_week").GetDouble(), week * 0.01);
    }

    [Fact]
    public async Task A_price_of_the_part_number_goes_before_the_positions_and_an_hour_locked_out_has_the_users_price()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100]);
        await PlannedFleet.PutAsync(host, "/v1/parts/P-1", """{"name":"Pump","price":60}""");
        await PlannedFleet.PutAsync(host, "/v1/plan/terms", """{"lockout_hour_cost":5,"expected_lockout_hours":48,"currency":"EUR"}""");
        JsonElement report = await PlannedFleet.GetAsync(host, "/v1/plan/replacements");
        JsonElement row = report.GetProperty("rows")[0];
        Assert.Equal("EUR", report.GetProperty("currency").GetString());
        Assert.Equal(160, row.GetProperty("planned_cost").GetDouble());
        Assert.Equal(60 + 900 + (48 * 5), row.GetProperty("failure_cost").GetDouble());
        Assert.True(row.GetProperty("lockout_priced").GetBoolean());
        Assert.DoesNotContain("no price", report.GetProperty("basis").GetProperty("doubts").GetRawText(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"part_cost\":100", "no cost of a planned visit is told")]
    [InlineData("\"planned_visit_cost\":100,\"failure_cost\":900", "no price of the part is told")]
    public async Task What_is_not_told_is_named_and_nothing_is_planned(string costs, string why)
    {
        await using ApiHost host = await PlannedFleet.StartAsync([2000], costs: costs);
        JsonElement row = (await PlannedFleet.GetAsync(host, "/v1/plan/failures/parts")).GetProperty("rows")[0];
        Assert.Equal(why, row.GetProperty("not_planned").GetString());
        Assert.Equal("unknown", row.GetProperty("verdict").GetString());
        JsonElement plan = await PlannedFleet.GetAsync(host, "/v1/plan/visits");
        Assert.Equal(0, plan.GetProperty("visits").GetInt32());
        Assert.StartsWith("Nothing is planned: for ", plan.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Contains(": " + why + ".", plan.GetProperty("basis").GetProperty("doubts").GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_position_without_a_life_model_says_so()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([100]);
        using HttpResponseMessage sent = await host.Admin.PostAsync("/v1/records", new StringContent(
            """{"type":"part_change","key":"hose","unit":"P-0","at":"2025-01-01T00:00:00Z","position":"hose","fitted":{"part_number":"H-1"}}""",
            System.Text.Encoding.UTF8, "application/json"));
        Assert.True(sent.IsSuccessStatusCode);
        JsonElement report = await PlannedFleet.GetAsync(host, "/v1/plan/replacements?position=hose");
        JsonElement row = Assert.Single(report.GetProperty("rows").EnumerateArray());
        Assert.Contains("too few failures (0)", row.GetProperty("not_planned").GetString(), StringComparison.Ordinal);
        Assert.Contains("too few failures (0)", report.GetProperty("basis").GetProperty("doubts").GetRawText(), StringComparison.Ordinal);
        JsonElement forecast = (await PlannedFleet.GetAsync(host, "/v1/plan/failures?position=hose")).GetProperty("total");
        Assert.Equal((0, 1), (forecast.GetProperty("parts").GetInt32(), forecast.GetProperty("parts_without_chance").GetInt32()));
    }

    [Theory]
    [InlineData("/v1/plan/failures")]
    [InlineData("/v1/plan/failures?by=month")]
    [InlineData("/v1/plan/failures/parts")]
    [InlineData("/v1/plan/replacements")]
    [InlineData("/v1/plan/visits")]
    [InlineData("/v1/plan/stock")]
    [InlineData("/v1/plan/decisions")]
    [InlineData("/v1/plan/calibration")]
    [InlineData("/v1/plan/calendar.ics")]
    public async Task A_fleet_without_anything_is_answered(string path)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage answer = await host.Admin.GetAsync(path);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
    }

    [Theory]
    [InlineData("/v1/plan/failures?days=0", "days range")]
    [InlineData("/v1/plan/failures?days=x&by=year", "days range", "by choice")]
    [InlineData("/v1/plan/failures/parts?limit=0", "limit range")]
    [InlineData("/v1/plan/stock?after=nonsense", "after cursor")]
    public async Task Bad_questions_are_refused(string path, params string[] fieldsAndRules)
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage answer = await host.Admin.GetAsync(path);
        await ProblemAssert.ListsAsync(answer, fieldsAndRules);
    }

    [Fact]
    public async Task Lists_are_paged_and_come_as_csv()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([1, 2, 3]);
        JsonElement first = await PlannedFleet.GetAsync(host, "/v1/plan/failures/parts?limit=2");
        string next = first.GetProperty("next").GetString()!;
        JsonElement second = await PlannedFleet.GetAsync(host, "/v1/plan/failures/parts?limit=2&after=" + next);
        Assert.Equal("P-2", Assert.Single(second.GetProperty("rows").EnumerateArray()).GetProperty("unit").GetString());
        string[] lines = (await host.Admin.GetStringAsync("/v1/plan/failures/parts?format=csv&unit=p-1")).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith("unit,site,site_name,operator,stock_point,position,", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("P-1,quay,Quay (invented),harbour,van-1,wash-pump,", Assert.Single(lines[1..]), StringComparison.Ordinal);
    }

    /// <summary>The age of least cost rate, by trying every tenth of a day.</summary>
    public static double BestAge() => Enumerable.Range(1000, 12_000).Select(tenth => tenth / 10.0).MinBy(CostRate);

    private static double Survival(double age) => Math.Exp(-Math.Pow(age / PlannedFleet.Scale, PlannedFleet.Shape));

    private static double Chance(double age, double days) => 1 - (Survival(age + days) / Survival(age));

    // (planned x S + failure x F) / integral of S (Barlow and Proschan 1965, ch. 4), the integral by Simpson's rule.
    private static double CostRate(double age)
    {
        const int steps = 400;
        double width = age / steps;
        double integral = width / 3 * Enumerable.Range(0, steps + 1)
            .Sum(i => Survival(i * width) * (i is 0 or steps ? 1 : i % 2 == 1 ? 4 : 2));
        return ((PlannedCost * Survival(age)) + (FailureCost * (1 - Survival(age)))) / integral;
    }
}
