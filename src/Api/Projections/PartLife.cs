using Washwear.Api.Ingest;

namespace Washwear.Api.Projections;

/// <summary>How a part's time at its position ended.</summary>
public enum PartEnd
{
    /// <summary>It failed at that instant.</summary>
    Failed,

    /// <summary>It was found failed: it failed some time since it was last seen good.</summary>
    FoundFailed,

    /// <summary>It was swapped while it worked.</summary>
    Precaution,

    /// <summary>It was swapped for a better one while it worked.</summary>
    Upgrade,

    /// <summary>The unit left with the part in it.</summary>
    UnitRetired,

    /// <summary>Another part was fitted over it and nobody said why; always with a doubt.</summary>
    NotReported,
}

/// <summary>One part's time at a position, from fitting to removal.</summary>
/// <param name="FittedMs">When it was fitted, milliseconds UTC; null: not known.</param>
/// <param name="WatchedFromMs">From when it is under watch: when it was fitted, or when part changes began to be on record if that is
/// later; null: never, as its fitting is not known.</param>
/// <param name="EndedMs">When it ended; null: still fitted.</param>
/// <param name="EndedHow">How it ended; null: still fitted.</param>
/// <param name="LastSeenGoodMs">When it was last seen good, for a part found failed; null: not since it was fitted.</param>
/// <param name="FailureMode">How it failed.</param>
/// <param name="Mechanism">What wore it out.</param>
/// <param name="PartNumber">Part number.</param>
/// <param name="Batch">Batch.</param>
/// <param name="Supplier">Supplier.</param>
/// <param name="EntryAgeDays">Age when it came under watch, days; null: not known.</param>
/// <param name="EntryAgeWashes">Age when it was fitted, washes; null: not known.</param>
/// <param name="FittedSeq">Record that fitted it.</param>
/// <param name="RemovedSeq">Record that removed it, or fitted another over it.</param>
/// <param name="Doubt">Why the life cannot be used; null: it can.</param>
public sealed record PartLife(
    long? FittedMs,
    long? WatchedFromMs,
    long? EndedMs,
    PartEnd? EndedHow,
    long? LastSeenGoodMs,
    string? FailureMode,
    string? Mechanism,
    string? PartNumber,
    string? Batch,
    string? Supplier,
    double? EntryAgeDays,
    double? EntryAgeWashes,
    long? FittedSeq,
    long? RemovedSeq,
    string? Doubt);

/// <summary>An effective part change of one unit and position.</summary>
/// <param name="AtMs">When, milliseconds UTC.</param>
/// <param name="Seq">Number in the ledger.</param>
/// <param name="Source">Source.</param>
/// <param name="Key">Key.</param>
/// <param name="Removed">What was taken out.</param>
/// <param name="Fitted">What was put in.</param>
internal sealed record PartChange(long AtMs, long Seq, string Source, string Key, RemovedPart? Removed, NewPart? Fitted);
