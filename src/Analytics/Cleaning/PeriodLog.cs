using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Gathers what a clock tells into periods. Washes kept before their deadline wait for the period in which it lies.</summary>
internal sealed class PeriodLog : IObligationLog
{
    private readonly List<(long At, Cause Cause)> _changes = [];
    private readonly List<(long Deadline, ObligationResult Result)> _judged = [];
    private readonly List<long> _ends = [];
    private long? _lastBefore;
    private Cause _first;

    /// <summary>Begins with a period of which nothing is known yet.</summary>
    /// <param name="from">Its begin.</param>
    public PeriodLog(Instant from) => (From, _first) = (from, Cause.NoRule);

    /// <summary>Goes on with a period.</summary>
    /// <param name="open">The period; its end is not looked at.</param>
    public PeriodLog(PeriodData open)
    {
        _changes = Pairs(open.ChangedAt, open.ChangedTo);
        _judged = Pairs(open.Deadlines, open.Results);
        _ends = [.. open.WashEnds.AsSpan()];
        (From, _lastBefore, _first) = (Instant.FromUnixTimeTicks(open.From), open.LastWashBefore, open.FirstCause);
    }

    /// <summary>Begin of the period in course.</summary>
    public Instant From { get; private set; }

    /// <summary>The period in course with all that was told; its end is its begin.</summary>
    public PeriodData Open => Data(From, _changes, _judged, [.. _ends]);

    public void Kept(DueWash wash, Instant washEnd) => Judge(wash, ObligationResult.OnTime);

    public void NotKept(DueWash wash, bool unknown) => Judge(wash, unknown ? ObligationResult.Unknown : ObligationResult.Missed);

    public void ClosedLate(Instant washEnd) => _ends.Add(washEnd.ToUnixTimeTicks());

    public void Change(Instant at, Cause cause)
    {
        if (at <= From)
        {
            _first = cause;
        }
        else
        {
            _changes.Add((at.ToUnixTimeTicks(), cause));
        }
    }

    /// <summary>The period in course up to an instant; what was told of later instants is left out.</summary>
    /// <param name="to">The instant.</param>
    /// <param name="excused">Deadlines of washes that were due while the unit was out of service.</param>
    public CleaningPeriod PeriodTo(Instant to, IEnumerable<Instant> excused)
    {
        long end = to.ToUnixTimeTicks();
        return new CleaningPeriod(Data(
            to,
            [.. _changes.Where(change => change.At < end)],
            [.. _judged.Where(wash => wash.Deadline <= end), .. excused.Select(at => (at.ToUnixTimeTicks(), ObligationResult.Excused))],
            [.. _ends.Where(wash => wash <= end)]));
    }

    /// <summary>Begins the next period.</summary>
    /// <param name="at">Its begin, the end of the last one; nothing was told of later instants but washes kept ahead.</param>
    /// <param name="cause">Cause at it.</param>
    /// <param name="lastWash">End of the last wash that counts at or before it.</param>
    public void BeginNext(Instant at, Cause cause, Instant? lastWash)
    {
        long begin = at.ToUnixTimeTicks();
        _judged.RemoveAll(wash => wash.Deadline <= begin);
        _changes.Clear();
        _ends.Clear();
        (From, _first, _lastBefore) = (at, cause, lastWash?.ToUnixTimeTicks());
    }

    private void Judge(DueWash wash, ObligationResult result) => _judged.Add((wash.Deadline.ToUnixTimeTicks(), result));

    private static List<(long At, T What)> Pairs<T>(ArraySegment<long> at, ArraySegment<T> what)
    {
        var pairs = new List<(long, T)>(at.Count + 2);
        for (int i = 0; i < at.Count; i++)
        {
            pairs.Add((at[i], what[i]));
        }

        return pairs;
    }

    private static (long[] At, T[] What) Apart<T>(List<(long At, T What)> pairs)
    {
        (long[] at, T[] what) = (new long[pairs.Count], new T[pairs.Count]);
        for (int i = 0; i < at.Length; i++)
        {
            (at[i], what[i]) = pairs[i];
        }

        return (at, what);
    }

    private PeriodData Data(
        Instant to, List<(long At, Cause Cause)> changes, List<(long Deadline, ObligationResult Result)> judged, long[] ends)
    {
        (long[] changedAt, Cause[] changedTo) = Apart(changes);
        (long[] deadlines, ObligationResult[] results) = Apart(judged);
        return new PeriodData(From.ToUnixTimeTicks(), to.ToUnixTimeTicks(), _lastBefore, _first, changedAt, changedTo, deadlines, results, ends);
    }
}
