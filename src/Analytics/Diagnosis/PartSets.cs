using System.Numerics;

namespace Washwear.Analytics.Diagnosis;

/// <summary>All sets of parts, compared; sets are bit masks.</summary>
internal sealed class PartSets(PartNeeds needs)
{
    private readonly (double Probability, int Mask)[] _causes =
        [.. needs.Causes.Select(cause => (cause.Probability, cause.Parts.Aggregate(0, (mask, part) => mask | 1 << part)))];

    public PartsChoice Best(double level, double wanted)
    {
        double[] mostByNumber = new double[needs.Parts.Count + 1];
        (double First, double Second, double Uncovered, int Mask)? best = null;
        for (int mask = 0; mask < 1 << needs.Parts.Count; mask++)
        {
            double covered = Covered(mask);
            int number = BitOperations.PopCount((uint)mask);
            mostByNumber[number] = Math.Max(mostByNumber[number], covered);
            if (covered >= wanted - PartNeeds.Rounding)
            {
                // Rounded, so that equal sums in another order are equal.
                double price = Math.Round(PriceOf(mask), 6);
                var candidate = (needs.Cheapest ? price : number, needs.Cheapest ? number : price, Math.Round(1 - covered, 12), mask);
                best = best is null || candidate.CompareTo(best.Value) < 0 ? candidate : best;
            }
        }

        int[] chosen = [.. Enumerable.Range(0, needs.Parts.Count).Where(part => (best!.Value.Mask >> part & 1) == 1)];
        double? oneFewer = chosen.Length == 0 ? null : mostByNumber[chosen.Length - 1];
        return needs.Result(level, chosen, oneFewer, chosen.Sum(needs.CostOf), exact: true);
    }

    private double Covered(int mask)
    {
        double sum = 0;
        foreach ((double probability, int needed) in _causes)
        {
            sum += (needed & mask) == needed ? probability : 0;
        }

        return Math.Min(1, sum);
    }

    private double PriceOf(int mask)
    {
        double sum = 0;
        for (int rest = mask; rest != 0; rest &= rest - 1)
        {
            sum += needs.Prices[BitOperations.TrailingZeroCount(rest)];
        }

        return sum;
    }
}
