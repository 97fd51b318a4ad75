namespace Washwear.Analytics.Planning;

/// <summary>What the arithmetic of swapping at a fixed age says.</summary>
public enum ReplacementVerdict
{
    /// <summary>Swap at the age given: it costs less in the long run than waiting for the failure.</summary>
    ReplaceAtAge,

    /// <summary>Swap only what fails: the part does not wear, or is not known to.</summary>
    RunToFailure,

    /// <summary>There is a best age, but swapping at it saves too little to be worth a rule.</summary>
    NegligibleSaving,

    /// <summary>A planned swap costs as much as a failure or more, or no cost was given, so there is nothing to trade.</summary>
    PlannedNotCheaper,
}

/// <summary>What one swap costs, all told (part, work, lost service), in one currency.</summary>
/// <param name="Planned">Planned swap, 0 or more, finite.</param>
/// <param name="Failure">Failure and its repair, 0 or more, finite.</param>
public sealed record ReplacementCosts(double Planned, double Failure)
{
    /// <summary>Planned swap, 0 or more, finite.</summary>
    public double Planned { get; } = Checked(Planned, nameof(Planned));

    /// <summary>Failure and its repair, 0 or more, finite.</summary>
    public double Failure { get; } = Checked(Failure, nameof(Failure));

    /// <summary>True when a planned swap has a cost below that of a failure: only then is there an age to look for.</summary>
    public bool HaveTrade => Planned > 0 && Planned < Failure;

    private static double Checked(double cost, string name) => double.IsFinite(cost) && cost >= 0
        ? cost
        : throw new ArgumentOutOfRangeException(name, cost, "A cost must be a finite number, 0 or more.");
}

/// <summary>A point of the cost curve.</summary>
/// <param name="Age">Age at which a part is swapped unless it failed before.</param>
/// <param name="CostRate">Long-run cost per unit of age and position.</param>
public sealed record CostPoint(double Age, double CostRate);

/// <summary>The best age and what it saves.</summary>
/// <param name="Verdict">What to do; only <see cref="ReplacementVerdict.ReplaceAtAge"/> asks to act on the age.</param>
/// <param name="Age">Age of least long-run cost; null where there is none.</param>
/// <param name="CostRate">Cost per unit of age when swapping at that age; null where there is none.</param>
/// <param name="RunToFailureCostRate">Cost per unit of age when only failures are swapped: cost of a failure / mean life.</param>
/// <param name="SavingShare">Share of the run-to-failure cost saved, 0 to 1; null where there is no age.</param>
/// <param name="FlatFrom">Earliest age whose cost is within the flat tolerance of the least; null where there is no age.</param>
/// <param name="FlatTo">Latest such age; null where even never swapping is within it, or there is no age.</param>
public sealed record ReplacementPolicy(
    ReplacementVerdict Verdict,
    double? Age,
    double? CostRate,
    double RunToFailureCostRate,
    double? SavingShare,
    double? FlatFrom,
    double? FlatTo);

/// <summary>
/// Age replacement: a part is swapped when it fails or reaches an age, whichever comes first, and either swap makes it as new. The long-run
/// cost per unit of age is (planned x S(age) + failure x F(age)) / (integral of S from 0 to age). With a shape above 1 it has one minimum,
/// where hazard x integral + S = failure / (failure - planned); with 1 or less it has none. Source: Barlow and Proschan (1965) Mathematical
/// Theory of Reliability, ch. 4; Glasser (1967) Technometrics 9, 83. Leaves out discounting, spares that are not there and swaps that
/// share a visit. Made for shapes 0.2 to 50 and cost ratios up to 1e6.
/// </summary>
public static class AgeReplacement
{
    // Cumulative hazards e^-60 to e^600 hold every optimum up to a cost ratio of 1e6 that a number can hold.
    private const double LeastLogHazard = -60;
    private const double GreatestLogHazard = 600;

    /// <summary>Finds the age of least cost.</summary>
    /// <param name="life">Life of the part.</param>
    /// <param name="costs">Cost of either swap.</param>
    /// <param name="flatTolerance">Share above the least cost that counts as no worse, above 0 and below 1. Where never swapping lies
    /// within it too, the verdict is <see cref="ReplacementVerdict.NegligibleSaving"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The tolerance is out of range.</exception>
    public static ReplacementPolicy Find(WeibullLife life, ReplacementCosts costs, double flatTolerance = 0.01)
    {
        ArgumentNullException.ThrowIfNull(costs);
        if (flatTolerance is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(flatTolerance), flatTolerance, "The tolerance lies above 0 and below 1.");
        }

        double never = costs.Failure / life.Mean;
        if (!costs.HaveTrade)
        {
            return new(ReplacementVerdict.PlannedNotCheaper, null, null, never, null, null, null);
        }

        if (Optimum(life, costs) is not { } age)
        {
            return new(ReplacementVerdict.RunToFailure, null, null, never, null, null, null);
        }

