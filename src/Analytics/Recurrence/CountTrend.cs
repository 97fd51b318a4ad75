using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>Events in one of several periods of equal length.</summary>
/// <param name="Exposure">What was watched in it, such as unit-days or washes, 0 or more and finite.</param>
/// <param name="Events">Events in it, 0 or more; 0 where nothing was watched.</param>
public readonly record struct PeriodCount(double Exposure, int Events);

/// <summary>
/// Trend of counts in successive periods. Given all N events, those of a period are expected in proportion to its exposure; with s_j its
/// place and e_j its share, z = (sum s_j n_j - N mean)/root(N variance), mean and variance of s under e (Cox and Lewis 1966; Cochran 1954,
/// Biometrics 10, 417-451; Armitage 1955, Biometrics 11, 375-386). What is left of the chi-square of the counts when z^2 is taken out tells
/// whether they vary more than Poisson; then Mann and Kendall's test of the rates is taken.
/// </summary>
internal sealed record CountTrend(TrendTestKind Kind, TrendTestReason Reason, double? Variation, double? VariationPValue)
{
    private const int FewestPeriods = 4;
    private const double FewestExpected = 1;
    private const double VariesAtChance = 0.05;

    /// <summary>Chooses the test.</summary>
    public static CountTrend Of(IReadOnlyList<PeriodCount> periods)
    {
        if (periods.Any(p => !(p.Exposure >= 0 && double.IsFinite(p.Exposure)) || p.Events < 0 || (p.Exposure == 0 && p.Events > 0)))
        {
            throw new ArgumentException("Exposure is finite and 0 or more, events are 0 or more and 0 without exposure.", nameof(periods));
        }

        int watched = periods.Count(p => p.Exposure > 0);
        double events = periods.Sum(p => (double)p.Events), exposure = periods.Sum(p => p.Exposure);
        if (watched < FewestPeriods || events / watched < FewestExpected)
        {
            return new CountTrend(TrendTestKind.Counts, TrendTestReason.TooFewToCheck, null, null);
        }

        double z = Test(periods, TrendTestKind.Counts).Statistic ?? 0;
        double all = 0;
        foreach (PeriodCount period in periods.Where(p => p.Exposure > 0))
        {
            double expected = events * period.Exposure / exposure, off = period.Events - expected;
            all += off * off / expected;
        }

        double left = Math.Max(0, all - (z * z));
        double chance = ChiSquare.UpperTail(left, watched - 2);
        double variation = Math.Sqrt(left / (watched - 2));
        return chance < VariesAtChance
            ? new CountTrend(TrendTestKind.MannKendall, TrendTestReason.VariesMoreThanPoisson, variation, chance)
            : new CountTrend(TrendTestKind.Counts, TrendTestReason.VariesAsPoisson, variation, chance);
    }

    /// <summary>Makes the test; it has no statistic with fewer than two periods watched, or without events.</summary>
    public static TrendTest Test(IReadOnlyList<PeriodCount> periods, TrendTestKind kind)
    {
        int[] places = [.. Enumerable.Range(0, periods.Count).Where(j => periods[j].Exposure > 0)];
        int events = periods.Sum(p => p.Events);
        double? z = kind == TrendTestKind.Counts ? Score(periods, places, events) : MonotoneTrend.Test(
            [.. places.Select(j => periods[j].Events / periods[j].Exposure)], positions: [.. places.Select(j => (double)j)]).Z;
        return z is { } score ? TrendTest.FromNormal(kind, 0, events, 0, score) : TrendTest.None(kind, 0, events, 0);
    }

    /// <summary>What would change the verdict, each period ahead with the exposure of the last one that had any.</summary>
    public static TrendChange? ChangeOf(
        IReadOnlyList<PeriodCount> periods, Func<IReadOnlyList<PeriodCount>, TrendFinding> judge, TrendOptions options)
    {
        double exposure = periods.LastOrDefault(p => p.Exposure > 0).Exposure;
        if (exposure == 0)
        {
            return null;
        }

        int ahead = Math.Max(1, (int)Math.Min(1000, Math.Round(options.Ahead)));
        IReadOnlyList<PeriodCount> With(int stretch, int events) =>
        [
            .. periods,
            .. Enumerable.Range(0, stretch).Select(j => new PeriodCount(
                exposure, (int)(((j + 1L) * events / stretch) - ((long)j * events / stretch)))),
        ];
        int events = periods.Sum(p => p.Events), missing = Math.Max(0, options.FewestEvents - events);
        int most = Math.Max(missing + 1, (int)Math.Clamp(20L * events, 100, 1_000_000));
        (int? worse, int? better) = ChangeSearch.Counts(count => judge(With(ahead, count)), missing, most);
        double longest = Math.Min(MonotoneTrend.MostValues - periods.Count, options.LongestQuiet ?? (2 * periods.Count));
        int? quiet = ChangeSearch.Smallest(
            stretch => judge(With(stretch, 0)) == TrendFinding.GettingBetter, 0, Math.Max(1, (int)longest));
        return new TrendChange(ahead, 0, worse, better, quiet);
    }

    private static double? Score(IReadOnlyList<PeriodCount> periods, int[] places, int events)
    {
        double exposure = places.Sum(j => periods[j].Exposure);
        double mean = places.Sum(j => j * (periods[j].Exposure / exposure));
        double variance = places.Sum(j => (j - mean) * (j - mean) * (periods[j].Exposure / exposure));
        return events == 0 || places.Length < 2 || variance <= 0
            ? null
            : places.Sum(j => (j - mean) * periods[j].Events) / Math.Sqrt(events * variance);
    }
}
