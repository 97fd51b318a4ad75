using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Told of every change of cause, in order of time.</summary>
internal delegate void CauseChanged(Instant at, Cause cause);

/// <summary>Where a <see cref="RuleClock"/> stands: all that it needs to go on, whatever came before.</summary>
/// <param name="Now">Instant up to which time has passed; null before the first event.</param>
/// <param name="ServiceStart">Begin of service; null while unknown.</param>
/// <param name="Unit">What the events say apart from due washes.</param>
/// <param name="Open">Open washes; null before the begin of service is known.</param>
/// <param name="Cause">Cause in force just before <paramref name="Now"/>; null before the first event.</param>
/// <param name="Since">Since when it has been; null before the first event.</param>
/// <param name="SilenceEndedAt">End of the last silence that is over; null when there was none.</param>
internal sealed record RuleClockState(
    Instant? Now, Instant? ServiceStart, UnitWorkState Unit, OpenWashes? Open, Cause? Cause, Instant? Since, Instant? SilenceEndedAt)
{
    public static RuleClockState Begin(RuleFrame frame)
    {
        Instant? start = frame.Commissioned;
        OpenWashes? open = start is { } known ? DueWashes.Begin(frame.Schedule(known), known) : null;
        return new RuleClockState(null, start, UnitWorkState.Begin(start), open, null, null, null);
    }
}

/// <summary>
/// One unit under one rule, moved through its events in the order of <see cref="UnitEvent.Compare"/>. Between events it stops wherever the
/// mere passing of time changes something: a deadline, the begin of silence, the ends of trading days, of service and of the rule.
/// </summary>
internal sealed class RuleClock
{
    private readonly RuleFrame _frame;
    private readonly CauseChanged? _changed;
    private readonly IObligationLog? _log;
    private readonly Func<Instant, bool> _isSilent;
    private RuleClockState _state;
    private DueWashes? _due;
    private TradingDay _day;

    public RuleClock(RuleFrame frame, RuleClockState from, IObligationLog? log = null, CauseChanged? changed = null)
    {
        (_frame, _state, _log, _changed) = (frame, from, log, changed);
        _isSilent = IsSilent;
        _due = from is { ServiceStart: { } start, Open: { } open } ? new DueWashes(frame.Schedule(start), open, log) : null;
    }

    public RuleClockState State => _state with { Open = _due?.Open };

    /// <summary>Takes one event. Time may not run backwards.</summary>
    public void Take(UnitEvent happened)
    {
        RunTo(happened.At);
        if (happened.IsSignOfLife)
        {
            HearAt(happened.At);
        }

        _state = _state with { Now = happened.At, Unit = _state.Unit.With(happened, _frame.Rule.Grade) };
        Judge(happened);
    }

    /// <summary>
    /// Takes a sign of life that lies before the events taken last, such as the start of a wash that is known only at its end. Answers
    /// false, and changes nothing, where it would have changed what has been told since: then everything must be computed afresh.
    /// </summary>
    public bool HearLate(Instant at)
    {
        if (_state is not { Now: { } now, ServiceStart: { } start, Unit.LastHeardAt: { } last } || start > at || _state.SilenceEndedAt > at)
        {
            return false;
        }

        bool unheardSince = at > last && _frame.Service.ReportingTime is { } reporting && last + reporting <= now;
        if (!unheardSince)
        {
            _state = _state with { Unit = _state.Unit.HeardBy(at) };
        }

        return !unheardSince;
    }

    /// <summary>Lets time pass up to an instant, judging that instant too: no event at it may follow.</summary>
    public void PassTo(Instant at)
    {
        RunTo(at);
        Settle(at);
        _state = _state with { Now = at };
    }

    /// <summary>How the unit stands at the instant up to which time has passed.</summary>
    public CleaningStatus Status()
    {
        (Instant now, Cause cause) = (_state.Now!.Value, _state.Cause!.Value);
        UnitWorkState unit = _state.Unit;
        DueWash? open = _due?.OldestOpen;
        bool refused = unit.LastAttempt is { Counted: false, Outcome: WashOutcome.Refused };
        Cause? lockout = unit.WaitsFor() ?? (refused ? Cause.LockoutNoVisitAsked : null);
        lockout = lockout is not null && unit.OnSite > 0 ? Cause.BeingWorkedOn : lockout;
        CleaningState state = cause switch
        {
            Cause.OutOfService or Cause.NoRule => CleaningState.OutOfService,
            Cause.SiteClosed => CleaningState.Closed,
            Cause.Silent => CleaningState.Silent,
            _ when lockout is not null => CleaningState.LockedOut,
            _ when cause.IsOverdue() => CleaningState.Overdue,
            _ => open is { } next && next.Due <= now ? CleaningState.Due : CleaningState.Clean,
        };
        Duration overdue = open is { } wash && wash.Deadline <= now ? now - wash.Deadline : Duration.Zero;
        Instant? since = cause == Cause.Silent && unit.LastHeardAt is null ? null : _state.Since;
        return new CleaningStatus(
            now, state, cause, since, lockout, unit.LockedOutSince, unit.LastCountedWashEnd, open?.Due, open?.Deadline, overdue, unit.LastHeardAt,
            unit.RanItselfAt > unit.LockedOutSince);
    }

