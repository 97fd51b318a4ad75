using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Repairs;

/// <summary>What a proof came to.</summary>
public enum ProofResult
{
    /// <summary>It passed.</summary>
    Passed,

    /// <summary>It failed.</summary>
    Failed,

    /// <summary>It was asked for and not taken.</summary>
    NotDone,
}

/// <summary>A proof of a repair as the visit reports it.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Result">What it came to.</param>
public sealed record TakenProof(string Code, ProofResult Result);

/// <summary>A visit that ended with a repair.</summary>
/// <param name="ArrivedAt">When work began; null when nobody said.</param>
/// <param name="LeftAt">When work ended.</param>
/// <param name="SaidProven">Whether whoever closed the visit called the repair proven.</param>
/// <param name="Faults">Codes of the faults that the visit was for, compared without case; empty when none were named.</param>
/// <param name="Proofs">The proofs that it reports, which are those that were asked for.</param>
public sealed record CompletedRepair(
    Instant? ArrivedAt, Instant LeftAt, bool SaidProven, IReadOnlyList<string> Faults, IReadOnlyList<TakenProof> Proofs)
{
    /// <summary>Whether a proof is said to have passed.</summary>
    /// <param name="proof">Its code.</param>
    public bool Claims(string proof) =>
        Proofs.Any(taken => taken.Result == ProofResult.Passed && string.Equals(taken.Code, proof, StringComparison.OrdinalIgnoreCase));
}

/// <summary>A wash with the fault that stopped it.</summary>
/// <param name="Wash">The wash.</param>
/// <param name="FaultCode">Code of the fault; null when none was told.</param>
public sealed record WashWithFault(Wash Wash, string? FaultCode);

/// <summary>What it takes to call a repair proven.</summary>
/// <param name="Asked">Grade from which on a wash is evidence: the lowest that the unit's rules ask for, descaling apart, so that it counts
/// for one of them.</param>
/// <param name="Washes">Clean washes in a row that prove a repair, 1 or more.</param>
/// <param name="SameFaultWithin">Time after the repair in which the same fault speaks against it; later it is a new failure.</param>
/// <param name="FullWash">Grade of the full wash that a proof speaks of: the highest that the unit's rules ask for, descaling apart; null:
/// any.</param>
public sealed record ProofTerms(ProgrammeGrade Asked, int Washes, Duration SameFaultWithin, ProgrammeGrade? FullWash)
{
    /// <summary>Three washes and seven days.</summary>
    /// <param name="asked">Grade of the washes that count.</param>
    /// <param name="fullWash">Grade of the full wash that a proof speaks of; null: any.</param>
    public static ProofTerms Usual(ProgrammeGrade asked, ProgrammeGrade? fullWash = null) => new(asked, 3, Duration.FromDays(7), fullWash);
}
