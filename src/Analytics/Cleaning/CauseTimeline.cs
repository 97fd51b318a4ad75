using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Charges every moment of a window to a cause and judges the washes that were due in it.</summary>
/// <remarks>
/// <para>Conventions, so that a stranger gets the same numbers. Instants are UTC and exact; the cause of a moment t is told from everything
/// at or before t; windows are half-open.</para>
/// <para>Days. Trading day D runs from the wall time at which trading days end on date D to the same wall time on D + 1; a skipped wall
/// time moves forward by the skip, a doubled one is the first. A day counts when its weekday is traded, it is no closure, the rule holds on
/// it, the unit is commissioned by it and its end is in service. Otherwise it asks for nothing.</para>
/// <para>A wash counts when it completed with a known end, at the rule's grade or a higher one, and nobody found detergent left. Washes are
/// taken in the order of their ends. Grace is elapsed time: deadline = due + grace, and a wash that ends at the deadline is on time.</para>
/// <para>Every N trading days. A wash is due at the end of the N-th day that counts after the day of the last wash that kept a period in
/// its course; those N days are its period. A wash that ends within due and deadline of open periods keeps the oldest of them and no other,
/// and leaves the course of days as it is. Else it keeps the period in course, if that has begun, and the next N days are counted from the
/// day in which the wash ended. Either way every period past its deadline is closed late. While nobody washes, the next N days make the
/// next period. A wash on a day that does not count stands for the last day that did.</para>
/// <para>Every N hours. A wash is due N elapsed hours after the end of the last one that counts, or after the begin of service, but not
/// before the rule holds. The hours run on while the site is closed or the unit out of service; if they run out then, the wash falls due
/// when that time ends, and not before. A deadline stands wherever it falls: a wash that fell due while the site was open is overdue from
/// its deadline on, and that time is charged to the closed site until it opens. While nobody washes, the next wash is due N hours after the
/// last due instant. In one gap between washes only the first wash due can be kept; a further one counts once its deadline has passed, and
/// one that is only due when a late wash comes is withdrawn. So a gap g of a rule (N, G) owes one wash if g is at most N + G, and it is
/// kept; else as many as there are whole k with k N + G below g, all of them late, or unknown. Washing more often than asked makes more
/// gaps, each kept.</para>
/// <para>Every N completed washes, or N operating hours. Counted since the last wash that counts for the rule: washes of the unit that
/// completed but do not count for it; rises from one meter reading to the next (a reading below the last one comes from a new counter and
/// adds nothing). The wash falls due at the event that takes the count to N, wherever that falls; further ones and gaps as for hours. A
/// wash before that restarts the count, and no due wash is recorded.</para>
/// <para>Overdue at t: some wash was due with its deadline at or before t, and none has kept or closed it. A wash not kept whose deadline
/// falls in silence is unknown: not due and never overdue. Under a rule for every trading day a day whose end is out of service is listed
/// as excused.</para>
/// <para>Silent: from the last sign of life (starts and ends of washes, refusals, faults raised and cleared, heartbeats, meters; the begin
/// of service where it is known) plus the reporting time on, until the next one. Before anything is known of a unit it is silent.</para>
/// <para>Cause, the first that applies: no rule; out of service; site closed; silent; in order (not overdue); being worked on; locked out;
/// else by the last attempt, if it lies in the period of the oldest overdue wash: stopped by a person, by a fault, refused (a lockout
/// nobody was asked to mend) or did not count. A wash that counted is no attempt that failed, and ends those before it. A refusal inside a
/// standing lockout is left out, and so is descaling under a rule that asks for a wash, and a wash under one that asks for descaling. A
/// lockout waits for what last happened since its oldest standing fault was raised: visit asked for (technician), left waiting for approval
/// or approval asked for (approval), left waiting for a part or approval granted (part), anything else or nothing (no visit asked
/// for).</para>
/// <para>Due and on time count washes with from &lt; deadline &lt;= to, unknown and excused left out. Time within the rule = in order /
/// (window less no rule, out of service, closed and silent). The worked cases of the tests (compliance.*) hold to the minute.</para>
/// </remarks>
public static class CauseTimeline
{
    /// <summary>What happened to one unit under one rule in a window.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records from the begin of its service on; those after the window's end are not looked at.</param>
    /// <param name="window">The window [from, to), with both ends and longer than nothing.</param>
    /// <exception cref="ArgumentException">The window has an open end or no length.</exception>
    public static CleaningTimeline Compute(CleaningRule rule, SiteCalendar calendar, UnitHistory history, Interval window)
    {
        if (!window.HasStart || !window.HasEnd || window.Duration == Duration.Zero)
        {
            throw new ArgumentException($"The window {window} must have a begin, an end and a length.", nameof(window));
        }

        RuleFrame frame = new(rule, calendar, history.Service);
        ObligationLog log = new();
        SpanBuilder spans = new(window);
        RuleClock clock = new(frame, RuleClockState.Begin(frame), log, spans.Change);
        IReadOnlyList<UnitEvent> events = UnitEvent.AllOf(history);
        int next = TakeUntil(clock, events, 0, window.Start);
        clock.PassTo(window.Start);
        TakeUntil(clock, events, next, window.End);
        clock.PassTo(window.End);

        Obligation[] due = [.. log.All.Concat(ExcusedDays.In(frame, clock.State.ServiceStart, window))
            .Where(o => o.Deadline > window.Start && o.Deadline <= window.End).OrderBy(o => o.Deadline)];
        IReadOnlyList<CauseSpan> all = spans.Finish();
        IReadOnlyList<WashGap> gaps = WashGaps.Of(frame, history.Washes, window);
        return new CleaningTimeline(window, all, due, gaps, Summary(all, due, gaps));
    }

