namespace Washwear.Analytics.Rates;

/// <summary>
/// Is a unit worse than the others? Under the rule 'all units have one rate', a unit's events given those of all are binomial with its share
/// of the exposure as chance, whatever that rate is; the p-value is the chance of at least as many. It is exact, not mid-p, and takes in
/// that the others' rate is itself only known from their events: with a plain Poisson tail at the others' rate, one event of a fleet
/// without any other would look impossible. The adjusted values are for the false discovery rate over the fleet
/// (<see cref="FalseDiscovery"/>). Source: Przyborowski and Wilenski (1940) Biometrika 31, 313-323.
/// </summary>
public static class ExcessCount
{
    /// <summary>
    /// One-sided p-values in the order given, ready for <see cref="FalseDiscovery.Adjust"/>; null for a unit without exposure and where no
    /// other unit has any: no comparison is made there.
    /// </summary>
    /// <param name="counts">Events of each unit, 0 or more, together fewer than 2^31.</param>
    /// <param name="exposures">Exposure of each unit, or the events expected of it by a model, in the same order, 0 or more.</param>
    /// <exception cref="ArgumentException">Counts and exposures differ in number, or a number lies outside its range.</exception>
    public static IReadOnlyList<double?> PValues(IReadOnlyList<int> counts, IReadOnlyList<double> exposures)
    {
        RateArguments.Rows(counts, exposures);
        int[] used = [.. Enumerable.Range(0, counts.Count).Where(i => exposures[i] > 0)];
        double exposure = used.Select(i => exposures[i]).Order().Sum();
        long all = used.Sum(i => (long)counts[i]);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(all, int.MaxValue, nameof(counts));
        double?[] pValues = new double?[counts.Count];
        foreach (int i in used.Where(_ => used.Length > 1))
        {
            pValues[i] = CountTails.BinomialAtLeast(counts[i], (int)all, exposures[i] / exposure);
        }

        return pValues;
    }
}