        // Rounding may put the least cost a hair above the limit that it can only approach from below.
        double least = Math.Min(CostRate(life, costs, age), never);
        (double from, double? to) = Flat(life, costs, age, least * (1 + flatTolerance));
        ReplacementVerdict verdict = to is null ? ReplacementVerdict.NegligibleSaving : ReplacementVerdict.ReplaceAtAge;
        return new(verdict, age, least, never, 1 - (least / never), from, to);
    }

    /// <summary>Long-run cost per unit of age of swapping at an age.</summary>
    /// <param name="life">Life of the part.</param>
    /// <param name="costs">Cost of either swap.</param>
    /// <param name="age">Age, finite and above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">The age is out of range.</exception>
    public static double CostRate(WeibullLife life, ReplacementCosts costs, double age)
    {
        ArgumentNullException.ThrowIfNull(costs);
        RequireAge(age, nameof(age));
        return (costs.Planned + ((costs.Failure - costs.Planned) * life.ChanceWithin(0, age))) / life.MeanUpTo(age);
    }

    /// <summary>
    /// The cost curve for a chart: evenly spaced ages up to twice the mean life, or up to three times the best age where that is later.
    /// </summary>
    /// <param name="life">Life of the part.</param>
    /// <param name="costs">Cost of either swap.</param>
    /// <param name="points">Number of points, 2 to 100,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number of points is out of range.</exception>
    public static IReadOnlyList<CostPoint> Curve(WeibullLife life, ReplacementCosts costs, int points = 60)
    {
        ArgumentNullException.ThrowIfNull(costs);
        if (points is < 2 or > 100_000)
        {
            throw new ArgumentOutOfRangeException(nameof(points), points, "A curve has 2 to 100,000 points.");
        }

        // A best age that survives less than one part in e^20 has no place on a chart.
        double? best = costs.HaveTrade ? Optimum(life, costs) : null;
        bool shown = best is { } b && life.CumulativeHazard(b) < 20;
        double end = Math.Max(2 * life.Mean, shown ? 3 * best!.Value : 0);
        return [.. Enumerable.Range(1, points).Select(i => end * i / points).Select(age => new CostPoint(age, CostRate(life, costs, age)))];
    }

    /// <summary>
    /// What it costs to swap one part at another age than the best and to keep to the best afterwards: the integral from the best age to
    /// the other of hazard x (failure - planned) - least cost rate, 0 or more. It takes the part to be working at the later of both ages; as
    /// it may fail in between, the mean extra cost is at most this.
    /// </summary>
    /// <param name="life">Life of the part, shape above 1.</param>
    /// <param name="costs">Cost of either swap, the planned one the lower.</param>
    /// <param name="optimumAge">The age that <see cref="Find"/> gave, above 0.</param>
    /// <param name="age">The other age, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">An age is out of range.</exception>
    public static double ExtraCost(WeibullLife life, ReplacementCosts costs, double optimumAge, double age)
    {
        ArgumentNullException.ThrowIfNull(costs);
        RequireAge(optimumAge, nameof(optimumAge));
        double hazards = life.CumulativeHazard(WeibullLife.NotNegative(age, nameof(age))) - life.CumulativeHazard(optimumAge);

        // At the optimum the least cost rate equals hazard x (failure - planned), which keeps the sum from falling below 0 by rounding.
        double extra = (costs.Failure - costs.Planned) * (hazards - (life.Hazard(optimumAge) * (age - optimumAge)));
        return double.IsNaN(extra) ? double.PositiveInfinity : Math.Max(0, extra);
    }

    /// <summary>Best age; null for a shape of 1 or less, or where it leaves the range of numbers. Asks for costs with a trade.</summary>
    internal static double? Optimum(WeibullLife life, ReplacementCosts costs)
    {
        double wanted = costs.Planned / (costs.Failure - costs.Planned);
        if (life.Shape <= 1 || Gain(life.Shape, GreatestLogHazard) < wanted)
        {
            return null;
        }

        double log = Bisect(LeastLogHazard, GreatestLogHazard, u => Gain(life.Shape, u) >= wanted);
        double age = life.Scale * Math.Exp(log / life.Shape);
        return double.IsFinite(age) && age > 0 ? age : null;
    }

    /// <summary>Hazard x integral of survival - share failed, at an age given as the logarithm of its cumulative hazard; rises.</summary>
    private static double Gain(double shape, double logHazard)
    {
        double age = Math.Exp(logHazard / shape);
        var unit = new WeibullLife(shape, 1);
        return (shape * Math.Exp(logHazard) * unit.MeanUpTo(age) / age) - unit.ChanceWithin(0, age);
    }

    private static (double From, double? To) Flat(WeibullLife life, ReplacementCosts costs, double age, double limit)
    {
        double best = Math.Log(age), from = best - 1;
        while (CostRate(life, costs, Math.Exp(from)) <= limit)
        {
            from--;
        }

        double early = Math.Exp(Bisect(from, best, x => CostRate(life, costs, Math.Exp(x)) <= limit));
        if (costs.Failure / life.Mean <= limit)
        {
            return (early, null);
        }

        double to = best + 0.01;
        while (CostRate(life, costs, Math.Exp(to)) <= limit)
        {
            to = best + (2 * (to - best));
        }

        return (early, Math.Exp(Bisect(best, to, x => CostRate(life, costs, Math.Exp(x)) > limit)));
    }

    /// <summary>Where a rule that is false below and true above turns true.</summary>
    private static double Bisect(double low, double high, Func<double, bool> rule)
    {
        for (int i = 0; i < 200; i++)
        {
            double middle = low + ((high - low) / 2);
            if (middle <= low || middle >= high)
            {
                break;
            }

            (low, high) = rule(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }

    private static void RequireAge(double age, string name)
    {
        if (!double.IsFinite(age) || age <= 0)
        {
            throw new ArgumentOutOfRangeException(name, age, "The age must be a finite number above 0.");
        }
    }
}
