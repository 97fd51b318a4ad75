using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Repairs;

/// <summary>What a lockout waits for at a moment.</summary>
public enum DelayKind
{
    /// <summary>Nobody has asked for a visit, or whoever came left without a repair and without saying what it waits for.</summary>
    NobodyAsked,

    /// <summary>The repair waits for an approval.</summary>
    WaitingApproval,

    /// <summary>A technician was asked for and has not come.</summary>
    WaitingTechnician,

    /// <summary>The repair waits for a part.</summary>
    WaitingPart,

    /// <summary>A technician is at the unit.</summary>
    BeingWorkedOn,
}

/// <summary>The three sorts of time of a repair, in the terms of EN 13306.</summary>
public enum DelaySort
{
    /// <summary>Administrative delay: nobody asked, or nobody decided.</summary>
    Administrative,

    /// <summary>Logistic delay: who or what is needed is not there yet.</summary>
    Logistic,

    /// <summary>Technical: the repair itself, with what it takes on the spot.</summary>
    Technical,
}

/// <summary>A stretch [<paramref name="From"/>, <paramref name="To"/>) in which a lockout waited for one thing.</summary>
/// <param name="From">Its begin.</param>
/// <param name="To">Its end.</param>
/// <param name="Kind">What it waited for.</param>
public readonly record struct DelaySpan(Instant From, Instant To, DelayKind Kind)
{
    /// <summary>Its length.</summary>
    public Duration Length => To - From;
}

/// <summary>A stretch in which a unit was locked out of washing by its faults, without a gap.</summary>
/// <param name="RaisedAt">When the first fault was raised.</param>
/// <param name="ClearedAt">When none stood any more; null while one stands at the end of the window.</param>
/// <param name="Codes">Codes of the faults, in the order in which they were raised.</param>
/// <param name="Spans">What it waited for, in order; the spans fill it as far as it lies in the window, without gap or overlap.</param>
public sealed record LockoutDelays(Instant RaisedAt, Instant? ClearedAt, IReadOnlyList<string> Codes, IReadOnlyList<DelaySpan> Spans)
{
    /// <summary>Time of one kind.</summary>
    /// <param name="kind">The kind.</param>
    public Duration Of(DelayKind kind) => Spans.Where(span => span.Kind == kind).Aggregate(Duration.Zero, (sum, span) => sum + span.Length);

    /// <summary>Time of one sort.</summary>
    /// <param name="sort">The sort.</param>
    public Duration Of(DelaySort sort) =>
        Spans.Where(span => RepairDelays.SortOf(span.Kind) == sort).Aggregate(Duration.Zero, (sum, span) => sum + span.Length);
}

/// <summary>
/// Splits the time from a fault raised to cleared into administrative, logistic and technical. What a lockout waits for at a moment is
/// told by
/// the rule that charges overdue time to its causes (see <see cref="CauseTimeline"/>), not by a second one; here every moment of a lockout
/// counts, whether or not a wash is overdue, the site trades or the unit is heard. Terms: EN 13306:2017, times related to maintenance; the
/// standard's technical delay and its active repair time are one here, since records do not tell them apart.
/// </summary>
public static class RepairDelays
{
    /// <summary>The lockouts of one unit that reach into a window.</summary>
    /// <param name="history">The unit's records; only faults that lock out washing, visits and approvals are looked at.</param>
    /// <param name="window">The window [from, to), with both ends.</param>
    public static IReadOnlyList<LockoutDelays> Of(UnitHistory history, Interval window)
    {
        IReadOnlyList<UnitEvent> events = UnitEvent.AllOf(history with { Washes = [], HeardAt = [], Meters = [] });
        var lockouts = new List<LockoutDelays>();
        UnitWorkState state = UnitWorkState.Begin(null);
        OpenLockout? open = null;
        for (int i = 0; i < events.Count && events[i].At < window.End; i++)
        {
            state = state.With(events[i], ProgrammeGrade.Standard);
            if (i + 1 < events.Count && events[i + 1].At == events[i].At)
            {
                continue;
            }

            Instant at = events[i].At;
            if (KindOf(state) is { } kind)
            {
                open ??= new OpenLockout(at);
                open.Change(at, kind, state.Lockouts.Select(lockout => lockout.Code));
            }
            else if (open is not null)
            {
                Close(open, at, at, window, lockouts);
                open = null;
            }
        }

        if (open is not null)
        {
            Close(open, window.End, null, window, lockouts);
        }

        return lockouts;
    }

    /// <summary>Which sort of delay a kind belongs to.</summary>
    /// <param name="kind">The kind.</param>
    public static DelaySort SortOf(DelayKind kind) => kind switch
    {
        DelayKind.NobodyAsked or DelayKind.WaitingApproval => DelaySort.Administrative,
        DelayKind.WaitingTechnician or DelayKind.WaitingPart => DelaySort.Logistic,
        DelayKind.BeingWorkedOn => DelaySort.Technical,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of delay."),
    };

    private static DelayKind? KindOf(UnitWorkState state) => state.WaitsFor() is not { } waits ? null
        : state.OnSite > 0 ? DelayKind.BeingWorkedOn
        : waits switch
        {
            Cause.LockoutNoVisitAsked => DelayKind.NobodyAsked,
            Cause.LockoutWaitingApproval => DelayKind.WaitingApproval,
            Cause.LockoutWaitingTechnician => DelayKind.WaitingTechnician,
            Cause.LockoutWaitingPart => DelayKind.WaitingPart,
            _ => throw new InvalidOperationException($"A lockout cannot wait for {waits}."),
        };

    private static void Close(OpenLockout open, Instant end, Instant? cleared, Interval window, List<LockoutDelays> lockouts)
    {
        DelaySpan[] spans =
        [
            .. open.SpansTo(end)
                .Select(span => span with { From = Instant.Max(span.From, window.Start), To = Instant.Min(span.To, window.End) })
                .Where(span => span.To > span.From),
        ];
        if (spans.Length > 0)
        {
            lockouts.Add(new LockoutDelays(open.RaisedAt, cleared, [.. open.Codes], spans));
        }
    }

    private sealed class OpenLockout(Instant raisedAt)
    {
        private readonly List<(Instant At, DelayKind Kind)> _changes = [];

        public Instant RaisedAt => raisedAt;

        public List<string> Codes { get; } = [];

        public void Change(Instant at, DelayKind kind, IEnumerable<string> codes)
        {
            if (_changes.Count == 0 || _changes[^1].Kind != kind)
            {
                _changes.Add((at, kind));
            }

            Codes.AddRange(codes.Where(code => !Codes.Contains(code)).ToList());
        }

        public IEnumerable<DelaySpan> SpansTo(Instant end) =>
            _changes.Select((change, i) => new DelaySpan(change.At, i + 1 < _changes.Count ? _changes[i + 1].At : end, change.Kind));
    }
}
