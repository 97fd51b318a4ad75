namespace Washwear.Analytics.Rates;

/// <summary>
/// p-values adjusted so that, when all comparisons with an adjusted value up to a level are called real, at most that share of the calls
/// is expected to be wrong. Source: Benjamini and Hochberg (1995), JRSS B 57, 289-300; holds for independent and positively dependent
/// tests (Benjamini and Yekutieli 2001). Adjusted value of the i-th smallest of m: the least of m p(j) / j over j from i on.
/// </summary>
public static class FalseDiscovery
{
    /// <summary>Adjusted p-values in the order given; null in, null out, and a null is no comparison made.</summary>
    /// <param name="pValues">p-values from 0 to 1; null where no test could be made.</param>
    /// <exception cref="ArgumentOutOfRangeException">A p-value does not lie from 0 to 1.</exception>
    public static IReadOnlyList<double?> Adjust(IReadOnlyList<double?> pValues)
    {
        ArgumentNullException.ThrowIfNull(pValues);
        IEnumerable<int> made = Enumerable.Range(0, pValues.Count).Where(i => pValues[i] is not null);
        int[] order = [.. made.OrderByDescending(i => Checked(pValues[i]!.Value))];
        double?[] adjusted = new double?[pValues.Count];
        double least = 1;
        for (int k = 0; k < order.Length; k++)
        {
            int rank = order.Length - k;
            least = Math.Min(least, pValues[order[k]]!.Value * order.Length / rank);
            adjusted[order[k]] = least;
        }

        return adjusted;
    }

    private static double Checked(double pValue) => pValue is >= 0 and <= 1
        ? pValue
        : throw new ArgumentOutOfRangeException(nameof(pValue), pValue, "A p-value lies from 0 to 1.");
}
