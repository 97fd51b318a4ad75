namespace Washwear.Analytics.Recurrence;

/// <summary>
/// What one unit went through while it was watched: from just after <see cref="From"/> up to and including <see cref="To"/>, with the
/// ages of its events. Age may be days in service, washes, or days since a fixed date (the calendar); all histories of one question are
/// on the same clock. A unit whose records began later has a <see cref="From"/> above 0 (late entry). Immutable.
/// </summary>
public sealed class EventHistory
{
    private readonly double[] _ages;

    /// <summary>Takes down a history.</summary>
    /// <param name="from">Age at which watching began, 0 or more.</param>
    /// <param name="to">Age at which watching ended, above <paramref name="from"/>.</param>
    /// <param name="ages">Ages of the events in ascending order, each above <paramref name="from"/> and at most <paramref name="to"/>;
    /// several events at one age all count. The list is copied.</param>
    /// <exception cref="ArgumentOutOfRangeException">An age is not finite, lies outside the watched stretch or is out of order.</exception>
    public EventHistory(double from, double to, IReadOnlyList<double> ages)
    {
        ArgumentNullException.ThrowIfNull(ages);
        Require(from >= 0 && double.IsFinite(from), nameof(from), from, "Watching begins at an age of 0 or more.");
        Require(to > from && double.IsFinite(to), nameof(to), to, "Watching ends after it began.");
        _ages = [.. ages];
        double last = from;
        foreach (double age in _ages)
        {
            Require(age > from && age <= to, nameof(ages), age, "An event lies after the begin of watching and not after its end.");
            Require(age >= last, nameof(ages), age, "Events are given in ascending order of age.");
            last = age;
        }

        From = from;
        To = to;
    }

    /// <summary>Age at which watching began, 0 or more; events at it do not belong to the history.</summary>
    public double From { get; }

    /// <summary>Age at which watching ended, above <see cref="From"/>; the unit is still at risk at it.</summary>
    public double To { get; }

    /// <summary>Ages of the events, ascending, ties repeated.</summary>
    public IReadOnlyList<double> Ages => _ages;

    /// <summary>Length of the watched stretch, above 0.</summary>
    public double Watched => To - From;

    internal ReadOnlySpan<double> Events => _ages;

    internal ReadOnlyMemory<double> EventMemory => _ages;

    /// <summary>The same unit watched for a stretch more.</summary>
    /// <param name="stretch">The stretch, 0 or more.</param>
    /// <param name="more">Ages of the events in it, ascending; the caller sees to it, as thousands of histories are drawn up to be judged.</param>
    internal EventHistory Extended(double stretch, IReadOnlyList<double> more) =>
        new(From, more.Count == 0 ? _ages : [.. _ages, .. more], To + stretch);

    private EventHistory(double from, double[] ages, double to) => (From, _ages, To) = (from, ages, to);

    private static void Require(bool holds, string name, double value, string rule)
    {
        if (!holds)
        {
            throw new ArgumentOutOfRangeException(name, value, rule);
        }
    }
}
