using System.Collections.Immutable;
using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>A lockout that stands: a fault that keeps the unit from washing.</summary>
internal readonly record struct StandingLockout(string Code, Instant RaisedAt);

/// <summary>The last attempt to wash. A wash that counted ends the attempts before it and is none itself.</summary>
internal readonly record struct Attempt(Instant At, bool Counted, WashOutcome Outcome);

/// <summary>The last thing that happened to a repair, and what it now waits for (S9).</summary>
internal readonly record struct RepairStep(Instant At, Cause WaitsFor);

/// <summary>What a unit's events say apart from due washes: lockouts, repairs, attempts, signs of life. Immutable; each event gives a new
/// one.</summary>
/// <param name="LastHeardAt">Last sign of life, or the begin of service.</param>
/// <param name="Lockouts">Lockouts that stand.</param>
/// <param name="OnSite">Number of visits under way.</param>
/// <param name="LastStep">Last step of a repair.</param>
/// <param name="LastAttempt">Last attempt to wash, refusals inside a standing lockout left out.</param>
/// <param name="LastCountedWashEnd">End of the last wash that counts.</param>
/// <param name="RanItselfAt">End of the last wash that counts and that the unit ran itself, with none refused or stopped by a fault after it:
/// it shows that the unit can wash, which a clean by hand does not.</param>
internal sealed record UnitWorkState(
    Instant? LastHeardAt,
    ImmutableArray<StandingLockout> Lockouts,
    int OnSite,
    RepairStep? LastStep,
    Attempt? LastAttempt,
    Instant? LastCountedWashEnd,
    Instant? RanItselfAt)
{
    public static UnitWorkState Begin(Instant? heardAt) => new(heardAt, [], 0, null, null, null, null);

    /// <summary>When the oldest standing lockout was raised, else when washing was last refused; null when the unit is not locked out.</summary>
    public Instant? LockedOutSince => !Lockouts.IsEmpty ? Lockouts.Min(l => l.RaisedAt)
        : LastAttempt is { Counted: false, Outcome: WashOutcome.Refused } refused ? refused.At
        : null;

    /// <summary>What the unit's lockout waits for (S9); null when no fault locks out washing.</summary>
    public Cause? WaitsFor()
    {
        if (Lockouts.IsEmpty)
        {
            return null;
        }

        Instant since = Lockouts.Min(l => l.RaisedAt);
        return LastStep is { } step && step.At >= since ? step.WaitsFor : Cause.LockoutNoVisitAsked;
    }

    /// <summary>The cause of overdue time (S8 to S10) when the oldest overdue wash's period began at <paramref
    /// name="periodStart"/>.</summary>
    public Cause OverdueCause(Instant periodStart)
    {
        if (OnSite > 0)
        {
            return Cause.BeingWorkedOn;
        }

        if (WaitsFor() is { } waits)
        {
            return waits;
        }

        return LastAttempt is not { Counted: false } last || last.At < periodStart ? Cause.NobodyStarted : last.Outcome switch
        {
            WashOutcome.StoppedByPerson => Cause.StoppedByPerson,
            WashOutcome.StoppedByFault => Cause.StoppedByFault,
            WashOutcome.Refused => Cause.LockoutNoVisitAsked,
            WashOutcome.Completed or WashOutcome.Unknown => Cause.WashDidNotCount,
            _ => throw new InvalidOperationException($"Outcome {last.Outcome} is not known."),
        };
    }

    public UnitWorkState With(UnitEvent happened, ProgrammeGrade asked)
    {
        UnitWorkState heard = happened.IsSignOfLife ? HeardBy(happened.At) : this;
        return happened switch
        {
            Heard or MeterRead or FaultRaised { LocksOutWashing: false } => heard,
            WashDecided w => heard.Tried(w.Wash, asked),
            FaultRaised f => heard with { Lockouts = Lockouts.Add(new StandingLockout(f.Code, f.At)) },
            FaultCleared f => heard with { Lockouts = Lockouts.Remove(new StandingLockout(f.Code, f.RaisedAt)) },
            VisitArrived => this with { OnSite = OnSite + 1 },
            VisitAsked v => Step(v.At, Cause.LockoutWaitingTechnician),
            VisitLeft v => Step(v.At, AfterVisit(v.Outcome)) with { OnSite = v.ArrivalKnown ? Math.Max(0, OnSite - 1) : OnSite },
            ApprovalAsked a => Step(a.At, Cause.LockoutWaitingApproval),
            ApprovalDecided a => Step(a.At, a.Granted ? Cause.LockoutWaitingPart : Cause.LockoutNoVisitAsked),
            _ => throw new InvalidOperationException($"Event {happened.GetType().Name} is not known."),
        };
    }

    public UnitWorkState HeardBy(Instant at) => LastHeardAt is { } last && last >= at ? this : this with { LastHeardAt = at };

    private static Cause AfterVisit(VisitOutcome? outcome) => outcome switch
    {
        VisitOutcome.WaitingApproval => Cause.LockoutWaitingApproval,
        VisitOutcome.WaitingPart => Cause.LockoutWaitingPart,
        VisitOutcome.Proven or VisitOutcome.RepairedNotProven or VisitOutcome.NoFaultFound or null => Cause.LockoutNoVisitAsked,
        _ => throw new InvalidOperationException($"Outcome {outcome} is not known."),
    };

    private UnitWorkState Step(Instant at, Cause waitsFor) => this with { LastStep = new RepairStep(at, waitsFor) };

    private UnitWorkState Tried(Wash wash, ProgrammeGrade asked)
    {
        // Descaling is no attempt at a wash, nor a wash one at descaling.
        bool otherKind = (wash.Grade == ProgrammeGrade.Descale) != (asked == ProgrammeGrade.Descale);
        if (otherKind)
        {
            return this;
        }

        bool counted = wash.CountsFor(asked);
        Instant? ranItself = wash.Outcome is WashOutcome.Refused or WashOutcome.StoppedByFault ? null
            : counted && wash.AttestedBy is null ? wash.DecidedAt
            : RanItselfAt;
        if (wash.Outcome == WashOutcome.Refused && !Lockouts.IsEmpty)
        {
            return this with { RanItselfAt = ranItself };
        }

        return this with
        {
            RanItselfAt = ranItself,
            LastAttempt = new Attempt(wash.DecidedAt, counted, wash.Outcome),
            LastCountedWashEnd = counted ? wash.DecidedAt : LastCountedWashEnd,
        };
    }
}
