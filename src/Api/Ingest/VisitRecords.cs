using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Ingest;

/// <summary>A visit asked for, under way or over; <c>At</c> is the first of its three instants that is known.</summary>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="ArrivedAt">When work began.</param>
/// <param name="LeftAt">When work ended; null: it goes on, or nobody came yet.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Technician">Who came.</param>
/// <param name="Note">Words of the technician.</param>
/// <param name="Faults">Codes of the faults that the visit was for; this and each list below is null when nothing was told.</param>
/// <param name="Checks">Diagnostic steps and their results.</param>
/// <param name="Findings">What was wrong.</param>
/// <param name="Proofs">What was done to prove the repair.</param>
/// <param name="Conditions">Parts that were looked at and left in.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record VisitRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces,
    DateTimeOffset? AskedAt, DateTimeOffset? ArrivedAt, DateTimeOffset? LeftAt, VisitOutcome? Outcome, string? Technician, string? Note,
    IReadOnlyList<string>? Faults, IReadOnlyList<VisitCheck>? Checks, IReadOnlyList<VisitFinding>? Findings,
    IReadOnlyList<VisitProof>? Proofs, IReadOnlyList<PartCondition>? Conditions) : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>What a check or a proof came to.</summary>
public enum CheckResult
{
    /// <summary>It passed.</summary>
    Pass,

    /// <summary>It failed.</summary>
    Fail,

    /// <summary>It was not done.</summary>
    NotDone,
}

/// <summary>A diagnostic step that was done, or left out.</summary>
/// <param name="Check">Its code.</param>
/// <param name="Result">What it came to.</param>
/// <param name="Reading">What was measured.</param>
/// <param name="UnitOfMeasure">In which unit of measure.</param>
public sealed record VisitCheck(string Check, CheckResult Result, double? Reading = null, string? UnitOfMeasure = null);

/// <summary>Something that was wrong.</summary>
/// <param name="Position">Position at fault.</param>
/// <param name="FailureMode">How it failed.</param>
/// <param name="Cause">Why it failed.</param>
/// <param name="Note">Words.</param>
public sealed record VisitFinding(string Position, string? FailureMode = null, string? Cause = null, string? Note = null);

/// <summary>Something that proves a repair, such as a full wash.</summary>
/// <param name="Proof">Its code.</param>
/// <param name="Result">What it came to.</param>
public sealed record VisitProof(string Proof, CheckResult Result);

/// <summary>How worn a part looks.</summary>
public enum ConditionGrade
{
    /// <summary>No wear to speak of.</summary>
    Good,

    /// <summary>Worn, good for a while.</summary>
    Worn,

    /// <summary>To be replaced soon.</summary>
    Poor,
}

/// <summary>A part that was looked at and left in.</summary>
/// <param name="Position">Its position.</param>
/// <param name="Grade">How it looks.</param>
/// <param name="Note">Words.</param>
public sealed record PartCondition(string Position, ConditionGrade Grade, string? Note = null);

/// <summary>A part that was looked at outside a visit; <c>At</c> is when.</summary>
/// <param name="Position">Its position.</param>
/// <param name="Grade">How it looks.</param>
/// <param name="Note">Words.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record ConditionRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces, string Position, ConditionGrade Grade, string? Note)
    : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>What was decided on a repair.</summary>
public enum ApprovalDecision
{
    /// <summary>It may be done.</summary>
    Granted,

    /// <summary>It may not be done.</summary>
    Refused,
}

/// <summary>A decision that a repair needs, asked for or made; <c>At</c> is when it was asked for, else when it was made.</summary>
/// <param name="What">What is to be approved.</param>
/// <param name="Amount">What it costs, in the installation's currency.</param>
/// <param name="FaultCode">Fault that the repair is for.</param>
/// <param name="AskedAt">When it was asked for.</param>
/// <param name="Decision">What was decided; null: it is open.</param>
/// <param name="DecidedAt">When.</param>
/// <param name="DecidedBy">By whom.</param>
/// <param name="Note">Words.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record ApprovalRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces,
    string? What, double? Amount, string? FaultCode, DateTimeOffset? AskedAt, ApprovalDecision? Decision, DateTimeOffset? DecidedAt,
    string? DecidedBy, string? Note) : IncomingRecord(Source, Key, Unit, At, Replaces);
