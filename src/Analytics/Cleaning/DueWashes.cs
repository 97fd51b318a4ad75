using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Told of every judgement as it falls.</summary>
internal interface IObligationLog
{
    void Kept(DueWash wash, Instant washEnd);

    void NotKept(DueWash wash, bool unknown);

    void ClosedLate(Instant washEnd);
}

/// <summary>What is open at an instant: enough to go on from there.</summary>
/// <param name="OldestOverdue">The oldest wash past its deadline that no wash has closed.</param>
/// <param name="Missed">Whether a deadline has passed since the last wash that counts, also one that passed in silence.</param>
/// <param name="Pending">Open washes whose deadline has not passed, oldest first; the last of them is not yet due, unless none follows
/// it.</param>
/// <param name="Counter">What a counter has gathered towards the next wash due; zero when only time counts.</param>
internal sealed record OpenWashes(DueWash? OldestOverdue, bool Missed, IReadOnlyList<DueWash> Pending, Counter Counter);

/// <summary>A counter of washes or operating hours.</summary>
/// <param name="Since">When the period of the wash in course began.</param>
/// <param name="Gathered">What was counted since.</param>
/// <param name="LastReading">Last meter reading; null before the first.</param>
internal readonly record struct Counter(Instant Since, double Gathered, double? LastReading);

/// <summary>
/// Credits washes to obligations (S5 to S7). The caller moves time forward and, at one instant, reports signs of life and washes before it
/// asks for the judgement of the deadlines at that very instant.
/// </summary>
internal sealed class DueWashes(IDueSchedule schedule, OpenWashes open, IObligationLog? log)
{
    private readonly List<DueWash> _pending = [.. open.Pending];
    private Counter _counter = open.Counter;
    private bool _missed = open.Missed;

    public DueWash? OldestOverdue { get; private set; } = open.OldestOverdue;

    public DueWash? OldestOpen => OldestOverdue ?? (_pending.Count > 0 ? _pending[0] : null);

    /// <summary>The next deadline to come, or the far future.</summary>
    public Instant NextDeadline => _pending.Count > 0 ? _pending[0].Deadline : Instant.MaxValue;

    public OpenWashes Open => new(OldestOverdue, _missed, [.. _pending], _counter);

    public static OpenWashes Begin(IDueSchedule schedule, Instant serviceStart) =>
        new(null, false, schedule.First() is { } first ? [first] : [], new Counter(serviceStart, 0, null));

    /// <summary>Judges every deadline up to <paramref name="at"/>, that instant included.</summary>
    /// <param name="at">Not before the last call.</param>
    /// <param name="isSilent">Whether the unit is silent at a deadline.</param>
    public void Judge(Instant at, Func<Instant, bool> isSilent)
    {
        LetFallDue(at);
        while (_pending.Count > 0 && _pending[0].Deadline <= at)
        {
            DueWash passed = _pending[0];
            _pending.RemoveAt(0);
            bool unknown = isSilent(passed.Deadline);
            log?.NotKept(passed, unknown);
            OldestOverdue ??= unknown ? null : passed;
            _missed = true;
        }
    }

    /// <summary>A wash that counts ended. Deadlines before it have been judged.</summary>
    /// <param name="end">End of the wash.</param>
    public void Wash(Instant end)
    {
        LetFallDue(end);
        if (schedule.RestartsAtEveryWash)
        {
            RestartAt(end);
        }
        else
        {
            CreditTo(end);
        }

        log?.ClosedLate(end);
        OldestOverdue = null;
        _missed = false;
        _counter = _counter with { Since = Instant.Max(end, _counter.Since), Gathered = 0 };
    }

    /// <summary>The unit completed a wash that does not count, or its meter rose.</summary>
    /// <param name="at">When that was known.</param>
    /// <param name="amount">What to add to the counter, 0 or more.</param>
    public void Count(Instant at, double amount)
    {
        _counter = _counter with { Gathered = _counter.Gathered + amount };
        if (schedule.CounterStep is { } step && _counter.Gathered >= step && schedule.Holds(at))
        {
            _pending.Add(schedule.At(_counter.Since, at));
            _counter = _counter with { Since = at, Gathered = _counter.Gathered % step };
        }
    }

    /// <summary>A meter was read; a reading below the last one comes from a new counter and adds nothing.</summary>
    /// <param name="at">When it was read.</param>
    /// <param name="reading">What it showed.</param>
    public void Read(Instant at, double reading)
    {
        double rise = Math.Max(0, reading - (_counter.LastReading ?? reading));
        _counter = _counter with { LastReading = reading };
        Count(at, rise);
    }

    /// <summary>Adds the washes that follow those due by <paramref name="at"/>, so that the last one is still in course.</summary>
    private void LetFallDue(Instant at)
    {
        while (_pending.Count > 0 && _pending[^1].Due <= at && schedule.After(_pending[^1]) is { } next)
        {
            _pending.Add(next);
        }
    }

    private void RestartAt(Instant end)
    {
        // Only the first wash due in a gap can be kept. Once its deadline has passed, be it in silence, the wash in course is withdrawn, not kept.
        if (!_missed && _pending.Count > 0 && schedule.Holds(end))
        {
            log?.Kept(_pending[0], end);
        }

        ReplacePending(schedule.AfterWash(end));
    }

    private void CreditTo(Instant end)
    {
        if (_pending.Count == 0 || _pending[0].Start > end)
        {
            return;
        }

        log?.Kept(_pending[0], end);
        if (_pending[0].Due <= end)
        {
            _pending.RemoveAt(0);
        }
        else
        {
            ReplacePending(schedule.AfterWash(end));
        }
    }

    private void ReplacePending(DueWash? next)
    {
        _pending.Clear();
        if (next is { } wash)
        {
            _pending.Add(wash);
        }
    }
}
