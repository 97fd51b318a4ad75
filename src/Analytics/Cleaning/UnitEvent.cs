using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Something that happened to a unit at one instant. The subtypes are all there are.</summary>
/// <param name="At">When it happened.</param>
public abstract record UnitEvent(Instant At)
{
    private protected abstract int Rank { get; }

    /// <summary>Whether it shows that the unit is there (S7).</summary>
    internal virtual bool IsSignOfLife => true;

    /// <summary>
    /// Order in which events are taken: by instant; at the same instant signs of life, faults cleared, faults raised, washes, visits asked
    /// for, arrivals, departures, approvals asked for, decisions; two washes decided at the same instant by start, outcome and grade, two
    /// readings by what they show.
    /// </summary>
    /// <param name="first">One event.</param>
    /// <param name="second">Another event.</param>
    public static int Compare(UnitEvent first, UnitEvent second)
    {
        int byTime = first.At.CompareTo(second.At);
        int order = byTime != 0 ? byTime : first.Rank.CompareTo(second.Rank);
        return order != 0 ? order : (first, second) switch
        {
            (WashDecided { Wash: var a }, WashDecided { Wash: var b }) =>
                (a.StartedAt, a.Outcome, a.Grade).CompareTo((b.StartedAt, b.Outcome, b.Grade)),
            (MeterRead a, MeterRead b) => a.OperatingHours.CompareTo(b.OperatingHours),
            _ => 0,
        };
    }

    /// <summary>All events of a history, in the order of <see cref="Compare"/>.</summary>
    /// <param name="history">The unit's records, in any order.</param>
    public static IReadOnlyList<UnitEvent> AllOf(UnitHistory history)
    {
        List<UnitEvent> events =
            [.. history.HeardAt.Select(at => new Heard(at)), .. history.Meters.Select(m => new MeterRead(m.At, m.OperatingHours))];
        foreach (Wash wash in history.Washes)
        {
            events.AddRange([new Heard(wash.StartedAt), new WashDecided(wash)]);
        }

        foreach (WashFault fault in history.Faults)
        {
            events.AddRange(Of(fault));
        }

        foreach (Visit visit in history.Visits)
        {
            events.AddRange(Of(visit));
        }

        foreach (Approval approval in history.Approvals)
        {
            events.AddRange(Of(approval));
        }

        return [.. events.Order(Comparer<UnitEvent>.Create(Compare))];
    }

    private static IEnumerable<UnitEvent> Of(WashFault fault)
    {
        if (fault.ClearedAt is { } cleared && cleared <= fault.RaisedAt)
        {
            return [new Heard(fault.RaisedAt), new Heard(cleared)];
        }

        FaultRaised raised = new(fault.RaisedAt, fault.Code, fault.LocksOutWashing);
        return fault.ClearedAt is { } at ? [raised, new FaultCleared(at, fault.Code, fault.RaisedAt)] : [raised];
    }

    private static IEnumerable<UnitEvent> Of(Visit visit)
    {
        if (visit.AskedAt is { } asked)
        {
            yield return new VisitAsked(asked);
        }

        bool wasThere = visit.ArrivedAt is { } arrived && (visit.LeftAt is not { } left || left > arrived);
        if (wasThere)
        {
            yield return new VisitArrived(visit.ArrivedAt!.Value);
        }

        if (visit.LeftAt is { } gone)
        {
            yield return new VisitLeft(gone, visit.Outcome, wasThere);
        }
    }

    private static IEnumerable<UnitEvent> Of(Approval approval)
    {
        if (approval.AskedAt is { } asked)
        {
            yield return new ApprovalAsked(asked);
        }

        if (approval is { DecidedAt: { } decided, Granted: { } granted })
        {
            yield return new ApprovalDecided(decided, granted);
        }
    }
}

/// <summary>A sign of life: a heartbeat, a meter reading, the start of a wash.</summary>
/// <param name="At">When it happened.</param>
public sealed record Heard(Instant At) : UnitEvent(At)
{
    private protected override int Rank => 0;
}

/// <summary>The counter of operating hours was read. A sign of life.</summary>
/// <param name="At">When it was read.</param>
/// <param name="OperatingHours">Hours that it showed.</param>
public sealed record MeterRead(Instant At, double OperatingHours) : UnitEvent(At)
{
    private protected override int Rank => 0;
}

/// <summary>A wash ended or was refused; taken at its end, or at its start where no end is known. A sign of life.</summary>
/// <param name="Wash">The wash.</param>
public sealed record WashDecided(Wash Wash) : UnitEvent(Wash.DecidedAt)
{
    private protected override int Rank => 3;
}

/// <summary>A fault was raised. A sign of life.</summary>
/// <param name="At">When it was raised.</param>
/// <param name="Code">Code of the fault.</param>
/// <param name="LocksOutWashing">Whether the unit will not wash while it stands.</param>
public sealed record FaultRaised(Instant At, string Code, bool LocksOutWashing) : UnitEvent(At)
{
    private protected override int Rank => 2;
}

/// <summary>A fault was cleared. A sign of life.</summary>
/// <param name="At">When it was cleared.</param>
/// <param name="Code">Code of the fault.</param>
/// <param name="RaisedAt">When that fault was raised; with the code it says which one.</param>
public sealed record FaultCleared(Instant At, string Code, Instant RaisedAt) : UnitEvent(At)
{
    private protected override int Rank => 1;
}

/// <summary>A visit was asked for.</summary>
/// <param name="At">When it was asked for.</param>
public sealed record VisitAsked(Instant At) : UnitEvent(At)
{
    internal override bool IsSignOfLife => false;

    private protected override int Rank => 4;
}

/// <summary>A technician began work at the unit.</summary>
/// <param name="At">When work began.</param>
public sealed record VisitArrived(Instant At) : UnitEvent(At)
{
    internal override bool IsSignOfLife => false;

    private protected override int Rank => 5;
}

/// <summary>A visit ended.</summary>
/// <param name="At">When it ended.</param>
/// <param name="Outcome">How it ended; null when nobody said.</param>
/// <param name="ArrivalKnown">Whether a <see cref="VisitArrived"/> of the same visit came before.</param>
public sealed record VisitLeft(Instant At, VisitOutcome? Outcome, bool ArrivalKnown) : UnitEvent(At)
{
    internal override bool IsSignOfLife => false;

    private protected override int Rank => 6;
}

/// <summary>An approval was asked for.</summary>
/// <param name="At">When it was asked for.</param>
public sealed record ApprovalAsked(Instant At) : UnitEvent(At)
{
    internal override bool IsSignOfLife => false;

    private protected override int Rank => 7;
}

/// <summary>An approval was decided.</summary>
/// <param name="At">When it was decided.</param>
/// <param name="Granted">Whether it was granted.</param>
public sealed record ApprovalDecided(Instant At, bool Granted) : UnitEvent(At)
{
    internal override bool IsSignOfLife => false;

    private protected override int Rank => 8;
}
