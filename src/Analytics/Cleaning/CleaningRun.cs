using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A period that came to its end, and where the unit stood then.</summary>
/// <param name="Period">The period.</param>
/// <param name="Next">The run at the period's end, everything at or before that instant folded in; goes on from there.</param>
public sealed record ClosedPeriod(CleaningPeriod Period, CleaningRun Next);

/// <summary>A run after events were folded in.</summary>
/// <param name="Run">The run.</param>
/// <param name="Closed">Periods that ended on the way, in order.</param>
public sealed record FoldedRun(CleaningRun Run, IReadOnlyList<ClosedPeriod> Closed);

/// <summary>
/// One unit under one rule, event by event: where it stands after the events folded in so far, and what the period in course has come to.
/// Small and immutable; enough to fold in the next events, to tell the state at any later instant, and to count any window that begins in
/// the period in course or later, without reading the records before. Folding costs the same however long the history is (plus the trading
/// days passed since the last event). Holds for the rule, calendar and service it was begun with: when one of these changes, begin anew.
/// </summary>
public sealed class CleaningRun
{
    private readonly RuleFrame _frame;
    private readonly Duration _length;
    private readonly RuleClockState _state;
    private readonly PeriodData? _open;

    private CleaningRun(RuleFrame frame, Duration length, RuleClockState state, PeriodData? open) =>
        (_frame, _length, _state, _open) = (frame, length, state, open);

    /// <summary>Where the counting of periods begins.</summary>
    internal static Instant FirstMonday { get; } = Instant.FromUtc(1970, 1, 5, 0, 0);

    /// <summary>The rule.</summary>
    public CleaningRule Rule => _frame.Rule;

    /// <summary>Instant of the last event folded in; null before the first.</summary>
    public Instant? FoldedTo => _state.Now;

    /// <summary>Begin of the period in course; null before the first event.</summary>
    public Instant? PeriodFrom => _open is { } open ? Instant.FromUnixTimeTicks(open.From) : null;

    /// <summary>First instant in service, if the registry tells; before it nothing is owed.</summary>
    public Instant? Commissioned => _frame.Commissioned;

    /// <summary>Stretch in which the rule holds; its ends are open where the rule has no validity date.</summary>
    public Interval Validity => new(_frame.RuleFrom, _frame.RuleTo);

    /// <summary>Before any event.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="service">Reporting time, commissioning, stretches out of service.</param>
    /// <param name="periodLength">Length of a period; periods begin at whole multiples of it from Monday, 5 January 1970, 00:00 UTC.</param>
    public static CleaningRun Begin(CleaningRule rule, SiteCalendar calendar, UnitService service, Duration periodLength)
    {
        RuleFrame frame = new(rule, calendar, service);
        return new CleaningRun(frame, periodLength, RuleClockState.Begin(frame), null);
    }

    /// <summary>A run from its bytes, with the same terms that it was begun with.</summary>
    /// <param name="reader">The bytes.</param>
    /// <param name="terms">A run with the same terms, such as the one before any event.</param>
    internal static CleaningRun Read(ref CompactReader reader, CleaningRun terms)
    {
        RuleClockState state = RuleClockCodec.Read(ref reader);
        bool open = reader.Number() != 0;
        return new CleaningRun(terms._frame, terms._length, state, open ? new PeriodBuffer().Read(ref reader) : null);
    }

    internal void Write(CompactWriter writer)
    {
        RuleClockCodec.Write(writer, _state);
        writer.Number(_open is null ? 0 : 1);
        _open?.Write(writer);
    }

    /// <summary>The last begin of a period before an instant.</summary>
    /// <param name="at">The instant.</param>
    /// <param name="length">Length of a period.</param>
    public static Instant PeriodBegin(Instant at, Duration length)
    {
        long ticks = (at - FirstMonday).BclCompatibleTicks;
        long each = length.BclCompatibleTicks;
        long after = (((ticks - 1) % each) + each) % each;
        return FirstMonday + Duration.FromTicks(ticks - 1 - after);
    }

