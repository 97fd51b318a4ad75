namespace Washwear.Analytics.Cleaning;

/// <summary>Limits on the number of washes up to and including the r-th bad one.</summary>
/// <param name="Mean">Mean number of washes while nothing has changed.</param>
/// <param name="WorseAtOrBelow">Largest number that signals that bad washes come sooner; null when even r is not rare enough.</param>
/// <param name="FalseAlarmWorse">Its chance while nothing has changed.</param>
/// <param name="BetterAtOrAbove">Smallest number that signals that they come later.</param>
/// <param name="FalseAlarmBetter">Its chance while nothing has changed.</param>
/// <param name="MeanWashesToFalseAlarm">Mean number of washes between false alarms of the 'worse' side; null when it has none.</param>
public sealed record GapLimits(
    double Mean,
    int? WorseAtOrBelow,
    double? FalseAlarmWorse,
    int BetterAtOrAbove,
    double FalseAlarmBetter,
    double? MeanWashesToFalseAlarm);

/// <summary>
/// Chart of the number of washes from one reset to the r-th bad wash: geometric for r = 1, else negative binomial, with probability limits.
/// Kaminsky, Benneyan, Davis and Burke (1992) J. Quality Technology 24, 63; Xie and Goh (1997) Int. J. Quality and Reliability Management
/// 14, 64.
/// </summary>
public static class GapChart
{
    private const double LeastShare = 1e-4;

    /// <summary>Limits whose false-alarm chance is at most <paramref name="alpha"/> a side.</summary>
    /// <param name="share">Share of bad washes while nothing has changed, 0.0001 or more and below 1.</param>
    /// <param name="bad">r, the number of bad washes that ends a gap, 1 or more. One at a time can never signal worse where share exceeds
    /// alpha.</param>
    /// <param name="alpha">Chance of a false alarm a side, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static GapLimits Limits(double share, int bad, double alpha)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bad, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(share, LeastShare);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(share, 1);
        ProportionChart.RequireChance(alpha, nameof(alpha));
        double within = Within(bad, bad, share);
        int worse = bad - 1;
        while (Within(worse + 1, bad, share) <= alpha)
        {
            worse++;
        }

        int better = bad;
        while (Beyond(better, bad, share) > alpha)
        {
            better++;
        }

        double? chance = within > alpha ? null : Within(worse, bad, share);
        return new GapLimits(
            bad / share, chance is null ? null : worse, chance, better, Beyond(better, bad, share), bad / share / chance);
    }

    /// <summary>Chance that the r-th bad wash comes within so many: at least r bad ones among them.</summary>
    internal static double Within(int washes, int bad, double share) => ProportionChart.AtLeast(bad, washes, share);

    private static double Beyond(int washes, int bad, double share) => 1 - Within(washes - 1, bad, share);
}