    /// <summary>How the unit stands under the rule at one instant.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records, as in <see cref="Compute"/>; those after <paramref name="asOf"/> are not looked
    /// at.</param>
    /// <param name="asOf">The instant.</param>
    public static CleaningStatus At(CleaningRule rule, SiteCalendar calendar, UnitHistory history, Instant asOf)
    {
        RuleFrame frame = new(rule, calendar, history.Service);
        RuleClock clock = new(frame, RuleClockState.Begin(frame));
        TakeUntil(clock, UnitEvent.AllOf(history), 0, asOf);
        clock.PassTo(asOf);
        return clock.Status();
    }

    private static int TakeUntil(RuleClock clock, IReadOnlyList<UnitEvent> events, int from, Instant last)
    {
        int next = from;
        for (; next < events.Count && events[next].At <= last; next++)
        {
            clock.Take(events[next]);
        }

        return next;
    }

    private static CleaningSummary Summary(IReadOnlyList<CauseSpan> spans, Obligation[] due, IReadOnlyList<WashGap> gaps) => new(
        due.Count(o => o.IsJudged),
        due.Count(o => o.Result == ObligationResult.OnTime),
        due.Count(o => o.Result == ObligationResult.Unknown),
        due.Count(o => o.Result == ObligationResult.Excused),
        spans.GroupBy(s => s.Cause).ToDictionary(g => g.Key, g => g.Aggregate(Duration.Zero, (sum, s) => sum + s.Length)),
        gaps.MaxBy(g => g.Elapsed),
        gaps.MaxBy(g => g.InService));

    /// <summary>Turns changes of cause into spans of the window.</summary>
    private sealed class SpanBuilder(Interval window)
    {
        private readonly List<CauseSpan> _spans = [];
        private Instant _from = window.Start;
        private Cause _cause;

        public void Change(Instant at, Cause next)
        {
            if (at < window.End)
            {
                Close(at);
                _cause = next;
            }
        }

        public List<CauseSpan> Finish()
        {
            Close(window.End);
            return _spans;
        }

        private void Close(Instant at)
        {
            if (at > _from)
            {
                _spans.Add(new CauseSpan(_from, at, _cause));
                _from = at;
            }
        }
    }
}