    /// <summary>
    /// Folds events in. Null, and nothing changed, when one lies before those folded in and may change what they led to: then begin anew
    /// from the end of an earlier period, with all the records since. A sign of life that comes late but changes nothing is folded in.
    /// </summary>
    /// <param name="events">New events in the order of <see cref="UnitEvent.Compare"/>; a wash that ended gives its start, as a sign of
    /// life, and its end.</param>
    public FoldedRun? Fold(IReadOnlyList<UnitEvent> events)
    {
        if (events.Count == 0)
        {
            return new FoldedRun(this, []);
        }

        PeriodLog log = new(_open ?? Opened(events[0].At));
        RuleClock clock = new(_frame, _state, log, log.Change);
        List<ClosedPeriod> closed = [];
        Instant? folded = FoldedTo;
        foreach (UnitEvent happened in events)
        {
            if (happened.At <= folded)
            {
                if (happened is not Heard || happened.At <= log.From || !clock.HearLate(happened.At))
                {
                    return null;
                }

                continue;
            }

            CloseBefore(happened.At, clock, log, closed);
            clock.Take(happened);
        }

        return new FoldedRun(new CleaningRun(_frame, _length, clock.State, log.Open), closed);
    }

    /// <summary>How the unit stands at an instant, when nothing happens between the last event folded in and then.</summary>
    /// <param name="asOf">The instant, not before <see cref="FoldedTo"/>.</param>
    /// <returns>The state, and until when it holds if nothing happens; only what is overdue grows until then.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The instant lies before the last event folded in.</exception>
    public (CleaningStatus Status, Instant HoldsUntil) At(Instant asOf)
    {
        if (asOf < FoldedTo)
        {
            throw new ArgumentOutOfRangeException(nameof(asOf), asOf, $"Events up to {FoldedTo} are folded in: what held before is gone.");
        }

        RuleClock clock = new(_frame, _state);
        clock.PassTo(asOf);
        return (clock.Status(), clock.HoldsUntil());
    }

    /// <summary>The period in course, gone on to an instant with what is known.</summary>
    /// <param name="to">The instant, after <see cref="PeriodFrom"/>; later ones of what is known are left out.</param>
    /// <returns>It in two parts: what is known, and what follows when nothing happens.</returns>
    public IEnumerable<CleaningPeriod> PeriodTo(Instant to)
    {
        PeriodData open = _open ?? Opened(to);
        Instant from = Instant.FromUnixTimeTicks(open.From);
        Instant known = _state.Now is { } now ? Instant.Min(now, to) : from;
        Instant[] excused = [.. Excused(from, to, _state.ServiceStart)];
        if (known > from)
        {
            yield return new CleaningPeriod(open.KnownTo(known, excused));
            excused = [];
        }

        if (!(to < _state.Now))
        {
            PeriodLog log = new(open.From < known.ToUnixTimeTicks() ? open.After(known) : open);
            new RuleClock(_frame, _state, log, log.Change).PassTo(to);
            yield return log.PeriodTo(to, excused);
        }
    }

    /// <summary>A stretch before the first event and before the begin of service, in which nothing was owed.</summary>
    /// <param name="from">Its begin.</param>
    /// <param name="to">Its end.</param>
    public CleaningPeriod Before(Instant from, Instant to)
    {
        RuleClockState state = RuleClockState.Begin(_frame);
        PeriodLog log = new(from);
        RuleClock clock = new(_frame, state, log, log.Change);
        clock.PassTo(from);
        clock.PassTo(to);
        return log.PeriodTo(to, []);
    }

    /// <summary>The first period: the one in which service or the records begin.</summary>
    private PeriodData Opened(Instant firstEvent)
    {
        Instant first = _frame.Commissioned is { } service ? Instant.Min(service, firstEvent) : firstEvent;
        Instant from = PeriodBegin(first, _length);
        return Before(from, first).Data;
    }

    private void CloseBefore(Instant at, RuleClock clock, PeriodLog log, List<ClosedPeriod> closed)
    {
        for (Instant end = log.From + _length; end < at; end += _length)
        {
            clock.PassTo(end);
            RuleClockState state = clock.State;
            CleaningPeriod period = log.PeriodTo(end, Excused(log.From, end, state.ServiceStart));
            log.BeginNext(end, state.Cause!.Value, state.Unit.LastCountedWashEnd);
            closed.Add(new ClosedPeriod(period, new CleaningRun(_frame, _length, state, log.Open)));
        }
    }

    private IEnumerable<Instant> Excused(Instant from, Instant to, Instant? serviceStart) =>
        ExcusedDays.In(_frame, serviceStart, new Interval(from, to))
            .Select(excused => excused.Deadline)
            .Where(deadline => deadline > from && deadline <= to);
}
