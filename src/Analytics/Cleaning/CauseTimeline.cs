using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Charges every moment of a window to a cause and judges the washes that were due in it.</summary>
public static class CauseTimeline
{
    /// <summary>What happened to one unit under one rule in a window.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records from the begin of its service on, or from the checkpoint on (records at or before it may be
    /// there too); those after the window's end are not looked at.</param>
    /// <param name="window">The window [from, to), with both ends and longer than nothing.</param>
    /// <param name="from">Where to go on from, at or before the window's begin; null = from the begin of service.</param>
    /// <exception cref="ArgumentException">The window has an open end or no length, or begins before the checkpoint.</exception>
    public static CleaningTimeline Compute(
        CleaningRule rule, SiteCalendar calendar, UnitHistory history, Interval window, CleaningCheckpoint? from = null)
    {
        if (!window.HasStart || !window.HasEnd || window.Duration == Duration.Zero)
        {
            throw new ArgumentException($"The window {window} must have a begin, an end and a length.", nameof(window));
        }

        if (from is not null && from.At > window.Start)
        {
            throw new ArgumentException($"The window {window} begins before the checkpoint of {from.At}.", nameof(from));
        }

        RuleFrame frame = new(rule, calendar, history.Service);
        ObligationLog log = new(from?.KeptAhead ?? []);
        SpanBuilder spans = new(window, from?.State.Cause ?? default);
        RuleClock clock = new(frame, from?.State ?? RuleClockState.Begin(frame), log, spans.Change);
        IReadOnlyList<UnitEvent> events = UnitEvent.AllOf(history);
        int next = TakeUntil(clock, events, FirstAfter(events, from), window.Start);
        clock.PassTo(window.Start);
        TakeUntil(clock, events, next, window.End);
        clock.PassTo(window.End);

        Obligation[] due = [.. log.All.Concat(Excused(frame, clock.State.ServiceStart, window))
            .Where(o => o.Deadline > window.Start && o.Deadline <= window.End).OrderBy(o => o.Deadline)];
        IReadOnlyList<CauseSpan> all = spans.Finish();
        IReadOnlyList<WashGap> gaps = WashGaps.Of(frame, history.Washes, window, from?.State.Unit.LastCountedWashEnd);
        return new CleaningTimeline(window, all, due, gaps, Summary(all, due, gaps));
    }

    /// <summary>How the unit stands under the rule at one instant.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records, as in <see cref="Compute"/>; those after <paramref name="asOf"/> are not looked at.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="from">Where to go on from, at or before the instant; null = from the begin of service.</param>
    /// <exception cref="ArgumentException">The instant lies before the checkpoint.</exception>
    public static CleaningStatus At(
        CleaningRule rule, SiteCalendar calendar, UnitHistory history, Instant asOf, CleaningCheckpoint? from = null) =>
        ClockAt(rule, calendar, history, asOf, from, null).Status();

    /// <summary>Where the unit stands after everything up to one instant, to go on from later.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records, as in <see cref="Compute"/>.</param>
    /// <param name="at">The instant.</param>
    /// <param name="from">Where to go on from, at or before the instant; null = from the begin of service.</param>
    /// <exception cref="ArgumentException">The instant lies before the checkpoint to go on from.</exception>
    public static CleaningCheckpoint Checkpoint(
        CleaningRule rule, SiteCalendar calendar, UnitHistory history, Instant at, CleaningCheckpoint? from = null)
    {
        ObligationLog log = new(from?.KeptAhead ?? []);
        RuleClockState state = ClockAt(rule, calendar, history, at, from, log).State;
        return new CleaningCheckpoint(at, state, [.. log.All.Where(o => o.Deadline > at)]);
    }

    private static RuleClock ClockAt(
        CleaningRule rule, SiteCalendar calendar, UnitHistory history, Instant at, CleaningCheckpoint? from, IObligationLog? log)
    {
        if (from is not null && from.At > at)
        {
            throw new ArgumentException($"The instant {at} lies before the checkpoint of {from.At}.", nameof(from));
        }

        RuleFrame frame = new(rule, calendar, history.Service);
        RuleClock clock = new(frame, from?.State ?? RuleClockState.Begin(frame), log);
        IReadOnlyList<UnitEvent> events = UnitEvent.AllOf(history);
        TakeUntil(clock, events, FirstAfter(events, from), at);
        clock.PassTo(at);
        return clock;
    }

    private static int FirstAfter(IReadOnlyList<UnitEvent> events, CleaningCheckpoint? from)
    {
        int first = 0;
        while (from is not null && first < events.Count && events[first].At <= from.At)
        {
            first++;
        }

        return first;
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
    private sealed class SpanBuilder(Interval window, Cause cause)
    {
        private readonly List<CauseSpan> _spans = [];
        private Instant _from = window.Start;
        private Cause _cause = cause;

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
