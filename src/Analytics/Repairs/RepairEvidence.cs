using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Repairs;

/// <summary>Whether a repair is proven: by its proofs, or by the washes that follow it. What a person declares proves nothing.</summary>
/// <remarks>
/// <para>Proofs. The repair is proven when the full wash passed, every heating circuit fired in every mode, and every other proof that the
/// visit reports passed too: an oven whose wash runs again may still cook on one circuit of three. Which proofs are asked for (no leak,
/// drain, heating circuits, full wash, detergent dissolved, guards) is common practice, without a source.</para>
/// <para>Washes. Attempts since the repair, in the order of their starts, speak: those that the unit ran, descaling and unknown outcomes
/// apart. A wash that a person stopped says nothing; one below the grade, or with detergent left, is no evidence either way. So many clean
/// ones in a row (three) prove the repair; one that the same fault stopped begins the row anew. The number is a convention: for a fault
/// that comes back in each wash with chance p, n clean washes in a row are seen with chance (1 - p)^n, so three rule out, at 95 %, that
/// more than 63 in 100 washes fail (<see cref="ShareRuledOut"/>). That is enough for a repair that did not hold, and not for a fault that
/// shows only now and then: it takes 59 washes to rule out 5 in 100.</para>
/// <para>Against it. The unit answers with the last wash that began from arrival to leaving, of a visit that says neither that the full
/// wash
/// passed nor that detergent dissolved only from the repair on: it must not have been stopped by a fault or refused, and what is said of it
/// must be true: that it completed, at the grade asked for, and left no detergent. Where none began then, the first wash after leaving that
/// no person stopped answers. Besides, the same fault must not be raised again, or stop a wash, within seven days. What speaks against a
/// repair outweighs proofs that passed. This is a convention of this program.</para>
/// </remarks>
public static class RepairEvidence
{
    /// <summary>Code of the full wash, which every repair needs.</summary>
    public const string FullWash = "full-wash";

    /// <summary>Code of the heating circuits, which every repair needs.</summary>
    public const string HeatingCircuits = "heating-circuits";

    /// <summary>Code of the proof that detergent dissolved.</summary>
    public const string DetergentDissolved = "detergent-dissolved";

    /// <summary>Judges one repair.</summary>
    /// <param name="repair">The repair.</param>
    /// <param name="faults">Faults of the unit, in any order.</param>
    /// <param name="washes">Washes of the unit from the visit on, in any order.</param>
    /// <param name="until">What happened from this instant on speaks of the next repair, or is not known yet.</param>
    /// <param name="terms">What it takes.</param>
    public static RepairVerdict Judge(
        CompletedRepair repair, IEnumerable<WashFault> faults, IEnumerable<WashWithFault> washes, Instant until, ProofTerms terms)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(terms.Washes, 1);
        WashFault[] all = [.. faults.Where(fault => IsOfRepair(fault.Code, repair))];
        Instant repaired = RepairedAt(repair, all);
        WashWithFault[] ran =
        [
            .. washes.Where(one => one.Wash.DecidedAt < until && Speaks(one.Wash))
                .OrderBy(one => one.Wash.StartedAt).ThenBy(one => one.Wash.DecidedAt),
        ];
        WashWithFault[] attempts = [.. ran.Where(one => one.Wash.StartedAt >= repaired)];
        (RepairContradiction against, Wash? by) = Answer(repair, [.. ran.Select(one => one.Wash)], repaired, terms);
        Instant? againstAt = by?.DecidedAt;
        if (against == RepairContradiction.None && SameFaultAgain(repair, all, attempts, repaired, until, terms) is { } again)
        {
            (against, againstAt) = (RepairContradiction.SameFaultAgain, again);
        }

