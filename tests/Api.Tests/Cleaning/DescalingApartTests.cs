using System.Net.Http.Json;
using System.Text.Json;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>An oven that washes every day and was never descaled is late for descaling, and nobody is told that it goes unwashed.</summary>
public sealed class DescalingApartTests
{
    private const string Now = "2026-03-21T12:00:00Z";

    [Fact]
    public async Task What_is_late_for_descaling_alone_is_told_so_and_not_told_to_wash()
    {
        await using OneOven oven = await NeverDescaledAsync();

        JsonElement lime = (await oven.StatusAsync())["lime"];
        string sentence = lime.GetProperty("sentence").GetString()!;
        Assert.Equal(("descale", "overdue"), (lime.GetProperty("grade").GetString(), lime.GetProperty("state").GetString()));
        Assert.StartsWith("Nobody started a descaling: overdue for", sentence, StringComparison.Ordinal);
        Assert.Contains("no descaling that counts is on record", sentence, StringComparison.Ordinal);

        string unit = await oven.Host.Admin.GetStringAsync("/units/OVEN-1");
        Assert.Contains("Descale it now", unit, StringComparison.Ordinal);
        Assert.DoesNotContain("Wash it now", unit, StringComparison.Ordinal);
        Assert.Contains(
            "1 unit can be judged, and it has had its wash in time. 1 unit is late for descaling.",
            await oven.Host.Admin.GetStringAsync("/cleaning"),
            StringComparison.Ordinal);
        Assert.Contains("OVEN-1 at Pier 4 is overdue for descaling.", await oven.Host.Admin.GetStringAsync("/v1/today"), StringComparison.Ordinal);
        JsonElement kitchen = await oven.Host.Admin.GetFromJsonAsync<JsonElement>("/v1/sites/pier-4/kitchen");
        Assert.Equal("Yesterday at 11:00", kitchen.GetProperty("units")[0].GetProperty("washed").GetString());
    }

    [Fact]
    public async Task The_longest_time_without_a_wash_is_not_that_without_descaling()
    {
        await using OneOven oven = await NeverDescaledAsync();

        JsonElement byUnit = await oven.ComplianceAsync("2026-03-10T00:00:00Z", "2026-03-21T00:00:00Z");
        JsonElement byRule = await oven.ComplianceAsync("2026-03-10T00:00:00Z", "2026-03-21T00:00:00Z", "rule");

        Assert.Equal(24, byUnit.GetProperty("total").GetProperty("longest_gap_hours").GetDouble());
        Assert.Equal(24, byUnit.GetProperty("rows")[0].GetProperty("longest_gap_hours").GetDouble());
        Dictionary<string, double> gaps = byRule.GetProperty("rows").EnumerateArray()
            .ToDictionary(row => row.GetProperty("group").GetString()!, row => row.GetProperty("longest_gap_hours").GetDouble());
        Assert.Equal((24, 20 * 24), (gaps["daily"], gaps["lime"]));
    }

    [Fact]
    public async Task A_demanding_rule_does_not_make_an_oven_unwashed_that_keeps_a_milder_one()
    {
        await using OneOven oven = await NeverDescaledAsync();
        await oven.RuleAsync("weekly", """ "scope":{},"grade":"intensive","every_trading_days":7,"grace_hours":0 """, "?from=always");

        JsonElement report = await oven.ComplianceAsync("2026-03-10T00:00:00Z", "2026-03-21T00:00:00Z");

        Assert.Equal(24, report.GetProperty("total").GetProperty("longest_gap_hours").GetDouble());
        Assert.Empty(await UnwashedAsync(oven, 2));
    }

    [Theory]
    [InlineData(16, true)] // the last wash ended 16 days and 1 hour ago
    [InlineData(17, false)]
    public async Task Ovens_without_a_wash_for_so_many_days_can_be_asked_for(int days, bool isFound)
    {
        await using OneOven oven = await OneOven.StartAsync(Now);
        await RulesAsync(oven);
        await oven.WashAsync("standard", "2026-03-05T10:00:00Z", "2026-03-05T11:00:00Z");
        await oven.WashAsync("descale", "2026-03-19T10:00:00Z", "2026-03-19T11:00:00Z");

        Assert.Equal(isFound ? ["daily"] : [], await UnwashedAsync(oven, days));
    }

    private static async Task<OneOven> NeverDescaledAsync()
    {
        OneOven oven = await OneOven.StartAsync(Now);
        await RulesAsync(oven);
        for (int day = 1; day <= 20; day++)
        {
            await oven.WashAsync("standard", $"2026-03-{day:D2}T10:00:00Z", $"2026-03-{day:D2}T11:00:00Z");
        }

        return oven;
    }

    private static async Task RulesAsync(OneOven oven)
    {
        await oven.RuleAsync("daily", """ "scope":{},"grade":"standard","every_trading_days":1,"grace_hours":0 """, "?from=always");
        await oven.RuleAsync("lime", """ "scope":{},"grade":"descale","every_trading_days":7,"grace_hours":24 """, "?from=always");
    }

    private static async Task<string[]> UnwashedAsync(OneOven oven, int days)
    {
        JsonElement report = await oven.Host.Admin.GetFromJsonAsync<JsonElement>($"/v1/cleaning/status?unwashed_days={days}");
        return [.. report.GetProperty("rows").EnumerateArray().Select(row => row.GetProperty("rule").GetString()!)];
    }
}
