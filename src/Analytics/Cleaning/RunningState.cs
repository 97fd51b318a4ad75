using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Where one unit stands under one rule after the events folded in so far: small, immutable, and enough to fold in the next event or to
/// tell the state at any later instant without reading the records before. Folding costs the same however long the history is (plus the
/// trading days passed since the last event). Holds for the rule, calendar and service it was begun with: when one of these changes,
/// compute it afresh.
/// </summary>
public sealed class RunningState
{
    private readonly RuleFrame _frame;
    private readonly RuleClockState _state;
    private readonly UnitEvent? _last;

    private RunningState(RuleFrame frame, RuleClockState state, UnitEvent? last) => (_frame, _state, _last) = (frame, state, last);

    /// <summary>Instant of the last event folded in; null before the first.</summary>
    public Instant? FoldedTo => _state.Now;

    /// <summary>Before any event.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="service">Reporting time, commissioning, stretches out of service.</param>
    public static RunningState Begin(CleaningRule rule, SiteCalendar calendar, UnitService service)
    {
        RuleFrame frame = new(rule, calendar, service);
        return new RunningState(frame, RuleClockState.Begin(frame), null);
    }

    /// <summary>After all events of a history up to an instant, from scratch.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="history">The unit's records, complete from the begin of its service on.</param>
    /// <param name="last">Events after it are not looked at.</param>
    public static RunningState After(CleaningRule rule, SiteCalendar calendar, UnitHistory history, Instant last)
    {
        RuleFrame frame = new(rule, calendar, history.Service);
        RuleClock clock = new(frame, RuleClockState.Begin(frame));
        UnitEvent? taken = null;
        foreach (UnitEvent happened in UnitEvent.AllOf(history).TakeWhile(e => e.At <= last))
        {
            clock.Take(happened);
            taken = happened;
        }

        return new RunningState(frame, clock.State, taken);
    }

    /// <summary>
    /// Folds one event in. A wash is folded once, when its end is known; its start need not be folded apart. Null when the event lies
    /// before those folded in and may change what they led to: then the state must be computed afresh from the records (<see
    /// cref="After"/>).
    /// </summary>
    /// <param name="happened">The event, not folded in before; <see cref="After"/> has taken all events of its last instant.</param>
    public RunningState? Fold(UnitEvent happened)
    {
        if (_last is not null && UnitEvent.Compare(happened, _last) < 0)
        {
            return null;
        }

        RuleClock clock = new(_frame, _state);
        if (happened is WashDecided { Wash.StartedAt: var start } && start < happened.At && !HearStart(clock, start))
        {
            return null;
        }

        clock.Take(happened);
        return new RunningState(_frame, clock.State, happened);
    }

    /// <summary>How the unit stands at an instant, when nothing happens between the last event folded in and then.</summary>
    /// <param name="asOf">The instant, not before <see cref="FoldedTo"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The instant lies before the last event folded in.</exception>
    public CleaningStatus At(Instant asOf)
    {
        if (asOf < FoldedTo)
        {
            throw new ArgumentOutOfRangeException(nameof(asOf), asOf, $"Events up to {FoldedTo} are folded in: what held before is gone.");
        }

        RuleClock clock = new(_frame, _state);
        clock.PassTo(asOf);
        return clock.Status();
    }

    private bool HearStart(RuleClock clock, Instant start)
    {
        if (start < FoldedTo)
        {
            return clock.HearLate(start);
        }

        clock.Take(new Heard(start));
        return true;
    }
}
