using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>Whether a series rises or falls steadily, and by how much a step.</summary>
/// <param name="Count">Number of values.</param>
/// <param name="S">Pairs that rise less pairs that fall.</param>
/// <param name="Variance">Variance of S if the order of the values were chance, with the tie term.</param>
/// <param name="Z">(S - sign S) / root of the variance; null where all values are equal or there are fewer than two.</param>
/// <param name="PValue">Two-sided normal chance of such a Z; null without Z. Rough below 8 values.</param>
/// <param name="TauB">Kendall's rank correlation with the positions, -1 to 1, ties allowed for; null without Z.</param>
/// <param name="Slope">Median of the slopes of all pairs (Theil-Sen), in units of the values a position; null below two values.</param>
/// <param name="RankLower">Rank, from 1, of the slope that bounds the median slope from below; may lie between whole ranks.</param>
/// <param name="RankUpper">Rank of the slope that bounds it from above.</param>
/// <param name="Interpolated">
/// The slope with bounds between the two slopes nearest in rank; bounds are null where a rank lies outside.
/// </param>
/// <param name="WholeRank">The slope with bounds at the nearest whole ranks; bounds are null where a rank lies outside.</param>
/// <param name="Intercept">Median of value - slope x position; null without slope.</param>
public sealed record MonotoneTrendResult(
    int Count,
    long S,
    double Variance,
    double? Z,
    double? PValue,
    double? TauB,
    double? Slope,
    double? RankLower,
    double? RankUpper,
    Estimate? Interpolated,
    Estimate? WholeRank,
    double? Intercept);

/// <summary>
/// Mann-Kendall test and Theil-Sen slope. S is the sum of signs over pairs; variance [n(n-1)(2n+5) - sum g(g-1)(2g+5)]/18 with g the sizes
/// of tied groups; bounds of the slope at ranks (N - C)/2 and (N + C)/2 + 1 of the N sorted slopes, C = z root(variance). Supposes values
/// that do not depend on each other but for the trend: months that carry over into the next make p too small. Sources: Mann (1945),
/// Econometrica 13, 245-259; Kendall (1975), Rank Correlation Methods; Theil (1950); Sen (1968), JASA 63, 1379-1389.
/// </summary>
public static class MonotoneTrend
{
    /// <summary>Most values: all pairs are held at once.</summary>
    public const int MostValues = 3000;

    /// <summary>Tests a series.</summary>
    /// <param name="values">Finite values in order of time, at most <see cref="MostValues"/>.</param>
    /// <param name="level">Confidence level of the slope's bounds, above 0 and below 1.</param>
    /// <param name="positions">Where the values stand, strictly ascending and finite; null for 1, 2, 3 and so on.</param>
    /// <exception cref="ArgumentException">Too many values, a value that is not finite, or positions that do not fit.</exception>
    public static MonotoneTrendResult Test(IReadOnlyList<double> values, double level = 0.95, IReadOnlyList<double>? positions = null)
    {
        ArgumentNullException.ThrowIfNull(values);
        double z = ConfidenceLevel.NormalQuantile(level);
        double[] at = positions is null ? [.. Enumerable.Range(1, values.Count).Select(i => (double)i)] : [.. positions];
        Check(values, at);
        (long s, double[] slopes) = Pairs(values, at);
        double[] ties = [.. values.GroupBy(x => x).Select(g => (double)g.Count())];
        double n = values.Count;
        double variance = ((n * (n - 1) * ((2 * n) + 5)) - ties.Sum(g => g * (g - 1) * ((2 * g) + 5))) / 18;
        if (slopes.Length == 0)
        {
            return new MonotoneTrendResult(values.Count, s, variance, null, null, null, null, null, null, null, null, null);
        }

        double? score = variance > 0 ? (s - Math.Sign(s)) / Math.Sqrt(variance) : null;
        double reach = z * Math.Sqrt(Math.Max(0, variance));
        (double lower, double upper) = ((slopes.Length - reach) / 2, ((slopes.Length + reach) / 2) + 1);
        double slope = Median(slopes);
        return new MonotoneTrendResult(
            values.Count, s, variance, score,
            score is { } x ? 2 * Normal.CDF(0, 1, -Math.Abs(x)) : null,
            score is null ? null : s / Math.Sqrt(slopes.Length * (slopes.Length - (ties.Sum(g => g * (g - 1)) / 2))),
            slope, lower, upper,
            new Estimate(slope, Between(slopes, lower), Between(slopes, upper), level, "ranks of the pairs' slopes, interpolated"),
            new Estimate(slope, Whole(slopes, lower), Whole(slopes, upper), level, "ranks of the pairs' slopes, nearest whole rank"),
            Median([.. values.Select((value, i) => value - (slope * at[i])).Order()]));
    }

    private static void Check(IReadOnlyList<double> values, double[] at)
    {
        if (values.Count > MostValues || values.Any(v => !double.IsFinite(v)))
        {
            throw new ArgumentException($"A series has at most {MostValues} values, all finite.", nameof(values));
        }

        if (at.Length != values.Count || at.Any(p => !double.IsFinite(p)) || at.Zip(at.Skip(1)).Any(p => p.Second <= p.First))
        {
            throw new ArgumentException("Positions are finite, strictly ascending and as many as the values.", nameof(at));
        }
    }

    private static (long S, double[] Slopes) Pairs(IReadOnlyList<double> values, double[] at)
    {
        double[] slopes = new double[(long)values.Count * (values.Count - 1) / 2];
        long s = 0;
        int count = 0;
        for (int i = 0; i < values.Count; i++)
        {
            for (int j = i + 1; j < values.Count; j++)
            {
                s += Math.Sign(values[j].CompareTo(values[i]));
                slopes[count++] = (values[j] - values[i]) / (at[j] - at[i]);
            }
        }

        Array.Sort(slopes);
        return (s, slopes);
    }

    private static double Median(double[] sorted)
    {
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    private static double? Between(double[] sorted, double rank)
    {
        if (rank < 1 || rank > sorted.Length)
        {
            return null;
        }

        int below = (int)Math.Floor(rank);
        double low = sorted[below - 1], high = sorted[Math.Min(below, sorted.Length - 1)];
        return low + ((rank - below) * (high - low));
    }

    private static double? Whole(double[] sorted, double rank)
    {
        double whole = Math.Round(rank);
        return whole < 1 || whole > sorted.Length ? null : sorted[(int)whole - 1];
    }
}
