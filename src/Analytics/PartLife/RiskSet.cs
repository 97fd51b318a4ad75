namespace Washwear.Analytics.PartLife;

/// <summary>
/// Who was at risk when: a part is at risk at age t when entry &lt; t &lt;= end, so failures come before censorings at equal ages.
/// Failures between two looks are placed at the age at which they were found.
/// </summary>
internal sealed class RiskSet
{
    private readonly double[] _ends;
    private readonly double[] _entries;

    public RiskSet(Lives lives)
    {
        FailureAges = [.. lives.FailedAges, .. lives.FoundAges];
        _ends = [.. FailureAges, .. lives.RunningAges];
        _entries = [.. lives.FailedEntries.Concat(lives.FoundEntries).Concat(lives.RunningEntries).Where(e => e > 0)];
        Array.Sort(FailureAges);
        Array.Sort(_ends);
        Array.Sort(_entries);
    }

    /// <summary>Ages of all failures in ascending order, ties repeated.</summary>
    public double[] FailureAges { get; }

    /// <summary>Greatest age at which a part was seen; 0 for none.</summary>
    public double LastAge => _ends.Length == 0 ? 0 : _ends[^1];

    /// <summary>Parts at risk at an age.</summary>
    public int AtRisk(double age) => _ends.Length - Below(_ends, age) - (_entries.Length - Below(_entries, age));

    /// <summary>Distinct failure ages in ascending order with the failures at each.</summary>
    public IEnumerable<(double Age, int Failures)> FailureSteps()
    {
        for (int i = 0; i < FailureAges.Length;)
        {
            int first = i;
            while (i < FailureAges.Length && FailureAges[i] == FailureAges[first])
            {
                i++;
            }

            yield return (FailureAges[first], i - first);
        }
    }

    /// <summary>Least entry age from <paramref name="age"/> on; null when nobody enters so late.</summary>
    public double? NextEntryFrom(double age)
    {
        int at = Below(_entries, age);
        return at < _entries.Length ? _entries[at] : null;
    }

    /// <summary>Number of values in a sorted array that are below a limit.</summary>
    private static int Below(double[] sorted, double limit)
    {
        int low = 0, high = sorted.Length;
        while (low < high)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = sorted[middle] < limit ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
