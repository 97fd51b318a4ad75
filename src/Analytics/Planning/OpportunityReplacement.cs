namespace Washwear.Analytics.Planning;

/// <summary>What one swap costs, in one currency.</summary>
/// <param name="Swap">Swap while the oven is open for another reason: the part and the minutes it adds, 0 or more, finite.</param>
/// <param name="Failure">A failure of its own: visit, part and damage, 0 or more, finite.</param>
public sealed record OpportunityCosts(double Swap, double Failure)
{
    /// <summary>Swap at an opportunity, 0 or more, finite.</summary>
    public double Swap { get; } = Checked(Swap, nameof(Swap));

    /// <summary>A failure of its own, 0 or more, finite.</summary>
    public double Failure { get; } = Checked(Failure, nameof(Failure));

    private static double Checked(double cost, string name) => double.IsFinite(cost) && cost >= 0
        ? cost
        : throw new ArgumentOutOfRangeException(name, cost, "A cost must be a finite number, 0 or more.");
}

/// <summary>A rule 'swap at an opportunity once the part is past an age' and its long-run figures.</summary>
/// <param name="Limit">Age past which a part is swapped at the next opportunity; 0: at every one; null: never.</param>
/// <param name="CostRate">Long-run cost per unit of time.</param>
/// <param name="RunToFailureCostRate">The same when opportunities are left unused.</param>
/// <param name="AlwaysCostRate">The same when the part is swapped at every opportunity.</param>
/// <param name="ShareEndingInFailure">Share of parts that fail before they are swapped, 0 to 1.</param>
/// <param name="MeanCycle">Mean age at which a part fails or is swapped.</param>
public sealed record OpportunityPolicy(
    double? Limit,
    double CostRate,
    double RunToFailureCostRate,
    double AlwaysCostRate,
    double ShareEndingInFailure,
    double MeanCycle);

/// <summary>
/// Opportunity-based age replacement: opportunities come as a Poisson process, independent of the part; at one of them a part past an age
/// limit is swapped, and a part that fails is swapped at once. At the best limit, waiting for the next opportunity costs as much as it
/// saves: (failure - swap) x chance to fail before the next one / mean time to whichever comes first = least cost rate. Source: Dekker and
/// Dijkstra (1992) Naval Research Logistics 39, 175. Use it to choose the age; where visits are another part's renewals the money may differ
/// by a fifth (<see cref="CompanionSimulation"/>).
/// </summary>
public static class OpportunityReplacement
{
    // Ages from e^-60 scales to a cumulative hazard of e^600 hold every optimum up to a cost ratio of 1e6.
    private const double LeastLogAge = -60;
    private const double GreatestLogHazard = 600;

    /// <summary>Finds the limit of least cost: never for a shape of 1 or less, or where a swap saves nothing; 0 where a swap is free.</summary>
    /// <param name="life">Life of the part.</param>
    /// <param name="costs">Cost of either swap.</param>
    /// <param name="opportunitiesPerTime">Mean opportunities per unit of time, 0 or more, finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">The rate is out of range.</exception>
    public static OpportunityPolicy Find(WeibullLife life, OpportunityCosts costs, double opportunitiesPerTime)
    {
        ArgumentNullException.ThrowIfNull(costs);
        Require(opportunitiesPerTime, nameof(opportunitiesPerTime));
        return Optimum(life, costs, opportunitiesPerTime) is { } limit
            ? At(life, costs, opportunitiesPerTime, limit)
            : Never(life, costs, opportunitiesPerTime);
    }

    /// <summary>Long-run figures of a limit.</summary>
    /// <param name="life">Life of the part.</param>
    /// <param name="costs">Cost of either swap.</param>
    /// <param name="opportunitiesPerTime">Mean opportunities per unit of time, 0 or more, finite.</param>
    /// <param name="limit">Age past which a part is swapped, 0 or more, finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">The rate or the limit is out of range.</exception>
    public static OpportunityPolicy At(WeibullLife life, OpportunityCosts costs, double opportunitiesPerTime, double limit)
    {
        ArgumentNullException.ThrowIfNull(costs);
        Require(opportunitiesPerTime, nameof(opportunitiesPerTime));
        Require(limit, nameof(limit));
        (double failing, double cycle) = Cycle(life, OpportunityWait.From(life, limit, opportunitiesPerTime), limit);
        return new(limit, Rate(costs, failing, cycle), costs.Failure / life.Mean, Always(life, costs, opportunitiesPerTime), failing, cycle);
    }

    private static OpportunityPolicy Never(WeibullLife life, OpportunityCosts costs, double rate)
    {
        double never = costs.Failure / life.Mean;
        return new(null, never, never, Always(life, costs, rate), 1, life.Mean);
    }

    private static double Always(WeibullLife life, OpportunityCosts costs, double rate)
    {
        var wait = OpportunityWait.From(life, 0, rate);
        return Rate(costs, wait.FailsFirst, wait.MeanTime);
    }

    private static double Rate(OpportunityCosts costs, double failing, double cycle) =>
        ((costs.Swap * (1 - failing)) + (costs.Failure * failing)) / cycle;

    private static (double Failing, double Cycle) Cycle(WeibullLife life, OpportunityWait wait, double limit)
    {
        double survives = life.Survival(limit);
        double failing = life.ChanceWithin(0, limit) + (survives * wait.FailsFirst);
        return (Math.Clamp(failing, 0, 1), life.MeanUpTo(limit) + (survives * wait.MeanTime));
    }

    private static double? Optimum(WeibullLife life, OpportunityCosts costs, double rate)
    {
        if (life.Shape <= 1 || costs.Swap >= costs.Failure || rate == 0)
        {
            return null;
        }

        if (costs.Swap == 0)
        {
            return 0;
        }

        // In units of the scale, over the logarithm of age, so that no unit of time matters.
        var unit = new WeibullLife(life.Shape, 1);
        double wanted = costs.Swap / (costs.Failure - costs.Swap), perScale = rate * life.Scale;
        double low = LeastLogAge, high = GreatestLogHazard / life.Shape;
        if (!(Gain(unit, perScale, high) >= wanted))
        {
            return null;
        }

        for (int i = 0; i < 64; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = Gain(unit, perScale, middle) >= wanted ? (low, middle) : (middle, high);
        }

        double limit = life.Scale * Math.Exp(high);
        return double.IsFinite(limit) ? limit : null;
    }

    /// <summary>Failures per time until the next opportunity x mean cycle - share failing; 0 at limit 0 and rising, as hazard rises.</summary>
    private static double Gain(WeibullLife unit, double rate, double logAge)
    {
        double limit = Math.Exp(logAge);
        var wait = OpportunityWait.From(unit, limit, rate);
        (double failing, double cycle) = Cycle(unit, wait, limit);
        return (wait.FailuresPerTime * cycle) - failing;
    }

    private static void Require(double value, string name)
    {
        if (!double.IsFinite(value) || value < 0)
        {
            throw new ArgumentOutOfRangeException(name, value, "It must be a finite number, 0 or more.");
        }
    }
}
