using MathNet.Numerics;

namespace Washwear.Analytics.Cleaning;

/// <summary>Three-sigma chart of the share of bad cases in samples of one size.</summary>
/// <param name="Centre">Share over all samples.</param>
/// <param name="Lower">Lower limit, 0 or more.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Signals">Numbers (from 1) of the samples outside the limits.</param>
public sealed record ProportionChartResult(double Centre, double Lower, double Upper, IReadOnlyList<int> Signals);

/// <summary>Limits on the number of bad washes in a block, with the false-alarm chance that they really have.</summary>
/// <param name="SignalAtOrAbove">Smallest number of bad washes that signals that they have become more.</param>
/// <param name="FalseAlarmUpper">Its chance while nothing has changed.</param>
/// <param name="SignalAtOrBelow">Largest number that signals that they have become fewer; null when even none at all is not rare
/// enough.</param>
/// <param name="FalseAlarmLower">Its chance while nothing has changed.</param>
public sealed record CountLimits(int SignalAtOrAbove, double FalseAlarmUpper, int? SignalAtOrBelow, double? FalseAlarmLower);

/// <summary>
/// Charts of bad cases in blocks. Three-sigma limits lie when bad washes are rare (30 washes at 2 % give a false-alarm chance of 2.2 %,
/// sixteen times the nominal), so limits for washes come from the binomial tails (Ryan 2011, Statistical Methods for Quality Improvement,
/// ch. 6).
/// </summary>
public static class ProportionChart
{
    /// <summary>Three-sigma limits: p +/- 3 sqrt(p (1 - p) / n), the lower one not below 0.</summary>
    /// <param name="bad">Bad cases in each sample, 0 to <paramref name="size"/>; at least one sample.</param>
    /// <param name="size">Cases in each sample, 1 or more.</param>
    public static ProportionChartResult ThreeSigma(IReadOnlyList<int> bad, int size)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(size, 1);
        ArgumentOutOfRangeException.ThrowIfZero(bad.Count, nameof(bad));
        double centre = bad.Sum() / ((double)size * bad.Count);
        double half = 3 * Math.Sqrt(centre * (1 - centre) / size);
        (double lower, double upper) = (Math.Max(0, centre - half), centre + half);
        return new ProportionChartResult(
            centre, lower, upper, [.. Enumerable.Range(1, bad.Count).Where(i => IsOutside((double)bad[i - 1] / size, lower, upper))]);
    }

    /// <summary>Limits whose false-alarm chance is at most <paramref name="alpha"/> a side.</summary>
    /// <param name="washes">Washes in a block, 1 or more.</param>
    /// <param name="share">Share of bad washes while nothing has changed, above 0 and below 1.</param>
    /// <param name="alpha">Chance of a false alarm a side, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static CountLimits ProbabilityLimits(int washes, double share, double alpha)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(washes, 1);
        RequireChance(share, nameof(share));
        RequireChance(alpha, nameof(alpha));
        int upper = Enumerable.Range(0, washes + 1).FirstOrDefault(c => AtLeast(c, washes, share) <= alpha, washes + 1);
        int lower = Enumerable.Range(0, washes + 1).LastOrDefault(c => AtMost(c, washes, share) <= alpha, -1);
        return new CountLimits(
            upper, AtLeast(upper, washes, share), lower < 0 ? null : lower, lower < 0 ? null : AtMost(lower, washes, share));
    }

    /// <summary>Chance of at least so many bad washes.</summary>
    /// <param name="count">Number of bad washes.</param>
    /// <param name="washes">Washes in the block.</param>
    /// <param name="share">Chance of a bad wash.</param>
    public static double AtLeast(int count, int washes, double share) =>
        count <= 0 ? 1 : count > washes ? 0 : SpecialFunctions.BetaRegularized(count, washes - count + 1, share);

    internal static void RequireChance(double value, string name)
    {
        if (!(value > 0 && value < 1))
        {
            throw new ArgumentOutOfRangeException(name, value, $"{name}: above 0 and below 1.");
        }
    }

    private static double AtMost(int count, int washes, double share) =>
        count >= washes ? 1 : SpecialFunctions.BetaRegularized(washes - count, count + 1, 1 - share);

    private static bool IsOutside(double share, double lower, double upper) => share < lower || share > upper;
}
