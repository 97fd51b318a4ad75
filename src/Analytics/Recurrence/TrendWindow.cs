namespace Washwear.Analytics.Recurrence;

/// <summary>The window of a unit with events, as a test for trend sees it.</summary>
/// <param name="From">Begin of the window.</param>
/// <param name="To">End of the window.</param>
/// <param name="Ages">Ages of the events that count, one or more.</param>
/// <param name="Late">1 where watching began above age 0, else 0.</param>
internal readonly record struct TrendWindow(double From, double To, ReadOnlyMemory<double> Ages, int Late)
{
    /// <summary>Length of the window.</summary>
    public double Length => To - From;

    /// <summary>Windows of the units that have an event that counts.</summary>
    /// <exception cref="ArgumentException">Records that ended at an event go on beyond their last one.</exception>
    public static IEnumerable<TrendWindow> Of(IReadOnlyList<EventHistory> histories, RecordEnd end)
    {
        ArgumentNullException.ThrowIfNull(histories);
        foreach (EventHistory history in histories)
        {
            ReadOnlyMemory<double> ages = history.EventMemory;
            if (end == RecordEnd.AtEvent && ages.Length > 0)
            {
                RequireEndsAtEvent(history);
                ages = ages[..^1];
            }

            if (ages.Length > 0)
            {
                yield return new TrendWindow(history.From, history.To, ages, history.From > 0 ? 1 : 0);
            }
        }
    }

    /// <summary>Sum over the events of their distance from the middle of the window, positive for later.</summary>
    public double FromMiddle()
    {
        double sum = 0, middle = From + (Length / 2);
        foreach (double age in Ages.Span)
        {
            sum += age - middle;
        }

        return sum;
    }

    /// <summary>Refuses a record said to have ended at an event that did not.</summary>
    /// <exception cref="ArgumentException">The record goes on beyond its last event.</exception>
    public static void RequireEndsAtEvent(EventHistory history)
    {
        if (history.Ages.Count == 0 || history.Ages[^1] != history.To)
        {
            throw new ArgumentException("A record that ended at an event ends at its last one.", nameof(history));
        }
    }
}
