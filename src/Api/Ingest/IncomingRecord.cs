using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Ingest;

/// <summary>A record as reported, after parsing; whether it is acceptable is decided by the rules of ingest.</summary>
/// <param name="Source">Who sent it: the caller's key unless named.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit; empty for a void.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for, which then no longer counts.</param>
public abstract record IncomingRecord(string Source, string Key, string Unit, DateTimeOffset At, string? Replaces);

/// <summary>One run of a wash programme, or the refusal to start one; <c>At</c> is when it started.</summary>
/// <param name="EndedAt">When it ended; null for a refusal or when not known.</param>
/// <param name="Programme">Programme code of the model.</param>
/// <param name="Grade">Grade reached; null: taken from the model's programme.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="FaultCode">Fault that stopped or refused it.</param>
/// <param name="DetergentDoses">Doses used.</param>
/// <param name="DetergentLeft">Whether undissolved detergent was found; null: nobody looked.</param>
/// <param name="AttestedBy">Who attests a clean by hand; null: the unit reported the wash itself.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record WashRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces,
    DateTimeOffset? EndedAt, string? Programme, ProgrammeGrade? Grade, WashOutcome Outcome, string? FaultCode,
    double? DetergentDoses, bool? DetergentLeft, string? AttestedBy) : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>A fault was raised; <c>At</c> is when.</summary>
/// <param name="Code">Code of the model's catalogue.</param>
/// <param name="ClearedAt">When it was cleared, if already known.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record FaultRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces,
    string Code, DateTimeOffset? ClearedAt) : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>A raised fault was cleared; <c>At</c> is when.</summary>
/// <param name="Code">Code of the fault.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record FaultClearedRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces, string Code)
    : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>A part was taken out of a position, put in, or both; <c>At</c> is when.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Removed">What was taken out; null: nothing.</param>
/// <param name="Fitted">What was put in; null: nothing.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record PartChangeRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces,
    string Position, RemovedPart? Removed, NewPart? Fitted) : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>Why a part was taken out.</summary>
public enum RemovalReason
{
    /// <summary>It failed at that moment.</summary>
    Failed,

    /// <summary>It was swapped while it worked.</summary>
    Precaution,

    /// <summary>It was swapped for a better one while it worked.</summary>
    Upgrade,

    /// <summary>It was found failed: it failed some time since it was last seen good.</summary>
    FoundFailed,
}

/// <summary>A part that was taken out.</summary>
/// <param name="Reason">Why.</param>
/// <param name="FailureMode">How it failed.</param>
/// <param name="Mechanism">What wore it out.</param>
/// <param name="LastSeenGoodAt">When it was last seen good, for a part found failed.</param>
/// <param name="FittedAt">When it had been fitted, as far as the sender knows; a removal before that is refused. Ages are counted from the
/// record that fitted it, not from here.</param>
public sealed record RemovedPart(
    RemovalReason Reason, string? FailureMode, string? Mechanism, DateTimeOffset? LastSeenGoodAt, DateTimeOffset? FittedAt = null);

/// <summary>A part that was put in.</summary>
/// <param name="PartNumber">Part number.</param>
/// <param name="Batch">Batch.</param>
/// <param name="Supplier">Supplier.</param>
/// <param name="AgeDays">Age when fitted, days; null: new.</param>
/// <param name="AgeWashes">Age when fitted, washes; null: new.</param>
public sealed record NewPart(string? PartNumber, string? Batch, string? Supplier, double? AgeDays, double? AgeWashes);

/// <summary>A reading of the unit's counters; <c>At</c> is when.</summary>
/// <param name="WashesTotal">Washes since the unit was made.</param>
/// <param name="OperatingHoursTotal">Operating hours since the unit was made.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record MeterRecord(
    string Source, string Key, string Unit, DateTimeOffset At, string? Replaces,
    double? WashesTotal, double? OperatingHoursTotal) : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>The unit is there; <c>At</c> is when.</summary>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="At">When it happened.</param>
/// <param name="Replaces">Key of the record that this one stands for.</param>
public sealed record HeartbeatRecord(string Source, string Key, string Unit, DateTimeOffset At, string? Replaces)
    : IncomingRecord(Source, Key, Unit, At, Replaces);

/// <summary>An earlier record no longer counts; <c>At</c> is when that was decided.</summary>
/// <param name="Voids">Key, of the same source, that no longer counts.</param>
/// <param name="Reason">Why.</param>
/// <param name="Source">Who sent it.</param>
/// <param name="Key">The sender's key, unique within the source.</param>
/// <param name="At">When it happened.</param>
public sealed record VoidRecord(string Source, string Key, DateTimeOffset At, string Voids, string Reason)
    : IncomingRecord(Source, Key, string.Empty, At, null);
