using Washwear.Api.Ingest;

namespace Washwear.Api.Demo;

/// <summary>What is true of one unit, whatever its records say.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Site">Code of its site.</param>
/// <param name="Habits">Habits of the site's people.</param>
/// <param name="Staged">The state that it was led into at the end.</param>
/// <param name="Lives">The life of every part that was in after records began, by position and time.</param>
/// <param name="Lockouts">Lockouts raised after records began.</param>
/// <param name="Visits">Visits after records began, the planned ones included.</param>
/// <param name="WashesRun">Washes that started after records began, whether or not they were reported.</param>
/// <param name="WashesLost">Of these, the ones that the gateway lost.</param>
public sealed record UnitTruth(
    string Unit, string Site, CrewHabits Habits, StagedEnd Staged, IReadOnlyList<PartLifeTruth> Lives, IReadOnlyList<LockoutTruth> Lockouts,
    IReadOnlyList<VisitTruth> Visits, int WashesRun, int WashesLost);

/// <summary>The true life of one part.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PartNumber">Part number.</param>
/// <param name="Wear">The distribution that its life was drawn from.</param>
/// <param name="FittedAt">When it was fitted; before records began for the parts that were in by then.</param>
/// <param name="StartReported">Whether a record states its fitting, or its age when records began.</param>
/// <param name="EntryDays">Age when it came under observation: 0 for a new part, days.</param>
/// <param name="EntryWashes">The same in washes.</param>
/// <param name="FailedAt">When it failed; null: it had not failed when it left or at the end.</param>
/// <param name="ExitDays">Age at failure, removal, the unit's leaving or the end, whichever came first, days.</param>
/// <param name="ExitWashes">The same in washes.</param>
/// <param name="RemovedAt">When it was taken out; null: still fitted.</param>
/// <param name="Reason">Why it was taken out.</param>
/// <param name="Mode">How it failed, as the technician reported it: for a sound part that was taken for the cause, a mode without a failure.</param>
/// <param name="LastSeenGoodAt">When it was last seen good, for a part found failed.</param>
/// <param name="RemovalReported">Whether the record of its removal was delivered by the end.</param>
/// <param name="WeakAt">First wash in which it was weak before its failure; null: none, or its kind does not weaken visibly.</param>
public sealed record PartLifeTruth(
    string Unit, string Position, string PartNumber, PartWear Wear, DateTimeOffset FittedAt, bool StartReported, double EntryDays,
    double EntryWashes, DateTimeOffset? FailedAt, double ExitDays, double ExitWashes, DateTimeOffset? RemovedAt, RemovalReason? Reason,
    string? Mode, DateTimeOffset? LastSeenGoodAt, bool RemovalReported, DateTimeOffset? WeakAt);

/// <summary>A lockout and what truly caused it.</summary>
/// <param name="Fault">Fault code.</param>
/// <param name="Position">Position at fault.</param>
/// <param name="Mode">How it failed or was blocked.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="ClearedAt">When it was cleared; null: not by the end.</param>
public sealed record LockoutTruth(string Fault, string Position, string Mode, DateTimeOffset RaisedAt, DateTimeOffset? ClearedAt);

/// <summary>How a visit ended.</summary>
public enum VisitEnd
{
    /// <summary>Repaired, and a full wash of the right grade completed before the technician left.</summary>
    Proven,

    /// <summary>Repaired without such a wash.</summary>
    RepairedNotProven,

    /// <summary>The repair waits for the operator's approval.</summary>
    WaitingApproval,

    /// <summary>The repair waits for a part.</summary>
    WaitingPart,

    /// <summary>A planned visit.</summary>
    Planned,

    /// <summary>Nothing was found and nothing changed.</summary>
    NoFaultFound,
}

/// <summary>A visit and the waits around it.</summary>
/// <param name="Fault">Fault that it was asked for; null for a planned visit.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="ArrivedAt">When the technician arrived; null: not by the end.</param>
/// <param name="LeftAt">When the technician left; null: not by the end.</param>
/// <param name="End">How it ended.</param>
/// <param name="DecidedAt">When the approval was granted or the part came, for a visit that left waiting; null: not by the end.</param>
/// <param name="Technician">Who came; empty: nobody by the end.</param>
/// <param name="Cause">What truly caused the fault; null for a planned visit.</param>
/// <param name="Found">What was taken for it; null where nothing was.</param>
public sealed record VisitTruth(
    string? Fault, DateTimeOffset AskedAt, DateTimeOffset? ArrivedAt, DateTimeOffset? LeftAt, VisitEnd End, DateTimeOffset? DecidedAt,
    string Technician, FaultCause? Cause = null, FaultCause? Found = null);

/// <summary>A cause of a fault.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Mode">How it failed, or that it was blocked.</param>
public sealed record FaultCause(string Position, string Mode)
{
    internal static FaultCause? Of(FailureWay? way) => way is null ? null : new FaultCause(way.Position, way.Mode);
}
