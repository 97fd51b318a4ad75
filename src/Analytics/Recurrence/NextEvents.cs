namespace Washwear.Analytics.Recurrence;

/// <summary>Histories as they would be after a stretch of further watching with a number of events.</summary>
internal sealed class NextEvents
{
    private const int LeastLookedAt = 100;
    private const int MostLookedAt = 1_000_000;
    private const int TimesSeen = 20;

    private readonly IReadOnlyList<EventHistory> _histories;
    private readonly int[] _on;

    public NextEvents(IReadOnlyList<EventHistory> histories, TrendOptions options)
    {
        _histories = histories;
        double last = histories.Count == 0 ? 0 : histories.Max(h => h.To);
        _on = [.. Enumerable.Range(0, histories.Count).Where(i => options.WatchedOn?[i] ?? histories[i].To == last)];
        Events = histories.Sum(h => h.Ages.Count);
        MostEvents = (int)Math.Clamp((long)TimesSeen * Events, LeastLookedAt, MostLookedAt);
        LongestQuiet = histories.Count == 0 ? 0 : 2 * histories.Max(h => h.Watched);
    }

    /// <summary>The histories as they are.</summary>
    public IReadOnlyList<EventHistory> Now => _histories;

    /// <summary>Events in them.</summary>
    public int Events { get; }

    /// <summary>Units watched on.</summary>
    public int WatchedOn => _on.Length;

    /// <summary>Most events to try.</summary>
    public int MostEvents { get; }

    /// <summary>Longest stretch without events to try unless told otherwise.</summary>
    public double LongestQuiet { get; }

    /// <summary>
    /// The histories with a stretch more, in which event j of n falls at (j - 1/2)/n of the stretch; events go to units evenly spaced in
    /// the list, or in turn where there are more events than units.
    /// </summary>
    public IReadOnlyList<EventHistory> With(double stretch, int events)
    {
        var added = new Dictionary<int, List<double>>();
        for (int j = 0; j < events; j++)
        {
            int unit = _on[events > _on.Length ? j % _on.Length : (int)(((2L * j) + 1) * _on.Length / (2L * events))];
            double age = _histories[unit].To + (stretch * ((2.0 * j) + 1) / (2.0 * events));
            (added.TryGetValue(unit, out List<double>? own) ? own : added[unit] = []).Add(age);
        }

        EventHistory[] next = [.. _histories];
        foreach (int unit in _on)
        {
            next[unit] = _histories[unit].Extended(stretch, added.TryGetValue(unit, out List<double>? own) ? own : []);
        }

        return next;
    }
}
