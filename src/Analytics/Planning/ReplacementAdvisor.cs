using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Planning;

/// <summary>When a swap at a fixed age is advised.</summary>
public sealed record ReplacementOptions
{
    /// <summary>Least share of the run-to-failure cost that the age must save by the estimate, 0 or more and below 1.</summary>
    public double LeastSaving { get; init; } = 0.02;

    /// <summary>The saving must be above 0 but for this chance, above 0 and below 0.5.</summary>
    public double SavingTail { get; init; } = 0.05;

    /// <summary>Chance that the range given holds the true best age, above 0 and below 1.</summary>
    public double AgeLevel { get; init; } = 0.9;

    /// <summary>Share above the least cost that counts as no worse, above 0 and below 1.</summary>
    public double FlatTolerance { get; init; } = 0.01;
}

/// <summary>Why a verdict is what it is.</summary>
public enum ReplacementReason
{
    /// <summary>A failure is given no cost, so there is nothing to save.</summary>
    FailureCostsNothing,

    /// <summary>A planned swap is given no cost, so no age can be weighed.</summary>
    PlannedCostsNothing,

    /// <summary>A planned swap costs as much as a failure or more.</summary>
    PlannedCostsMore,

    /// <summary>The part wears so little that no early swap is worth it.</summary>
    LittleWear,

    /// <summary>The records show no wear.</summary>
    NoWear,

    /// <summary>The records do not show for certain that the part wears.</summary>
    WearNotShown,

    /// <summary>Even the best age would save less than the option's share.</summary>
    SmallSaving,

    /// <summary>Swapping early should save something, but may cost more by what is known so far.</summary>
    SavingNotSure,

    /// <summary>Swapping at the age should save, and very likely does.</summary>
    Saves,
}

/// <summary>What to do, why, and how sure it is.</summary>
/// <param name="Policy">Verdict and figures at the estimated life; its age is the best one at the estimate whatever the verdict.</param>
/// <param name="Reason">Why this verdict.</param>
/// <param name="AgeLow">Lower end of the range of best ages; null where there is none.</param>
/// <param name="AgeHigh">Upper end; null where the records do not exclude that no part should be swapped before it fails.</param>
/// <param name="SavingLow">Share of the cost saved by the age of the policy but for the option's chance; below 0 it costs more than waiting
/// for the failure. Null without an age.</param>
/// <param name="ChanceOfNoOptimum">Chance that the shape is 1 or less, so that there is no best age; 1 without a trade.</param>
/// <param name="AgeAtHalfCostRatio">Best age if a failure cost half as much; null where there would be none.</param>
/// <param name="AgeAtDoubleCostRatio">Best age if a failure cost twice as much; null where there would be none.</param>
public sealed record ReplacementAdvice(
    ReplacementPolicy Policy,
    ReplacementReason Reason,
    double? AgeLow,
    double? AgeHigh,
    double? SavingLow,
    double ChanceOfNoOptimum,
    double? AgeAtHalfCostRatio,
    double? AgeAtDoubleCostRatio);

/// <summary>
/// Age replacement for a life that was estimated. The rules, in order: no trade between the costs; run to failure where the lower bound of
/// the shape is 1 or less, as wear is then not shown; negligible saving where the estimated saving is below the option's share or the
/// chosen age may, but for the option's chance, cost more than waiting; else swap at the age. Uncertainty is a fixed grid over
/// normal ln shape and ln scale, so the same input gives the same answer.
/// </summary>
public static class ReplacementAdvisor
{
    /// <summary>Advises.</summary>
    /// <param name="life">Estimate of the life and its uncertainty.</param>
    /// <param name="costs">Cost of either swap.</param>
    /// <param name="options">When to advise a swap; null for the defaults.</param>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static ReplacementAdvice Advise(LifeUncertainty life, ReplacementCosts costs, ReplacementOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(life);
        ArgumentNullException.ThrowIfNull(costs);
        ReplacementOptions asked = Checked(options ?? new ReplacementOptions());
        ReplacementPolicy policy = AgeReplacement.Find(life.Estimate, costs, asked.FlatTolerance);
        if (!costs.HaveTrade)
        {
            return new ReplacementAdvice(policy, NoTrade(costs), null, null, null, 1, null, null);
        }

