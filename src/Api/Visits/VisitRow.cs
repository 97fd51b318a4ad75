using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;

namespace Washwear.Api.Visits;

/// <summary>A visit as it stands in the ledger.</summary>
public sealed class VisitRow
{
    /// <summary>Order of acceptance.</summary>
    public long Seq { get; init; }

    /// <summary>Who sent it.</summary>
    public required string Source { get; init; }

    /// <summary>The sender's key.</summary>
    public required string Key { get; init; }

    /// <summary>Number of the unit.</summary>
    public int UnitId { get; init; }

    /// <summary>When it was taken in.</summary>
    public DateTimeOffset ReceivedAt { get; init; }

    /// <summary>Whether a later record voids or replaces it.</summary>
    public bool IsVoided { get; init; }

    /// <summary>When it was asked for.</summary>
    public DateTimeOffset? AskedAt { get; init; }

    /// <summary>When work began.</summary>
    public DateTimeOffset? ArrivedAt { get; init; }

    /// <summary>When work ended.</summary>
    public DateTimeOffset? LeftAt { get; init; }

    /// <summary>How it ended, as the ledger spells it.</summary>
    public string? Outcome { get; init; }

    /// <summary>Who came.</summary>
    public string? Technician { get; init; }

    /// <summary>Words.</summary>
    public string? Note { get; init; }

    /// <summary>Faults as JSON; this and each list below is null when nothing was told.</summary>
    public string? Faults { get; init; }

    /// <summary>Checks as JSON.</summary>
    public string? Checks { get; init; }

    /// <summary>Findings as JSON.</summary>
    public string? Findings { get; init; }

    /// <summary>Proofs as JSON.</summary>
    public string? Proofs { get; init; }

    /// <summary>Conditions as JSON.</summary>
    public string? Conditions { get; init; }

    /// <summary>Number of its photos.</summary>
    public int Photos { get; init; }

    /// <summary>Key of the record, of the same sender, that it stands for.</summary>
    public string? Replaces { get; init; }

    /// <summary>Key of the visit that stands for it; null: none does.</summary>
    public string? ReplacedBy { get; init; }

    /// <summary>How it ended.</summary>
    public VisitOutcome? EndedAs => Outcome is null ? null : EnumText<VisitOutcome>.Parse(Outcome);

    /// <summary>Whether a proof passed.</summary>
    /// <param name="proof">Code of the proof.</param>
    public bool Passed(string proof) => List<VisitProof>(Proofs)
        .Any(each => each.Result == CheckResult.Pass && each.Proof.Equals(proof, StringComparison.OrdinalIgnoreCase));

    /// <summary>The items of a list of the ledger.</summary>
    /// <typeparam name="T">What an item is.</typeparam>
    /// <param name="json">The list as JSON; null: there is none.</param>
    internal static IReadOnlyList<T> List<T>(string? json) => json is null ? [] : JsonSerializer.Deserialize<T[]>(json, Json.Options)!;
}

/// <summary>A part change that was sent with a close-out.</summary>
public sealed class PartRow
{
    /// <summary>Code of the position.</summary>
    public required string Position { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>Why a part was taken out; null: none was.</summary>
    public string? RemovedReason { get; init; }

    /// <summary>How it failed.</summary>
    public string? FailureMode { get; init; }

    /// <summary>When it was last seen good.</summary>
    public DateTimeOffset? LastSeenGoodAt { get; init; }

    /// <summary>Whether a part was put in.</summary>
    public bool Fitted { get; init; }

    /// <summary>Its part number.</summary>
    public string? PartNumber { get; init; }

    /// <summary>Its batch.</summary>
    public string? Batch { get; init; }

    /// <summary>When the part that was taken out had been fitted, as the form knew it.</summary>
    public DateTimeOffset? RemovedFittedAt { get; init; }
}

/// <summary>An approval that a close-out asked for, as it stands now.</summary>
internal sealed class AskRow
{
    /// <summary>What has to be approved.</summary>
    public required string What { get; init; }

    /// <summary>What it will cost.</summary>
    public double? Amount { get; init; }

    /// <summary>The decision, as the ledger spells it; null: nobody has decided.</summary>
    public string? Decision { get; init; }

    /// <summary>Who decided.</summary>
    public string? DecidedBy { get; init; }

    /// <summary>When it was decided.</summary>
    public DateTimeOffset? DecidedAt { get; init; }

    /// <summary>Whether a later record withdraws it.</summary>
    public bool IsWithdrawn { get; init; }
}
