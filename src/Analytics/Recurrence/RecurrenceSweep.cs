namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Walks through the distinct event ages of many units in ascending order and tells at each who has come under watch, who has left and
/// who had events. A unit is at risk at age t when entry &lt; t &lt;= end. Takes time in proportion to units and events but for sorting.
/// </summary>
internal sealed class RecurrenceSweep
{
    private readonly double[] _ages;
    private readonly int[] _unitAt;
    private readonly double[] _entries;
    private readonly int[] _entering;
    private readonly double[] _ends;
    private readonly int[] _leaving;
    private Range _events = 0..0;
    private Range _entered = 0..0;
    private Range _left = 0..0;

    /// <summary>Prepares the walk.</summary>
    /// <param name="histories">The units.</param>
    /// <param name="fromAge">What happened up to this age is left aside.</param>
    public RecurrenceSweep(IReadOnlyList<EventHistory> histories, double fromAge)
    {
        int[] watched = [.. Enumerable.Range(0, histories.Count).Where(i => histories[i].To > fromAge)];
        _entering = [.. watched];
        _leaving = [.. watched];
        _entries = [.. watched.Select(i => Math.Max(histories[i].From, fromAge))];
        _ends = [.. watched.Select(i => histories[i].To)];
        Array.Sort(_entries, _entering);
        Array.Sort(_ends, _leaving);
        (_ages, _unitAt) = EventsOf(histories, watched, fromAge);
    }

    /// <summary>Units watched beyond the age from which the walk begins.</summary>
    public int Units => _entering.Length;

    /// <summary>All events of the walk.</summary>
    public int AllEvents => _ages.Length;

    /// <summary>Greatest age at which any unit was watched; null for no units.</summary>
    public double? LastAge => _ends.Length == 0 ? null : _ends[^1];

    /// <summary>The event age reached.</summary>
    public double Age { get; private set; }

    /// <summary>Units at risk at it, 1 or more.</summary>
    public int AtRisk { get; private set; }

    /// <summary>Units that had the events at this age, one entry an event, those of a unit side by side.</summary>
    public ReadOnlySpan<int> EventUnits => _unitAt.AsSpan(_events);

    /// <summary>Units that have come under watch since the age before; some may have left again.</summary>
    public ReadOnlySpan<int> Entered => _entering.AsSpan(_entered);

    /// <summary>Units that have left since the age before.</summary>
    public ReadOnlySpan<int> Left => _leaving.AsSpan(_left);

    /// <summary>Goes on to the next distinct event age; false when there is none.</summary>
    public bool Next()
    {
        int first = _events.End.Value;
        if (first == _ages.Length)
        {
            return false;
        }

        Age = _ages[first];
        int last = first + 1;
        while (last < _ages.Length && _ages[last] == Age)
        {
            last++;
        }

        _events = first..last;
        _entered = Passed(_entries, _entered.End.Value);
        _left = Passed(_ends, _left.End.Value);
        AtRisk = _entered.End.Value - _left.End.Value;
        return true;
    }

    /// <summary>Stretches from the beginning to the last age in which exactly so many units were watched.</summary>
    /// <param name="fromAge">Begin of the first stretch.</param>
    /// <param name="count">Number of units.</param>
    public IReadOnlyList<WatchedStretch> StretchesWith(double fromAge, int count)
    {
        var found = new List<WatchedStretch>();
        double at = fromAge;
        for (int entered = 0, left = 0; left < _ends.Length;)
        {
            double next = entered < _entries.Length ? Math.Min(_entries[entered], _ends[left]) : _ends[left];
            if (next > at && entered - left == count)
            {
                bool joins = found.Count > 0 && found[^1].To == at;
                WatchedStretch stretch = new(joins ? found[^1].From : at, next);
                found.RemoveRange(found.Count - (joins ? 1 : 0), joins ? 1 : 0);
                found.Add(stretch);
            }

            at = next;
            entered += entered < _entries.Length && _entries[entered] == next ? 1 : 0;
            left += _ends[left] == next ? 1 : 0;
        }

        return found;
    }

    private Range Passed(double[] sorted, int from)
    {
        int to = from;
        while (to < sorted.Length && sorted[to] < Age)
        {
            to++;
        }

        return from..to;
    }

    private static (double[] Ages, int[] Units) EventsOf(IReadOnlyList<EventHistory> histories, int[] watched, double fromAge)
    {
        double[] ages = new double[watched.Sum(i => histories[i].Events.Length)];
        int[] units = new int[ages.Length];
        int count = 0;
        foreach (int unit in watched)
        {
            foreach (double age in histories[unit].Events)
            {
                (ages[count], units[count]) = (age, unit);
                count += age > fromAge ? 1 : 0;
            }
        }

        (ages, units) = (ages[..count], units[..count]);
        Array.Sort(ages, units);
        SortTies(ages, units);
        return (ages, units);
    }

    /// <summary>Brings the events of one unit at one age together.</summary>
    private static void SortTies(double[] ages, int[] units)
    {
        for (int first = 0, next; first < ages.Length; first = next)
        {
            for (next = first + 1; next < ages.Length && ages[next] == ages[first];)
            {
                next++;
            }

            if (next - first > 1)
            {
                Array.Sort(units, first, next - first);
            }
        }
    }
}
