using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Security;

namespace Washwear.Api.Tests.Planning;

/// <summary>Decisions about planned jobs: kept with who and when, honoured by the plan, over when the part changes.</summary>
public sealed class PlanDecisionTests : IAsyncLifetime
{
    private ApiHost _host = null!;

    public async Task InitializeAsync() => _host = await PlannedFleet.StartAsync([2000, 2000]);

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task An_accepted_job_is_done_on_its_day_and_others_of_the_site_join_it()
    {
        JsonElement row = await DecideAsync("""{"unit":"P-0","position":"WASH-PUMP","decision":"accepted","by":"Planner","date":"2026-03-19"}""");
        Assert.Equal("wash-pump", row.GetProperty("position").GetString());
        Assert.True(row.GetProperty("in_force").GetBoolean());
        Assert.Contains(("P-0", "2026-03-19"), await PlannedFleet.JobsAsync(_host));
        JsonElement part = (await PlannedFleet.GetAsync(_host, "/v1/plan/failures/parts?unit=P-0")).GetProperty("rows")[0];
        Assert.Equal("accepted", part.GetProperty("decision").GetProperty("decision").GetString());
    }

    [Fact]
    public async Task Accepting_without_a_day_fixes_the_day_that_the_plan_has()
    {
        string planned = (await PlannedFleet.JobsAsync(_host)).Single(job => job.Unit == "P-1").Date;
        JsonElement row = await DecideAsync("""{"unit":"P-1","position":"wash-pump","decision":"accepted","by":"Planner"}""");
        Assert.Equal(planned, row.GetProperty("date").GetString());
    }

    [Fact]
    public async Task A_postponed_job_is_not_planned_before_its_day()
    {
        await DecideAsync("""{"unit":"P-0","position":"wash-pump","decision":"postponed","by":"Planner","date":"2026-04-15","reason":"kitchen is full"}""");
        Assert.All((await PlannedFleet.JobsAsync(_host)).Where(job => job.Unit == "P-0"), job => Assert.True(string.CompareOrdinal(job.Date, "2026-04-15") >= 0, job.Date));
    }

    [Fact]
    public async Task A_rejected_job_is_never_planned_until_the_decision_is_revoked()
    {
        await DecideAsync("""{"unit":"P-0","position":"wash-pump","decision":"rejected","by":"Planner","reason":"oven leaves in summer"}""");
        Assert.DoesNotContain(await PlannedFleet.JobsAsync(_host), job => job.Unit == "P-0");
        JsonElement left = Assert.Single((await PlannedFleet.GetAsync(_host, "/v1/plan/visits")).GetProperty("left_out").EnumerateArray());
        Assert.Contains("oven leaves in summer", left.GetProperty("why").GetString(), StringComparison.Ordinal);
        await DecideAsync("""{"unit":"P-0","position":"wash-pump","decision":"revoked","by":"Planner"}""");
        Assert.Contains(await PlannedFleet.JobsAsync(_host), job => job.Unit == "P-0");
        JsonElement list = await PlannedFleet.GetAsync(_host, "/v1/plan/decisions");
        Assert.Equal(["revoked", "rejected"], list.GetProperty("rows").EnumerateArray().Select(row => row.GetProperty("decision").GetString()));
        Assert.Equal(0, list.GetProperty("in_force").GetInt32());
    }

