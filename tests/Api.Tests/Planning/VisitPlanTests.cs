using System.Globalization;
using System.Text.Json;

namespace Washwear.Api.Tests.Planning;

/// <summary>The dated plan: trading days, lead times, crews, shared visits, and what was decided. Pumps of 2,000 days are due at once.</summary>
public sealed class VisitPlanTests
{
    private const double LongDue = 2000;

    [Fact]
    public async Task What_is_due_at_a_site_shares_one_visit_on_a_trading_day_after_today()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([LongDue, LongDue], """[{"from":"2026-03-03","to":"2026-03-05"}]""");
        JsonElement plan = await PlannedFleet.GetAsync(host, "/v1/plan/visits");
        JsonElement visit = Assert.Single(plan.GetProperty("rows").EnumerateArray());
        Assert.Equal("2026-03-06", visit.GetProperty("date").GetString());
        Assert.Equal("2026-03-02", visit.GetProperty("week_from").GetString());
        Assert.Equal(2, visit.GetProperty("jobs").GetArrayLength());
        Assert.Equal(80, visit.GetProperty("minutes").GetDouble());
        Assert.Equal(100 + 100 + 100, visit.GetProperty("cost").GetDouble());
        Assert.Equal((1, 2), (plan.GetProperty("visits").GetInt32(), plan.GetProperty("jobs").GetInt32()));
        string[] csv = (await host.Admin.GetStringAsync("/v1/plan/visits?format=csv")).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(3, csv.Length);
        Assert.StartsWith("2026-03-06,2026-03-02,quay,", csv[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_part_that_must_be_ordered_waits_for_its_lead_time_unless_one_lies_there()
    {
        // So old that three weeks of waiting cost more than a second visit: else both would wait and share one.
        await using ApiHost host = await PlannedFleet.StartAsync([4001, 4000]);
        await PlannedFleet.PutAsync(host, "/v1/suppliers/slow", """{"name":"Slow (invented)","lead_time_days":21}""");
        await PlannedFleet.PutAsync(host, "/v1/parts/P-1", """{"name":"Pump","supplier":"slow"}""");
        Assert.All(await PlannedFleet.JobsAsync(host), job => Assert.True(Date(job.Date) >= new DateOnly(2026, 3, 23), job.ToString()));
        await PlannedFleet.PutAsync(host, "/v1/stock-points/van-1", """{"name":"Van 1","on_hand":[{"part_number":"p-1","quantity":1}]}""");
        (string Unit, string Date)[] jobs = await PlannedFleet.JobsAsync(host);
        Assert.Equal(1, jobs.Count(job => Date(job.Date) < new DateOnly(2026, 3, 23)));
        JsonElement[] told = [.. (await PlannedFleet.GetAsync(host, "/v1/plan/visits")).GetProperty("rows").EnumerateArray()
            .SelectMany(visit => visit.GetProperty("jobs").EnumerateArray())];
        Assert.Equal([true, false], told.Select(job => job.GetProperty("on_hand").GetBoolean()));
    }

    [Fact]
    public async Task A_crew_is_not_given_more_minutes_a_week_than_it_has()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([LongDue, LongDue, LongDue]);
        await PlannedFleet.PutAsync(host, "/v1/stock-points/van-1", """{"name":"Van 1","crew_minutes_per_week":85}""");
        (string Unit, string Date)[] jobs = await PlannedFleet.JobsAsync(host);
        Assert.Equal(3, jobs.Length);
        Assert.Equal([2, 1], jobs.GroupBy(job => CultureInfo.InvariantCulture.Calendar.GetWeekOfYear(
            Date(job.Date).ToDateTime(default), CalendarWeekRule.FirstFourDayWeek, DayOfWeek.Monday)).Select(week => week.Count()));
    }

    [Fact]
    public async Task Jobs_for_which_the_crew_never_has_time_are_left_out_with_the_reason()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([LongDue]);
        await PlannedFleet.PutAsync(host, "/v1/stock-points/van-1", """{"name":"Van 1","crew_minutes_per_week":30}""");
        JsonElement plan = await PlannedFleet.GetAsync(host, "/v1/plan/visits");
        Assert.Equal(0, plan.GetProperty("visits").GetInt32());
        Assert.Contains("crew", Assert.Single(plan.GetProperty("left_out").EnumerateArray()).GetProperty("why").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_site_that_never_trades_in_the_horizon_gets_no_visit()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([LongDue], """[{"from":"2026-03-01","to":"2027-12-31"}]""");
        JsonElement plan = await PlannedFleet.GetAsync(host, "/v1/plan/visits");
        Assert.Equal(0, plan.GetProperty("visits").GetInt32());
        Assert.Equal("its site does not trade", Assert.Single(plan.GetProperty("left_out").EnumerateArray()).GetProperty("why").GetString());
    }

    [Fact]
    public async Task What_is_due_later_is_planned_near_the_day_on_which_it_is_due()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([PartForecastTests.BestAge() - 60]);
        (string _, string date) = Assert.Single(await PlannedFleet.JobsAsync(host));
        Assert.InRange(Date(date), new DateOnly(2026, 4, 20), new DateOnly(2026, 5, 8));
    }

    [Fact]
    public async Task Stock_covers_failures_of_a_lead_time_and_what_is_planned_in_it()
    {
        // Two old pumps are planned at once; each new pump fails within 30 days with chance (30/818.8)^2.1 = 0.001, so none more is kept.
        await using ApiHost host = await PlannedFleet.StartAsync([LongDue, LongDue, 0, 0]);
        JsonElement untold = (await PlannedFleet.GetAsync(host, "/v1/plan/stock")).GetProperty("rows")[0];
        Assert.Equal(JsonValueKind.Null, untold.GetProperty("smallest_stock").ValueKind);
        await PlannedFleet.PutAsync(host, "/v1/suppliers/quick", """{"name":"Quick (invented)","lead_time_days":5,"lead_time_days_longest":30}""");
        await PlannedFleet.PutAsync(host, "/v1/parts/P-1", """{"name":"Pump","supplier":"quick","price":90}""");
        await PlannedFleet.PutAsync(host, "/v1/stock-points/van-1", """{"name":"Van 1","service_level":0.99,"on_hand":[{"part_number":"P-1","quantity":1}]}""");
        JsonElement row = Assert.Single((await PlannedFleet.GetAsync(host, "/v1/plan/stock")).GetProperty("rows").EnumerateArray());
        Assert.Equal(30, row.GetProperty("lead_time_days").GetDouble());
        Assert.Equal(2, row.GetProperty("planned").GetInt32());
        Assert.Equal(2, row.GetProperty("smallest_stock").GetInt32());
        Assert.Equal(1, row.GetProperty("order_now").GetInt32());
        Assert.Equal(90, row.GetProperty("order_cost").GetDouble());
        Assert.Equal(0, row.GetProperty("chance_on_hand_lasts").GetDouble());
        Assert.InRange(row.GetProperty("chance_it_lasts").GetDouble(), 0.99, 1);
        Assert.Equal(1, (await PlannedFleet.GetAsync(host, "/v1/plan/stock")).GetProperty("to_order").GetInt32());
    }

    private static DateOnly Date(string text) => DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);
}
