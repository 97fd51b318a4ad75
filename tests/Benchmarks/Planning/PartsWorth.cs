using Washwear.Analytics.Planning;

namespace Washwear.Benchmarks.Planning;

/// <summary>
/// What parts of an age cost more to go on with than new ones, so that a year is not judged cheap because it left old parts behind. It is the
/// relative value of the semi-Markov decision process (Howard 1971, Dynamic Probabilistic Systems, vol. 2) under the best age replacement at the
/// true life: cost until the next swap - cost rate x time until then. A part past the best age counts one planned swap, not the failure that a
/// rule without planned swaps would make of it: whoever defers is not made to look worse than need be.
/// </summary>
internal static class PartsWorth
{
    /// <summary>Summed over the working parts of a fleet.</summary>
    public static double Lost(PlanScenario scenario, FollowedFleet fleet)
    {
        ReplacementPolicy[] best = [.. scenario.Lives.Select(life => AgeReplacement.Find(life, scenario.Costs))];
        return fleet.Working(0).Sum(part => Lost(scenario.Lives[part.Position], scenario.Costs, best[part.Position], part.Age));
    }

    private static double Lost(WeibullLife life, ReplacementCosts costs, ReplacementPolicy best, double age)
    {
        if (best is not { Age: { } limit, CostRate: { } rate })
        {
            return costs.Failure - (best.RunToFailureCostRate * life.MeanResidualLife(age));
        }

        if (age >= limit)
        {
            return costs.Planned;
        }

        double time = (life.MeanUpTo(limit) - life.MeanUpTo(age)) / life.Survival(age);
        return costs.Planned + ((costs.Failure - costs.Planned) * life.ChanceWithin(age, limit - age)) - (rate * time);
    }
}
