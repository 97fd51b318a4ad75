using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Repairs;

/// <summary>What is known of a repair.</summary>
public enum RepairState
{
    /// <summary>Its proofs passed, the full wash among them, and nothing speaks against it.</summary>
    ProvenByProofs,

    /// <summary>The washes that followed prove it.</summary>
    ProvenByWashes,

    /// <summary>Repaired, not proven.</summary>
    NotProven,

    /// <summary>What followed speaks against it.</summary>
    Contradicted,
}

/// <summary>What speaks against a repair.</summary>
public enum RepairContradiction
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>The full wash is said to have passed, and the last wash that began during the visit did not run to its end.</summary>
    WashOfVisitStopped,

    /// <summary>The full wash is said to have passed, and the last wash that began during the visit was of a lower grade than asked
    /// for.</summary>
    WashOfVisitTooLow,

    /// <summary>Detergent is said to have dissolved, and some was found left after that wash.</summary>
    DetergentLeft,

    /// <summary>A fault stopped the first wash after it.</summary>
    FirstWashStopped,

    /// <summary>The unit refused the first wash after it.</summary>
    FirstWashRefused,

    /// <summary>The same fault was there again.</summary>
    SameFaultAgain,
}

/// <summary>The state of one repair.</summary>
/// <param name="State">What is known of it.</param>
/// <param name="RepairedAt">From when washes speak of it: the last of its faults was cleared during the visit, else work ended.</param>
/// <param name="CleanWashes">Clean washes in a row since, those asked for at most.</param>
/// <param name="WashesSeen">Attempts to wash since, of any outcome that is known.</param>
/// <param name="Missing">Proofs that failed or were not done, and the full wash where nobody reported it.</param>
/// <param name="Contradiction">What speaks against it.</param>
/// <param name="SettledAt">When it was proven or contradicted; null: it is not proven yet.</param>
/// <param name="ContradictedBy">The wash that speaks against it; null: none does.</param>
public sealed record RepairVerdict(
    RepairState State,
    Instant RepairedAt,
    int CleanWashes,
    int WashesSeen,
    IReadOnlyList<string> Missing,
    RepairContradiction Contradiction,
    Instant? SettledAt,
    Wash? ContradictedBy)
{
    /// <summary>Whether it is proven.</summary>
    public bool IsProven => State is RepairState.ProvenByProofs or RepairState.ProvenByWashes;
}