        (int clean, Instant? provenAt) = CleanRow(repair, attempts, terms);
        string[] missing = Missing(repair);
        RepairState state = against != RepairContradiction.None ? RepairState.Contradicted
            : missing.Length == 0 ? RepairState.ProvenByProofs
            : provenAt is not null ? RepairState.ProvenByWashes
            : RepairState.NotProven;
        Instant? settled = state switch
        {
            RepairState.Contradicted => againstAt,
            RepairState.ProvenByProofs => repair.LeftAt,
            _ => provenAt,
        };
        return new RepairVerdict(state, repaired, clean, attempts.Length, missing, against, settled, by);
    }

    /// <summary>Share of failing washes that so many clean ones in a row rule out: the exact upper bound for no failure in n, 1 - (1 -
    /// level)^(1/n). Source: Clopper and Pearson (1934) Biometrika 26, 404; close to 3/n, Hanley and Lippman-Hand (1983) JAMA 249,
    /// 1743.</summary>
    /// <param name="washes">Clean washes, 1 or more.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    public static double ShareRuledOut(int washes, double level = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(washes, 1);
        return level is > 0 and < 1
            ? 1 - Math.Pow(1 - level, 1.0 / washes)
            : throw new ArgumentOutOfRangeException(nameof(level), level, "A confidence level lies between 0 and 1.");
    }

    private static Instant RepairedAt(CompletedRepair repair, IEnumerable<WashFault> faults)
    {
        Instant[] cleared =
        [
            .. faults.Where(fault => fault.ClearedAt >= repair.ArrivedAt && fault.ClearedAt <= repair.LeftAt)
                .Select(fault => fault.ClearedAt!.Value),
        ];
        return cleared.Length == 0 ? repair.LeftAt : cleared.Max();
    }

    private static string[] Missing(CompletedRepair repair)
    {
        IEnumerable<string> open = repair.Proofs.Where(proof => proof.Result != ProofResult.Passed).Select(proof => proof.Code);
        string[] untold = [.. new[] { FullWash, HeatingCircuits }.Where(code => !repair.Proofs.Any(proof => Same(proof.Code, code)))];
        return [.. untold, .. open];
    }

    /// <summary>What the unit's own wash says of the repair; the wash is null where it says nothing against it.</summary>
    private static (RepairContradiction Against, Wash? By) Answer(CompletedRepair repair, Wash[] ran, Instant repaired, ProofTerms terms)
    {
        (bool fullWash, bool dissolved) = (repair.Claims(FullWash), repair.Claims(DetergentDissolved));
        Instant from = fullWash || dissolved ? repair.ArrivedAt ?? repaired : repaired;
        Wash? ofVisit = Array.FindLast(ran, wash => wash.StartedAt >= from && wash.StartedAt <= repair.LeftAt);
        Wash? answer = ofVisit ?? Array.Find(ran, wash => wash.StartedAt > repair.LeftAt && wash.Outcome != WashOutcome.StoppedByPerson);
        RepairContradiction against = answer is null ? RepairContradiction.None
            : ofVisit is not null && fullWash && answer.Outcome != WashOutcome.Completed ? RepairContradiction.WashOfVisitStopped
            : ofVisit is not null && fullWash && terms.FullWash is { } grade && !answer.Grade.Satisfies(grade)
                ? RepairContradiction.WashOfVisitTooLow
            : answer.Outcome == WashOutcome.StoppedByFault ? RepairContradiction.FirstWashStopped
            : answer.Outcome == WashOutcome.Refused ? RepairContradiction.FirstWashRefused
            : dissolved && answer.DetergentLeft == true ? RepairContradiction.DetergentLeft
            : RepairContradiction.None;
        return (against, against == RepairContradiction.None ? null : answer);
    }

    private static Instant? SameFaultAgain(
        CompletedRepair repair, IEnumerable<WashFault> faults, WashWithFault[] attempts, Instant repaired, Instant until, ProofTerms terms)
    {
        IEnumerable<Instant> again = faults.Select(fault => fault.RaisedAt)
            .Concat(attempts.Where(one => IsStoppedBySame(one, repair)).Select(one => one.Wash.DecidedAt))
            .Where(at => at > repaired && at <= repaired + terms.SameFaultWithin && at < until);
        return repair.Faults.Count == 0 ? null : again.Order().Cast<Instant?>().FirstOrDefault();
    }

    private static (int Clean, Instant? ProvenAt) CleanRow(CompletedRepair repair, IEnumerable<WashWithFault> attempts, ProofTerms terms)
    {
        int clean = 0;
        foreach (WashWithFault one in attempts)
        {
            if (one.Wash.CountsFor(terms.Asked))
            {
                clean++;
                if (clean == terms.Washes)
                {
                    return (clean, one.Wash.DecidedAt);
                }
            }
            else if (IsStoppedBySame(one, repair) || one.Wash.Outcome == WashOutcome.Refused)
            {
                clean = 0;
            }
        }

        return (clean, null);
    }

    // Nobody said which fault stopped it: it may be the same.
    private static bool IsStoppedBySame(WashWithFault one, CompletedRepair repair) =>
        one.Wash.Outcome == WashOutcome.StoppedByFault && (one.FaultCode is null || IsOfRepair(one.FaultCode, repair));

    private static bool Speaks(Wash wash) =>
        wash.AttestedBy is null && wash.Grade != ProgrammeGrade.Descale && wash.Outcome != WashOutcome.Unknown;

    private static bool IsOfRepair(string code, CompletedRepair repair) =>
        repair.Faults.Count == 0 || repair.Faults.Any(fault => Same(fault, code));

    private static bool Same(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
