using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Cleaning;

namespace Washwear.Api.Tests.Sites;

/// <summary>The marks of a kitchen's days agree with how their washes were judged, also around silence.</summary>
public sealed class QuietDayTests
{
    [Fact]
    public async Task A_day_at_whose_end_nothing_was_heard_is_kept_by_a_wash_within_its_grace()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-03T12:00:00Z");
        await oven.PutAsync("/v1/units/OVEN-1", """{"site":"pier-4","model":"T10","commissioned_on":"2026-03-01","reporting_hours":44}""");
        await oven.RuleAsync("daily", """ "scope":{},"grade":"standard","every_trading_days":1,"grace_hours":4 """, "?from=always");
        await oven.WashAsync("standard", "2026-03-01T02:00:00Z", "2026-03-01T03:00:00Z");
        await oven.WashAsync("standard", "2026-03-03T01:30:00Z", "2026-03-03T02:30:00Z"); // silent from 2 March, 23:00

        Assert.Equal((1, 1), await DueAndOnTimeAsync(oven, "2026-03-03T00:00:00Z", "2026-03-03T12:00:00Z"));
        Assert.Equal(("2026-03-02", "counted"), await DayAsync(oven, 12));
    }

    [Fact]
    public async Task The_first_day_of_a_unit_that_reports_nothing_yet_is_a_missed_one_while_it_may_still_be_heard()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-03T12:00:00Z");
        await oven.PutAsync("/v1/units/OVEN-1", """{"site":"pier-4","model":"T10","commissioned_on":"2026-03-02","reporting_hours":40}""");
        await oven.RuleAsync("daily", """ "scope":{},"grade":"standard","every_trading_days":1,"grace_hours":4 """, "?from=always");

        Assert.Equal((1, 0), await DueAndOnTimeAsync(oven, "2026-03-02T00:00:00Z", "2026-03-03T12:00:00Z"));
        Assert.Equal(("2026-03-02", "nobody_started"), await DayAsync(oven, 12));
    }

    private static async Task<(int Due, int OnTime)> DueAndOnTimeAsync(OneOven oven, string from, string to)
    {
        JsonElement total = (await oven.ComplianceAsync(from, to)).GetProperty("total");
        return (total.GetProperty("due").GetInt32(), total.GetProperty("on_time").GetInt32());
    }

    private static async Task<(string Day, string Kind)> DayAsync(OneOven oven, int index)
    {
        JsonElement day = (await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/sites/pier-4/kitchen")).GetProperty("units")[0].GetProperty("days")[index];
        return (day.GetProperty("day").GetString()!, day.GetProperty("kind").GetString()!);
    }
}
