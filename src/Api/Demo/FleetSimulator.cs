using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>
/// Makes an invented fleet and lives its life: every part ages by its own clock to a Weibull life and is renewed at each replacement,
/// people have habits, repairs have waits, and gateways fall silent. The same seed, instant and options give the same records.
/// </summary>
public static class FleetSimulator
{
    /// <summary>Makes a fleet. Nothing is lived yet: <see cref="SimulatedFleet.Records"/> does that while it is read.</summary>
    /// <param name="seed">Seed; each site and unit draws from a stream of its own, so that one more unit changes no other.</param>
    /// <param name="asOf">The present: the instant at which the records end.</param>
    /// <param name="options">Size of the fleet and years of records.</param>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static SimulatedFleet Simulate(int seed, DateTimeOffset asOf, SimulationOptions options)
    {
        options.Check();
        SimulationWindow window = SimulationWindow.Of(asOf, options);
        int siteCount = UnitPlan.SiteOf(options.Units - 1) + 1;
        SitePlan[] sites = [.. Enumerable.Range(0, siteCount).Select(site => SitePlan.Draw(seed, site, window))];
        UnitPlan[] units = [.. Enumerable.Range(0, options.Units)
            .Select(unit => UnitPlan.Draw(seed, unit, sites[UnitPlan.SiteOf(unit)], window))];
        RegistryDocument registry = new(
            [.. Names.Operators.Select(name => new OperatorResource(name.Code, name.Name))],
            [.. sites.Select(site => site.Resource())],
            [.. Catalogue.Models.Select(Catalogue.Resource)],
            [.. units.Select(unit => unit.Resource(window))],
            [.. Rules()],
            null,
            [.. Stocking.Suppliers()],
            [.. Stocking.Parts()],
            [.. Stocking.Points(options.Units)],
            Stocking.Terms);
        return new SimulatedFleet(seed, registry, units, window);
    }

    private static IEnumerable<RuleResource> Rules()
    {
        const string FoodCode = "FDA Food Code 4-602.12(A): cooking equipment at least every 24 hours, read as once a trading day";
        yield return new RuleResource(
            "every-night", new RuleScopeResource(), ProgrammeGrade.Standard, 1, null, 4, $"Invented cleaning plan, after {FoodCode}");
        yield return new RuleResource(
            "weekly-deep", new RuleScopeResource(Operator: Names.Operators[1].Code), ProgrammeGrade.Intensive, 7, null, 24,
            "Invented cleaning plan of one operator");
        yield return new RuleResource(
            "descale", new RuleScopeResource(Operator: Names.Operators[0].Code), ProgrammeGrade.Descale, 26, null, 72,
            "Invented cleaning plan of one operator: scale where the water is hard");
    }
}
