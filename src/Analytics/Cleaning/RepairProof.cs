using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>How a unit's own records speak against a proof that a person gave of a repair.</summary>
public enum ProofContradiction
{
    /// <summary>They do not.</summary>
    None,

    /// <summary>The last wash that began during the visit did not run to its end.</summary>
    WashOfVisitStopped,

    /// <summary>The last wash that began during the visit was of a lower grade than the one asked for.</summary>
    WashOfVisitTooLow,

    /// <summary>Detergent was found left after a wash, though it was said to be dissolved.</summary>
    DetergentLeft,

    /// <summary>No wash began during the visit, and a fault stopped the first one after it.</summary>
    NextWashStopped,

    /// <summary>No wash began during the visit, and the unit refused the first one after it.</summary>
    NextWashRefused,
}

/// <summary>Whether the washes that a unit reported contradict the proofs of a repair: a full wash that completed, and detergent dissolved.</summary>
/// <remarks>
/// The proof of a full wash speaks of the last wash that began from arrival to leaving, both included: it must have completed, at the grade
/// asked for or above. Where none began then, it is held against the first wash after leaving, which contradicts it if a fault stopped it or
/// the unit refused it; a person may stop a wash for reasons of their own. Washes by hand, descaling and washes of unknown outcome say nothing.
/// Convention of this program.
/// </remarks>
public static class RepairProof
{
    /// <summary>Holds the proofs against the washes.</summary>
    /// <param name="arrived">When work began.</param>
    /// <param name="left">When work ended, not before arrival.</param>
    /// <param name="fullWash">Whether a full wash is said to have completed.</param>
    /// <param name="dissolved">Whether detergent is said to have dissolved.</param>
    /// <param name="asked">Grade of the wash that was asked for; null: any.</param>
    /// <param name="washes">The unit's washes, in any order.</param>
    /// <returns>The contradiction and the wash that makes it; null for none.</returns>
    public static (ProofContradiction Contradiction, Wash? Wash) Contradiction(
        Instant arrived, Instant left, bool fullWash, bool dissolved, ProgrammeGrade? asked, IEnumerable<Wash> washes)
    {
        Wash[] ran =
        [
            .. washes.Where(wash => wash.StartedAt >= arrived && wash.AttestedBy is null && wash.Grade != ProgrammeGrade.Descale
                    && wash.Outcome != WashOutcome.Unknown)
                .OrderBy(wash => wash.StartedAt),
        ];
        Wash? ofVisit = Array.FindLast(ran, wash => wash.StartedAt <= left);
        Wash? next = Array.Find(ran, wash => wash.StartedAt > left);
        ProofContradiction found = ofVisit is not null ? OfVisit(ofVisit, fullWash, dissolved, asked) : Next(next, fullWash, dissolved);
        return (found, found == ProofContradiction.None ? null : ofVisit ?? next);
    }

    private static ProofContradiction OfVisit(Wash wash, bool fullWash, bool dissolved, ProgrammeGrade? asked) =>
        fullWash && wash.Outcome != WashOutcome.Completed ? ProofContradiction.WashOfVisitStopped
        : fullWash && asked is { } grade && !wash.Grade.Satisfies(grade) ? ProofContradiction.WashOfVisitTooLow
        : dissolved && wash.DetergentLeft == true ? ProofContradiction.DetergentLeft
        : ProofContradiction.None;

    private static ProofContradiction Next(Wash? wash, bool fullWash, bool dissolved) =>
        fullWash && wash?.Outcome == WashOutcome.StoppedByFault ? ProofContradiction.NextWashStopped
        : fullWash && wash?.Outcome == WashOutcome.Refused ? ProofContradiction.NextWashRefused
        : dissolved && wash?.DetergentLeft == true ? ProofContradiction.DetergentLeft
        : ProofContradiction.None;
}