    /// <summary>Until when the state just told holds if nothing happens: the next stop, or the next wash that falls due.</summary>
    public Instant HoldsUntil()
    {
        Instant now = _state.Now!.Value;
        Instant next = NextStop(now);
        foreach (DueWash wash in _due?.Open.Pending ?? [])
        {
            next = wash.Due > now ? Instant.Min(next, wash.Due) : next;
        }

        return next;
    }

    /// <summary>Whether the unit is silent at an instant, by what has been heard so far (S7).</summary>
    private bool IsSilent(Instant at) => _state.Unit.LastHeardAt is not { } heard
        || (_frame.Service.ReportingTime is { } reporting && at >= heard + reporting);

    private void Judge(UnitEvent happened)
    {
        DueBasis basis = _frame.Rule.Basis;
        if (happened is WashDecided { Wash: var wash } && wash.CountsFor(_frame.Rule.Grade))
        {
            _due?.Wash(wash.DecidedAt);
        }
        else if (basis is EveryWashes && happened is WashDecided { Wash: { Outcome: WashOutcome.Completed, AttestedBy: null } })
        {
            _due?.Count(happened.At, 1);
        }
        else if (basis is EveryOperatingHours && happened is MeterRead meter)
        {
            _due?.Read(meter.At, meter.OperatingHours);
        }
    }

    private void HearAt(Instant at)
    {
        if (_due is null)
        {
            IDueSchedule schedule = _frame.Schedule(at);
            _state = _state with { ServiceStart = at };
            _due = new DueWashes(schedule, DueWashes.Begin(schedule, at), _log);
        }

        if (_state.Unit.LastHeardAt is { } last && _frame.Service.ReportingTime is { } reporting && last + reporting < at)
        {
            _state = _state with { SilenceEndedAt = at };
        }
    }

    /// <summary>Settles every stop from now on that lies before <paramref name="to"/>; that instant's own events may still come.</summary>
    private void RunTo(Instant to)
    {
        Instant start = _state.ServiceStart is { } service ? Instant.Min(service, to) : to;
        for (Instant at = _state.Now ?? start; at < to; at = NextStop(at))
        {
            Settle(at);
        }
    }

    private void Settle(Instant at)
    {
        _due?.Judge(at, _isSilent);
        Cause cause = CauseAt(at);
        if (cause != _state.Cause)
        {
            _changed?.Invoke(at, cause);
            _state = _state with { Cause = cause, Since = at };
        }
    }

    private Cause CauseAt(Instant at)
    {
        if (at < _frame.RuleFrom || at >= _frame.RuleTo)
        {
            return Cause.NoRule;
        }

        return _frame.OutOfService.Contains(at) ? Cause.OutOfService
            : !DayAt(at).IsOpen ? Cause.SiteClosed
            : IsSilent(at) ? Cause.Silent
            : _due?.OldestOverdue is { } oldest ? _state.Unit.OverdueCause(oldest.Start)
            : Cause.InOrder;
    }

    private TradingDay DayAt(Instant at)
    {
        if (at == _day.End && _day.End > _day.Start)
        {
            _day = _frame.Calendar.Day(_day.Date.PlusDays(1));
        }

        if (at < _day.Start || at >= _day.End)
        {
            _day = _frame.Calendar.DayOf(at);
        }

        return _day;
    }

    private Instant NextStop(Instant after)
    {
        Instant next = Instant.Min(DayAt(after).End, _frame.OutOfService.NextChangeAfter(after));
        next = Instant.Min(next, _due?.NextDeadline is { } deadline && deadline > after ? deadline : Instant.MaxValue);
        if (_state.Unit.LastHeardAt is { } heard && _frame.Service.ReportingTime is { } reporting && heard + reporting > after)
        {
            next = Instant.Min(next, heard + reporting);
        }

        return next;
    }
}
