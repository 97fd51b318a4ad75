namespace Washwear.Analytics.Planning;

/// <summary>Swapping at fixed dates, failures in between replaced by new parts.</summary>
/// <param name="Verdict">What to do.</param>
/// <param name="Interval">Time between planned swaps of least long-run cost; null where waiting for failures costs no more.</param>
/// <param name="CostRate">Cost per unit of time at that interval; null with it.</param>
/// <param name="RunToFailureCostRate">Cost per unit of time when only failures are swapped.</param>
public sealed record BlockPolicy(ReplacementVerdict Verdict, double? Interval, double? CostRate, double RunToFailureCostRate);

/// <summary>Swapping at fixed dates, failures in between repaired without making the part any younger.</summary>
/// <param name="Interval">Time between planned swaps of least long-run cost; null where the part does not wear or a cost is 0.</param>
/// <param name="CostRate">Cost per unit of time at that interval; null with it.</param>
public sealed record PeriodicPolicy(double? Interval, double? CostRate);

/// <summary>
/// Block replacement: all parts are swapped at fixed dates whatever their age; what fails in between is replaced. Long-run cost per unit of
/// time: (planned + failure x M(interval)) / interval, M the renewal function. Source: Barlow and Proschan (1965), ch. 4. Costs a little
/// more than age replacement, but needs no ages.
/// </summary>
public static class BlockReplacement
{
    private const int Scan = 80;

    /// <summary>Finds the interval of least cost among those up to three mean lives.</summary>
    /// <param name="life">Life of the part.</param>
    /// <param name="costs">Cost of either swap.</param>
    public static BlockPolicy Find(WeibullLife life, ReplacementCosts costs)
    {
        ArgumentNullException.ThrowIfNull(costs);
        double never = costs.Failure / life.Mean;
        if (!costs.HaveTrade)
        {
            return new BlockPolicy(ReplacementVerdict.PlannedNotCheaper, null, null, never);
        }

        if (life.Shape <= 1)
        {
            return new BlockPolicy(ReplacementVerdict.RunToFailure, null, null, never);
        }

        // With wear failures come no faster than under repairs that leave the part old, so the best interval is no shorter.
        var unit = new WeibullLife(life.Shape, 1);
        double from = Math.Min(PeriodicReplacement.Find(unit, costs.Planned, costs.Failure).Interval ?? 1, unit.Mean) / 3;
        double ratio = Math.Pow(3 * unit.Mean / from, 1.0 / Scan);
        double Rate(double time) => (costs.Planned + (costs.Failure * WeibullRenewal.Expected(unit, time))) / time;
        double start = Enumerable.Range(1, Scan - 1).Select(i => from * Math.Pow(ratio, i)).MinBy(Rate);
        double best = Least(Rate, start / ratio, start * ratio), rate = Rate(best) / life.Scale;
        return rate < never
            ? new BlockPolicy(ReplacementVerdict.ReplaceAtAge, best * life.Scale, rate, never)
            : new BlockPolicy(ReplacementVerdict.RunToFailure, null, null, never);
    }

    /// <summary>Golden section search for a minimum between two ends.</summary>
    private static double Least(Func<double, double> cost, double low, double high)
    {
        double golden = (Math.Sqrt(5) - 1) / 2;
        double left = high - (golden * (high - low)), right = low + (golden * (high - low));
        (double atLeft, double atRight) = (cost(left), cost(right));
        while (high - low > 1e-8 * high)
        {
            if (atLeft <= atRight)
            {
                (high, right, atRight) = (right, left, atLeft);
                left = high - (golden * (high - low));
                atLeft = cost(left);
            }
            else
            {
                (low, left, atLeft) = (left, right, atRight);
                right = low + (golden * (high - low));
                atRight = cost(right);
            }
        }

        return (low + high) / 2;
    }
}

/// <summary>
/// Periodic replacement with minimal repair: a repair puts the part back to work as old as it was. Closed form: interval = scale x
/// (replacement / (repair x (shape - 1)))^(1/shape). Source: Barlow and Hunter (1960) Operations Research 8, 90.
/// </summary>
public static class PeriodicReplacement
{
    /// <summary>Finds the interval of least cost.</summary>
    /// <param name="life">Time to the first failure.</param>
    /// <param name="replacement">Cost of a planned replacement, 0 or more, finite.</param>
    /// <param name="repair">Cost of a repair, 0 or more, finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">A cost is out of range.</exception>
    public static PeriodicPolicy Find(WeibullLife life, double replacement, double repair)
    {
        var costs = new ReplacementCosts(replacement, repair);
        if (life.Shape <= 1 || costs.Planned == 0 || costs.Failure == 0)
        {
            return new PeriodicPolicy(null, null);
        }

        double interval = life.Scale * Math.Pow(replacement / (repair * (life.Shape - 1)), 1 / life.Shape);
        double rate = replacement * life.Shape / ((life.Shape - 1) * interval);
        return double.IsFinite(interval) && interval > 0 && double.IsFinite(rate)
            ? new PeriodicPolicy(interval, rate)
            : new PeriodicPolicy(null, null);
    }
}