    [Fact]
    public async Task A_decision_is_over_when_the_part_changes()
    {
        await DecideAsync("""{"unit":"P-0","position":"wash-pump","decision":"rejected","by":"Planner","reason":"leaves"}""");
        _host.Clock.Advance(TimeSpan.FromDays(1));
        using HttpResponseMessage sent = await _host.Admin.PostAsJsonAsync("/v1/records", new[]
        {
            new
            {
                type = "part_change", key = "swap", unit = "P-0", at = "2026-03-03T08:00:00Z", position = "wash-pump", removed = new { reason = "precaution" },
                fitted = new { part_number = "P-1", age_days = 1900 },
            },
        });
        Assert.Equal(1, (await sent.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("accepted").GetInt32());
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(_host, "/v1/plan/decisions")).GetProperty("rows").EnumerateArray());
        Assert.False(row.GetProperty("in_force").GetBoolean());
        Assert.Contains(await PlannedFleet.JobsAsync(_host), job => job.Unit == "P-0");
    }

    [Fact]
    public async Task Who_and_when_stay_on_record_and_the_list_is_narrowed_paged_and_csv()
    {
        HttpClient planner = await _host.ClientAsync(Abilities.Read | Abilities.Plan, "key of the planner");
        using HttpResponseMessage one = await planner.PostAsJsonAsync(
            "/v1/plan/decisions", new { unit = "P-0", position = "wash-pump", decision = "rejected", by = "A. Planner", reason = "x" });
        Assert.Equal(HttpStatusCode.OK, one.StatusCode);
        await DecideAsync("""{"unit":"P-1","position":"wash-pump","decision":"rejected","by":"B","reason":"y"}""");
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(_host, "/v1/plan/decisions?unit=P-0")).GetProperty("rows").EnumerateArray());
        Assert.Equal("A. Planner", row.GetProperty("by").GetString());
        Assert.Equal("key of the planner", row.GetProperty("entered_by").GetString());
        Assert.Equal(PlannedFleet.Now, row.GetProperty("at").GetDateTimeOffset());
        JsonElement first = await PlannedFleet.GetAsync(_host, "/v1/plan/decisions?limit=1");
        JsonElement second = await PlannedFleet.GetAsync(_host, "/v1/plan/decisions?limit=1&after=" + first.GetProperty("next").GetString());
        Assert.Equal("P-0", second.GetProperty("rows")[0].GetProperty("unit").GetString());
        Assert.StartsWith("id,unit,site,", await _host.Admin.GetStringAsync("/v1/plan/decisions?format=csv"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_reader_may_not_decide()
    {
        HttpClient reader = await _host.ClientAsync(Abilities.Read, "reader");
        using HttpResponseMessage answer = await reader.PostAsJsonAsync(
            "/v1/plan/decisions", new { unit = "P-0", position = "wash-pump", decision = "rejected", by = "A", reason = "x" });
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Theory]
    [InlineData("""{"unit":"X","position":"wash-pump","decision":"rejected","by":"A","reason":"x"}""", "unit unknown_unit")]
    [InlineData("""{"unit":"P-0","position":"burner","decision":"rejected","by":"A","reason":"x"}""", "position unknown_position")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"rejected","by":" "}""", "by required", "reason required")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"postponed","by":"A","reason":"x"}""", "date required")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"postponed","by":"A","reason":"x","date":"2026-03-01"}""", "date range")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"accepted","by":"A","date":"2026-03-07"}""", "date trading_day")]
    [InlineData("""{"unit":"P-0","position":"hose","decision":"accepted","by":"A"}""", "date required")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"rejected","by":"A","reason":"x","date":"2026-03-09"}""", "date not_here")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"maybe","by":"A"}""", "decision kind")]
    [InlineData("""{"unit":"P-0","position":"wash-pump","decision":"accepted","by":"A","day":"2026-03-09"}""", "day unknown_field")]
    public async Task Bad_decisions_are_refused_field_by_field(string body, params string[] fieldsAndRules)
    {
        using HttpResponseMessage answer = await PlannedFleet.DecideAsync(_host, body);
        await ProblemAssert.ListsAsync(answer, fieldsAndRules);
    }

    [Fact]
    public async Task There_must_be_something_to_revoke()
    {
        using HttpResponseMessage answer = await PlannedFleet.DecideAsync(
            _host, """{"unit":"P-0","position":"wash-pump","decision":"revoked","by":"A"}""");
        await ProblemAssert.IsAsync(HttpStatusCode.Conflict, answer);
    }

    private async Task<JsonElement> DecideAsync(string body)
    {
        using HttpResponseMessage answer = await PlannedFleet.DecideAsync(_host, body);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }
}
