using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Charges every moment of a window to a cause and judges the washes that were due in it.</summary>
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

        Obligation[] due = [.. log.All.Concat(Excused(frame, clock.State.ServiceStart, window))
            .Where(o => o.Deadline > window.Start && o.Deadline <= window.End).OrderBy(o => o.Deadline)];
        IReadOnlyList<CauseSpan> all = spans.Finish();
        IReadOnlyList<WashGap> gaps = WashGaps.Of(frame, history.Washes, window);
        return new CleaningTimeline(window, all, due, gaps, Summary(all, due, gaps));
    }

    /// <summary>How the unit stands under the rule at one instant.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records; those after <paramref name="asOf"/> are not looked at.</param>
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

    /// <summary>Under a rule for every trading day, the days whose end fell out of service, listed though nothing was due (S7).</summary>
    private static IEnumerable<Obligation> Excused(RuleFrame frame, Instant? serviceStart, Interval window)
    {
        if (frame.Rule.Basis is not EveryTradingDays { Days: 1 } || serviceStart is not { } start)
        {
            yield break;
        }

        LocalDate first = LocalDate.Max(frame.FirstOwedDay(start), frame.Calendar.DayOf(window.Start - frame.Rule.Grace).Date.PlusDays(-1));
        for (TradingDay day = frame.Calendar.Day(first); day.End <= window.End; day = frame.Calendar.Day(day.Date.PlusDays(1)))
        {
            if (day.IsOpen && frame.OutOfService.Contains(day.End) && !(day.Date > frame.LastOwedDay))
            {
                yield return new Obligation(
                    day.Date, day.Start, day.End, day.End + frame.Rule.Grace, ObligationResult.Excused, null, null);
            }
        }
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

        public void Change(Instant at, Cause cause)
        {
            if (at < window.End)
            {
                Close(at);
                _cause = cause;
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