        double tail = (1 - asked.AgeLevel) / 2;
        (double? low, double? high) = OptimumSpread.Range(life, costs, tail);
        double? saving = policy.Age is { } age ? OptimumSpread.SavingQuantile(life, costs, age, asked.SavingTail) : null;
        (ReplacementVerdict verdict, ReplacementReason reason) = Judge(life, policy, saving, asked);
        return new ReplacementAdvice(
            policy with { Verdict = verdict },
            reason,
            low,
            high,
            saving,
            OptimumSpread.ChanceOfNone(life),
            AgeWhen(life, costs, 0.5),
            AgeWhen(life, costs, 2));
    }

    private static (ReplacementVerdict Verdict, ReplacementReason Reason) Judge(
        LifeUncertainty life, ReplacementPolicy policy, double? savingLow, ReplacementOptions options)
    {
        if (policy.SavingShare is not { } saving || savingLow is not { } low)
        {
            return (ReplacementVerdict.RunToFailure, life.Estimate.Shape > 1 ? ReplacementReason.LittleWear : ReplacementReason.NoWear);
        }

        if (life.ShapeLower <= 1)
        {
            return (ReplacementVerdict.RunToFailure, ReplacementReason.WearNotShown);
        }

        if (saving < options.LeastSaving)
        {
            return (ReplacementVerdict.NegligibleSaving, ReplacementReason.SmallSaving);
        }

        return low <= 0
            ? (ReplacementVerdict.NegligibleSaving, ReplacementReason.SavingNotSure)
            : (ReplacementVerdict.ReplaceAtAge, ReplacementReason.Saves);
    }

    private static ReplacementReason NoTrade(ReplacementCosts costs) => costs switch
    {
        { Failure: 0 } => ReplacementReason.FailureCostsNothing,
        { Planned: 0 } => ReplacementReason.PlannedCostsNothing,
        _ => ReplacementReason.PlannedCostsMore,
    };

    private static double? AgeWhen(LifeUncertainty life, ReplacementCosts costs, double factor)
    {
        double failure = costs.Failure * factor;
        return double.IsFinite(failure) && costs.Planned < failure
            ? AgeReplacement.Optimum(life.Estimate, new ReplacementCosts(costs.Planned, failure))
            : null;
    }

    private static ReplacementOptions Checked(ReplacementOptions options)
    {
        bool sound = options.LeastSaving is >= 0 and < 1 && options.SavingTail is > 0 and < 0.5 && options.AgeLevel is > 0 and < 1;
        return sound ? options : throw new ArgumentOutOfRangeException(
            nameof(options), options, "The least saving lies from 0 to 1, the saving's tail between 0 and 0.5, the level between 0 and 1.");
    }
}

/// <summary>How best ages and savings spread over the uncertainty of the life.</summary>
internal static class OptimumSpread
{
    // A cumulative hazard of 20: one part in 500 million gets that old, so such a best age is never reached.
    private const double NeverReached = 20;
    private const double AgeStep = 0.05;
    private const double AgeEnd = 6;
    private const double SavingStep = 0.1;
    private const double SavingEnd = 4.5;

    /// <summary>Chance that the shape is 1 or less.</summary>
    public static double ChanceOfNone(LifeUncertainty life)
    {
        double log = Math.Log(life.Estimate.Shape);
        return life.SdLogShape > 0 ? Normal.CDF(0, 1, -log / life.SdLogShape) : log <= 0 ? 1 : 0;
    }

    /// <summary>
    /// Quantiles of the best age. For a given shape it is proportional to the scale, which is log-normal given the shape, so one sum over
    /// the shape is enough.
    /// </summary>
    public static (double? Low, double? High) Range(LifeUncertainty life, ReplacementCosts costs, double tail)
    {
        Conditional[] given = [.. Points(AgeEnd, AgeStep).Select(z => At(life, costs, z))];
        return (Quantile(given, tail), Quantile(given, 1 - tail));
    }

    /// <summary>Lower quantile of the saving that an age brings.</summary>
    public static double SavingQuantile(LifeUncertainty life, ReplacementCosts costs, double age, double tail)
    {
        double[] points = [.. Points(SavingEnd, SavingStep)];
        double[] first = life.SdLogShape > 0 ? points : [0], second = life.SdLogScale > 0 ? points : [0];
        (double Saving, double Weight)[] all =
        [
            .. from a in first
               from b in second
               select (Saving(life.At(a, b), costs, age), Math.Exp(-((a * a) + (b * b)) / 2)),
        ];
        Array.Sort(all, (x, y) => x.Saving.CompareTo(y.Saving));
        double left = tail * all.Sum(p => p.Weight);
        return all.First(p => (left -= p.Weight) <= 0).Saving;
    }

    private static double Saving(WeibullLife life, ReplacementCosts costs, double age) =>
        1 - (AgeReplacement.CostRate(life, costs, age) / (costs.Failure / life.Mean));

    private static IEnumerable<double> Points(double end, double step)
    {
        int half = (int)Math.Round(end / step);
        return Enumerable.Range(-half, (2 * half) + 1).Select(i => i * step);
    }

    private static Conditional At(LifeUncertainty life, ReplacementCosts costs, double z)
    {
        WeibullLife centre = life.At(z, 0);
        double spread = life.SdLogScale * Math.Sqrt(1 - (life.Correlation * life.Correlation));
        double? best = AgeReplacement.Optimum(centre, costs);
        bool reached = best is { } age && centre.CumulativeHazard(age) < NeverReached;
        return new Conditional(Math.Exp(-z * z / 2), reached ? Math.Log(best!.Value) : null, spread);
    }

    private static double? Quantile(Conditional[] given, double level)
    {
        double wanted = level * given.Sum(g => g.Weight);
        Conditional[] some = [.. given.Where(g => g.LogAge is not null)];
        if (some.Sum(g => g.Weight) <= wanted)
        {
            return null;
        }

        double low = some.Min(g => g.LogAge!.Value - (9 * g.Spread)) - 1, high = some.Max(g => g.LogAge!.Value + (9 * g.Spread)) + 1;
        for (int i = 0; i < 100; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = some.Sum(g => g.Weight * g.ShareBelow(middle)) >= wanted ? (low, middle) : (middle, high);
        }

        return Math.Exp(high);
    }

    /// <summary>The best age at one shape: its weight, its median's logarithm (null for never) and its spread on that scale.</summary>
    private readonly record struct Conditional(double Weight, double? LogAge, double Spread)
    {
        public double ShareBelow(double logAge) => Spread > 0
            ? Normal.CDF(LogAge!.Value, Spread, logAge)
            : logAge >= LogAge!.Value ? 1 : 0;
    }
}
