using NodaTime;
using Washwear.Api.Registry;

namespace Washwear.Api.Tests.Demo;

public class DemoRegistryTests
{
    private static readonly RegistryDocument Registry = Fleets.Of(1).Registry;

    [Fact]
    public void Codes_are_unique_and_every_reference_is_met()
    {
        string[] operators = Codes(Registry.Operators.Select(item => item.Operator));
        string[] sites = Codes(Registry.Sites.Select(item => item.Site));
        string[] models = Codes(Registry.Models.Select(item => item.Model));
        Codes(Registry.Units.Select(item => item.Unit));
        Codes(Registry.Rules.Select(item => item.Rule));

        Assert.All(Registry.Sites, site => Assert.Contains(site.Operator, operators));
        Assert.All(Registry.Units, unit => Assert.Contains(unit.Site, sites));
        Assert.All(Registry.Units, unit => Assert.Contains(unit.Model, models));
        Assert.All(Registry.Rules, rule => Assert.True(rule.Scope.Operator is null || operators.Contains(rule.Scope.Operator)));
        Assert.All(Registry.Sites, site => Assert.NotNull(DateTimeZoneProviders.Tzdb.GetZoneOrNull(site.TimeZone)));
    }

    [Fact]
    public void Models_have_six_to_eight_positions_and_eight_to_twelve_faults_with_causes_and_checks_among_them()
    {
        Assert.All(Registry.Models, model =>
        {
            string[] positions = Codes(model.Positions.Select(position => position.Position));
            Assert.InRange(positions.Length, 6, 8);
            Assert.InRange(model.Faults.Count, 8, 12);
            Assert.Subset(positions.ToHashSet(), model.Positions.SelectMany(position => position.Companions!).ToHashSet());
            foreach (FaultResource fault in model.Faults)
            {
                Assert.Subset(positions.ToHashSet(), fault.Causes!.Select(cause => cause.Position).ToHashSet());
                HashSet<string> checkedPositions = [.. fault.Checks!.SelectMany(check => check.Positions)];
                Assert.Subset(checkedPositions, fault.Causes!.Select(cause => cause.Position).ToHashSet());
                Assert.All(fault.Causes!, cause => Assert.True(cause.PriorWeight > 0));
                Assert.All(fault.Checks!, check => Assert.True(
                    check is { Minutes: > 0, ChanceOfMissing: > 0 and < 1, ChanceOfFalseAlarm: > 0 and < 1 }));
            }
        });
    }

    [Fact]
    public void Every_operator_region_and_model_says_that_it_is_invented()
    {
        Assert.All(Registry.Operators, item => Assert.EndsWith("(invented)", item.Name, StringComparison.Ordinal));
        Assert.All(Registry.Models, item => Assert.EndsWith("(invented)", item.Name, StringComparison.Ordinal));
        Assert.All(Registry.Sites, item => Assert.StartsWith("Invented ", item.Region!, StringComparison.Ordinal));
    }

    [Fact]
    public void Sites_trade_five_to_seven_days_and_some_end_their_day_after_midnight()
    {
        Assert.Equal([5, 6, 7], Registry.Sites.Select(site => site.TradingDays!.Weekdays.Count).Distinct().Order());
        Assert.Contains(Registry.Sites, site => site.TradingDays!.EndsAt != "00:00");
        Assert.True(Registry.Units.Count(unit => unit.DecommissionedOn is not null) is >= 2 and <= 15);
    }

    private static string[] Codes(IEnumerable<string> codes)
    {
        string[] all = [.. codes];
        Assert.Equal(all.Length, all.Distinct(StringComparer.OrdinalIgnoreCase).Count());
        return all;
    }
}
