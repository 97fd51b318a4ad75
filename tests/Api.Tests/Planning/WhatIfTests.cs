using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Washwear.Api.Tests.Planning;

/// <summary>A trial shows both plans side by side and saves nothing.</summary>
public sealed class WhatIfTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await PlannedFleet.StartAsync([2000, 200, 100]);
        await PlannedFleet.PutAsync(_host, "/v1/suppliers/quick", """{"name":"Quick (invented)","lead_time_days":2}""");
        await PlannedFleet.PutAsync(_host, "/v1/parts/P-1", """{"name":"Pump","supplier":"quick"}""");
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task Nothing_is_saved()
    {
        string[] paths = ["/v1/registry", "/v1/plan/terms", "/v1/plan/replacements", "/v1/plan/visits", "/v1/plan/stock", "/v1/plan/decisions"];
        string[] before = await Task.WhenAll(paths.Select(path => _host.Admin.GetStringAsync(path)));
        await TryAsync("""
            {"lockout_hour_cost":9,"failure_cost":800,"planned_visit_cost":70,"expected_lockout_hours":50,"horizon_weeks":40,
             "positions":[{"position":"wash-pump","part_price":20,"failure_cost":5000}],"suppliers":[{"supplier":"QUICK","lead_time_days":30}]}
            """);
        string[] after = await Task.WhenAll(paths.Select(path => _host.Admin.GetStringAsync(path)));
        Assert.Equal(before, after);
    }

    [Fact]
    public async Task A_trial_that_changes_nothing_gives_the_same_plan_twice()
    {
        JsonElement report = await TryAsync("{}");
        Assert.Equal(report.GetProperty("now").GetRawText(), report.GetProperty("then").GetRawText());
        Assert.Empty(report.GetProperty("changed").EnumerateArray());
        Assert.Equal(26, report.GetProperty("horizon_weeks").GetInt32());
    }

    [Fact]
    public async Task A_dearer_failure_brings_the_best_age_forward()
    {
        JsonElement changed = Assert.Single((await TryAsync("""{"positions":[{"position":"wash-pump","failure_cost":4000}]}""")).GetProperty("changed").EnumerateArray());
        Assert.True(changed.GetProperty("age_days_then").GetDouble() < changed.GetProperty("age_days_now").GetDouble());
        Assert.Equal(PartForecastTests.BestAge(), changed.GetProperty("age_days_now").GetDouble(), 1.0);
    }

    // Dates, visits and failures of the plan as it is stay; what its failures cost is counted as those of the other.
    [Fact]
    public async Task Both_plans_are_counted_at_the_new_price_of_an_hour_locked_out()
    {
        await PlannedFleet.PutAsync(_host, "/v1/plan/terms", """{"lockout_hour_cost":2,"expected_lockout_hours":48,"planned_visit_cost":80,"failure_cost":900}""");
        JsonElement free = await TryAsync("""{"lockout_hour_cost":2,"positions":[{"position":"wash-pump","replace_at_days":250}]}""");
        JsonElement priced = await TryAsync("""{"lockout_hour_cost":9,"positions":[{"position":"wash-pump","replace_at_days":250}]}""");
        foreach (string plan in new[] { "now", "then" })
        {
            JsonElement before = free.GetProperty(plan);
            JsonElement after = priced.GetProperty(plan);
            Assert.Equal(before.GetProperty("visits").GetInt32(), after.GetProperty("visits").GetInt32());
            Assert.Equal(before.GetProperty("planned_cost").GetDouble(), after.GetProperty("planned_cost").GetDouble());
            Assert.Equal(
                before.GetProperty("failure_cost").GetDouble() + (24 * 7 * after.GetProperty("unwashed_days").GetDouble()), after.GetProperty("failure_cost").GetDouble(), 1e-6);
        }

        Assert.True(priced.GetProperty("now").GetProperty("unwashed_days").GetDouble() > 0);
        Assert.Contains("both plans counted at the new price of an hour locked out", priced.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain("new price", free.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_interval_of_ones_own_plans_what_is_older_and_running_to_failure_plans_nothing()
    {
        JsonElement early = await TryAsync("""{"positions":[{"position":"wash-pump","replace_at_days":250}]}""");
        Assert.Equal((1, 3), (early.GetProperty("now").GetProperty("jobs").GetInt32(), early.GetProperty("then").GetProperty("jobs").GetInt32()));
        Assert.True(early.GetProperty("then").GetProperty("failures").GetDouble() < early.GetProperty("now").GetProperty("failures").GetDouble());
        JsonElement never = await TryAsync("""{"positions":[{"position":"wash-pump","model":"t10","run_to_failure":true}]}""");
        Assert.Equal(0, never.GetProperty("then").GetProperty("visits").GetInt32());
        Assert.Equal("run_to_failure", Assert.Single(never.GetProperty("changed").EnumerateArray()).GetProperty("verdict_then").GetString());
    }

    [Theory]
    [InlineData("""{"lockout_hour_cost":-1,"horizon_weeks":3}""", "lockout_hour_cost range", "horizon_weeks range")]
    [InlineData("""{"failure_cost":0,"planned_visit_cost":-2}""", "failure_cost range", "planned_visit_cost range")]
    [InlineData("""{"failure_cost":100,"planned_visit_cost":100}""", "planned_visit_cost cheaper_than_failure")]
    [InlineData("""{"positions":[{"position":"wash-pump","planned_visit_cost":950}]}""", "positions[0].planned_visit_cost cheaper_than_failure")]
    [InlineData("""{"positions":[{"position":"burner","part_price":0,"model":"x"}]}""",
        "positions[0].position unknown_position", "positions[0].model unknown_model", "positions[0].part_price range")]
    [InlineData("""{"positions":[{"position":"hose","replace_at_days":100,"run_to_failure":true}]}""", "positions[0].run_to_failure either")]
    [InlineData("""{"suppliers":[{"supplier":"nobody","lead_time_days":1}]}""", "suppliers[0].supplier unknown_supplier")]
    [InlineData("""{"suppliers":[{"supplier":"quick","lead_time_days":200}]}""", "suppliers[0].lead_time_days within_horizon")]
    [InlineData("""{"price":3}""", "price unknown_field")]
    public async Task Bad_trials_are_refused_field_by_field(string body, params string[] fieldsAndRules)
    {
        using HttpResponseMessage answer = await SendAsync(body);
        await ProblemAssert.ListsAsync(answer, fieldsAndRules);
    }

    private Task<HttpResponseMessage> SendAsync(string body) =>
        _host.Admin.PostAsync("/v1/plan/what-if", new StringContent(body, System.Text.Encoding.UTF8, "application/json"));

    private async Task<JsonElement> TryAsync(string body)
    {
        using HttpResponseMessage answer = await SendAsync(body);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }
}
