using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Recurrence;

/// <summary>Pairs of times between events in which the later one is longer.</summary>
/// <param name="Test">
/// Outcome; its statistic is <paramref name="Reversals"/>, its chances are exact where <paramref name="IsExact"/>.
/// </param>
/// <param name="Reversals">Pairs with the later time strictly longer.</param>
/// <param name="TiedPairs">Pairs of equal times; they count for neither side, which makes both chances larger.</param>
/// <param name="Maximum">All pairs.</param>
/// <param name="Expected">Reversals expected without trend, half of the pairs.</param>
/// <param name="ZWithPlusHalf">Normal score with +0.5 whatever the sign, as NIST prints it; null without pairs.</param>
/// <param name="Z">Normal score without correction; null without pairs.</param>
/// <param name="IsExact">Whether the chances come from all equally likely orders; else from the normal approximation.</param>
public sealed record ReverseArrangementsResult(
    TrendTest Test, long Reversals, long TiedPairs, long Maximum, double Expected, double? ZWithPlusHalf, double? Z, bool IsExact);

/// <summary>
/// Test of the order of times between events, pooled over units: without trend all orders of a unit's times are equally likely, whatever
/// their distribution. Many reversals mean that times grow longer. Source: Mann (1945), Econometrica 13, 245-259; NIST/SEMATECH
/// e-Handbook 8.2.3.4. Times count from age 0 where watching began there, else from the first event; the time since the last event is not
/// used.
/// </summary>
public static class ReverseArrangements
{
    private const long ExactPairs = 20_000;
    private const long ExactWork = 50_000_000;

    /// <summary>Tests the times between events of the units.</summary>
    /// <param name="histories">The units; those with fewer than two times between events add nothing.</param>
    public static ReverseArrangementsResult Test(IReadOnlyList<EventHistory> histories)
    {
        (int units, int events, int late) = (0, 0, 0);
        (long reversals, long ties) = (0, 0);
        var lengths = new List<int>();
        foreach (Renewals unit in Renewals.Of(histories))
        {
            (units, events, late) = (units + 1, events + unit.Ages.Length, late + unit.Late);
            (long up, long equal) = Count(unit.Gaps());
            (reversals, ties) = (reversals + up, ties + equal);
            lengths.Add(unit.Ages.Length);
        }

        long pairs = lengths.Sum(n => (long)n * (n - 1) / 2);
        if (pairs == 0)
        {
            return new ReverseArrangementsResult(
                TrendTest.None(TrendTestKind.ReverseArrangements, units, events, late), 0, 0, 0, 0, null, null, false);
        }

        double expected = pairs / 2.0;
        double deviation = Math.Sqrt(lengths.Sum(n => ((2.0 * n) + 5) * (n - 1) * n / 72));
        bool exact = pairs <= ExactPairs && pairs * lengths.Sum(n => (long)n) <= ExactWork;
        double[]? atMost = exact ? Distribution(lengths) : null;
        double AtMost(long count) => atMost is null ? Normal.CDF(expected, deviation, count + 0.5) : atMost[count];
        var test = new TrendTest(
            TrendTestKind.ReverseArrangements, units, events, late, reversals, null, AtMost(reversals + ties), AtMost(pairs - reversals));
        return new ReverseArrangementsResult(
            test, reversals, ties, pairs, expected, (reversals - expected + 0.5) / deviation, (reversals - expected) / deviation, exact);
    }

    /// <summary>Pairs in which the later value is larger, and pairs of equals, by merging sorted halves.</summary>
    private static (long Up, long Equal) Count(double[] values)
    {
        double[] sorted = [.. values];
        long down = Inversions(sorted, new double[sorted.Length]);
        long equal = 0;
        for (int first = 0, next; first < sorted.Length; first = next)
        {
            for (next = first + 1; next < sorted.Length && sorted[next] == sorted[first];)
            {
                next++;
            }

            equal += (long)(next - first) * (next - first - 1) / 2;
        }

        return (((long)values.Length * (values.Length - 1) / 2) - down - equal, equal);
    }

    /// <summary>Sorts and counts the pairs in which the earlier value was larger.</summary>
    private static long Inversions(Span<double> values, Span<double> spare)
    {
        if (values.Length < 2)
        {
            return 0;
        }

        int half = values.Length / 2;
        long count = Inversions(values[..half], spare[..half]) + Inversions(values[half..], spare[half..]);
        for (int left = 0, right = half, to = 0; to < values.Length; to++)
        {
            bool takeLeft = left < half && (right == values.Length || values[left] <= values[right]);
            count += takeLeft ? 0 : half - left;
            spare[to] = takeLeft ? values[left++] : values[right++];
        }

        spare.CopyTo(values);
        return count;
    }

    /// <summary>
    /// Chance of at most 0, 1, 2 ... reversals: the k-th time adds 0 to k - 1 of them, each equally likely. Both tails are read from the
    /// lower one, the distribution being symmetric, so that neither loses digits.
    /// </summary>
    private static double[] Distribution(List<int> lengths)
    {
        double[] chance = [1];
        foreach (int k in lengths.SelectMany(n => Enumerable.Range(2, n - 1)))
        {
            double[] next = new double[chance.Length + k - 1];
            double window = 0;
            for (int i = 0; i < (next.Length + 1) / 2; i++)
            {
                window += i < chance.Length ? chance[i] : 0;
                window -= i >= k ? chance[i - k] : 0;
                next[i] = next[next.Length - 1 - i] = window / k;
            }

            chance = next;
        }

        for (int i = 1; i < chance.Length; i++)
        {
            chance[i] += chance[i - 1];
        }

        return [.. chance.Select(c => Math.Min(1, c))];
    }
}
