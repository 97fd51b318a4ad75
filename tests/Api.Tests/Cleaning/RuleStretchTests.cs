using System.Text.Json;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>Which rule holds on which day, over HTTP; the figures are worked by hand: nobody washes, so every wash due is missed.</summary>
public sealed class RuleStretchTests
{
    [Fact]
    public async Task A_particular_rule_that_interrupts_a_general_one_takes_its_days_and_no_others()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        await oven.RuleAsync("daily", """ "scope":{"site":"pier-4"},"grade":"standard","every_trading_days":1,"grace_hours":0 """);
        await oven.RuleAsync("fair", """
            "scope":{"unit":"OVEN-1"},"grade":"standard","every_trading_days":2,"grace_hours":0,"valid_from":"2026-03-03","valid_to":"2026-03-06"
            """);

        JsonElement byUnit = await oven.ComplianceAsync("2026-03-01T00:00:00Z", "2026-03-11T00:00:00Z");
        JsonElement byRule = await oven.ComplianceAsync("2026-03-01T00:00:00Z", "2026-03-11T00:00:00Z", "rule");

        // Daily: due at the ends of 1, 2 and of 7 to 10 March; in order on 1 and 7 March, overdue on 2 and on 8 to 10 March.
        // Fair: due at the ends of 4 and 6 March; in order on 3 and 4, overdue on 5 and 6 March.
        Assert.Equal("0/8 in_order=96 nobody_started=144", OneOven.Figures(Assert.Single(byUnit.GetProperty("rows").EnumerateArray())));
        Assert.Equal(240, byUnit.GetProperty("total").GetProperty("window_hours").GetDouble());
        Dictionary<string, string> rows = byRule.GetProperty("rows").EnumerateArray()
            .ToDictionary(row => row.GetProperty("group").GetString()!, OneOven.Figures);
        Assert.Equal("0/6 in_order=48 nobody_started=96", rows["daily"]);
        Assert.Equal("0/2 in_order=48 nobody_started=48", rows["fair"]);
    }

    [Theory]
    [InlineData("2026-03-02T23:59:59Z", "daily")]
    [InlineData("2026-03-03T00:00:00Z", "fair")]
    [InlineData("2026-03-06T23:59:59Z", "fair")]
    [InlineData("2026-03-07T00:00:00Z", "daily")]
    public async Task The_status_names_the_rule_of_the_sites_trading_day_and_prints_its_basis(string now, string rule)
    {
        await using OneOven oven = await OneOven.StartAsync(now);
        await oven.RuleAsync("daily", """ "scope":{},"grade":"standard","every_trading_days":1,"grace_hours":0 """);
        await oven.RuleAsync("fair", """
            "scope":{"unit":"OVEN-1"},"grade":"standard","every_trading_days":2,"grace_hours":0,"valid_from":"2026-03-03","valid_to":"2026-03-06"
            """);
        await oven.RuleAsync("weekly", """ "scope":{},"grade":"intensive","every_trading_days":7,"grace_hours":0 """);

        IReadOnlyDictionary<string, JsonElement> status = await oven.StatusAsync();

        Assert.Equal([rule, "weekly"], status.Keys.Order(StringComparer.Ordinal));
        Assert.Equal("says " + rule, status[rule].GetProperty("rule_basis").GetString());
    }

    [Fact]
    public async Task Time_without_any_rule_of_a_grade_is_charged_once()
    {
        await using OneOven oven = await OneOven.StartAsync("2026-03-11T00:00:00Z");
        string rule = """ "scope":{},"grade":"standard","every_trading_days":1,"grace_hours":0,"valid_from":"{0}","valid_to":"{1}" """;
        await oven.RuleAsync("a", rule.Replace("{0}", "2026-03-03").Replace("{1}", "2026-03-04"));
        await oven.RuleAsync("b", rule.Replace("{0}", "2026-03-07").Replace("{1}", "2026-03-08"));
        await oven.RuleAsync("long-ago", rule.Replace("{0}", "2026-01-01").Replace("{1}", "2026-01-31").Replace("standard", "intensive"));

        JsonElement report = await oven.ComplianceAsync("2026-03-01T00:00:00Z", "2026-03-11T00:00:00Z");

        // Each rule: two days, in order on the first and overdue on the second; six days of ten are under no rule. The rule that ended
        // before the window has no say.
        Assert.Equal("0/4 in_order=48 no_rule=144 nobody_started=48", OneOven.Figures(report.GetProperty("total")));
        Assert.Equal(240, report.GetProperty("total").GetProperty("window_hours").GetDouble());
        Assert.Empty(await oven.StatusAsync());
    }
}
