using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;

namespace Washwear.Analytics.Tests.Repairs;

public sealed class RepairEvidenceTests
{
    private static readonly Instant Arrived = At("2026-03-02T08:00");
    private static readonly Instant Left = At("2026-03-02T10:00");
    private static readonly Instant Later = At("2026-04-01T00:00");
    private static readonly WashFault Fault = new("E1", At("2026-03-01T06:00"), At("2026-03-02T09:00"), true);

    [Fact]
    public void Saying_that_it_is_proven_proves_nothing()
    {
        RepairVerdict verdict = Judge(Repair(), []);
        Assert.Equal(RepairState.NotProven, verdict.State);
        Assert.Equal([RepairEvidence.FullWash, RepairEvidence.HeatingCircuits], verdict.Missing);
        Assert.Null(verdict.SettledAt);
    }

    [Fact]
    public void All_proofs_that_were_asked_prove_it_when_the_visit_ends()
    {
        RepairVerdict verdict = Judge(Repair(("full-wash", ProofResult.Passed), Heated, ("no-leak", ProofResult.Passed)), []);
        Assert.Equal(RepairState.ProvenByProofs, verdict.State);
        Assert.Equal(Left, verdict.SettledAt);
        Assert.Empty(verdict.Missing);
    }

    [Theory]
    [InlineData("no-leak", ProofResult.NotDone, "no-leak")]
    [InlineData("no-leak", ProofResult.Failed, "no-leak")]
    [InlineData("FULL-WASH", ProofResult.NotDone, "FULL-WASH")]
    public void One_proof_that_is_missing_leaves_it_unproven(string code, ProofResult result, string missing)
    {
        (string, ProofResult)[] proofs = code == "no-leak" ? [("full-wash", ProofResult.Passed), Heated, (code, result)] : [Heated, (code, result)];
        RepairVerdict verdict = Judge(Repair(proofs), []);
        Assert.Equal(RepairState.NotProven, verdict.State);
        Assert.Equal([missing], verdict.Missing);
    }

    [Fact]
    public void Proofs_without_the_full_wash_are_not_enough()
    {
        RepairVerdict verdict = Judge(Repair(Heated, ("no-leak", ProofResult.Passed)), []);
        Assert.Equal(RepairState.NotProven, verdict.State);
        Assert.Equal([RepairEvidence.FullWash], verdict.Missing);
    }

    [Theory]
    [InlineData(null)]
    [InlineData(ProofResult.NotDone)]
    [InlineData(ProofResult.Failed)]
    public void A_full_wash_is_not_enough_while_a_heating_circuit_may_not_fire(ProofResult? heating)
    {
        (string, ProofResult)[] told = heating is { } result ? [(RepairEvidence.HeatingCircuits, result)] : [];
        RepairVerdict verdict = Judge(Repair([("full-wash", ProofResult.Passed), .. told]), []);
        Assert.Equal(RepairState.NotProven, verdict.State);
        Assert.Equal([RepairEvidence.HeatingCircuits], verdict.Missing);
    }

    [Fact]
    public void Three_clean_washes_in_a_row_prove_it_at_the_end_of_the_third()
    {
        RepairVerdict verdict = Judge(Repair(), [Clean("2026-03-02T09:05"), Clean("2026-03-03T20:00"), Clean("2026-03-04T20:00")]);
        Assert.Equal((RepairState.ProvenByWashes, 3), (verdict.State, verdict.CleanWashes));
        Assert.Equal(At("2026-03-04T21:30"), verdict.SettledAt);
        Assert.Equal(At("2026-03-02T09:00"), verdict.RepairedAt);
    }

    [Fact]
    public void Two_clean_washes_do_not()
    {
        RepairVerdict verdict = Judge(Repair(), [Clean("2026-03-02T20:00"), Clean("2026-03-03T20:00")]);
        Assert.Equal((RepairState.NotProven, 2), (verdict.State, verdict.CleanWashes));
    }

    [Fact]
    public void Washes_before_the_fault_was_cleared_speak_of_nothing()
    {
        RepairVerdict verdict = Judge(Repair(), [Stopped("2026-03-02T08:30", "E1")]);
        Assert.Equal((RepairState.NotProven, 0), (verdict.State, verdict.WashesSeen));
    }

    [Fact]
    public void Too_low_a_grade_detergent_left_and_stops_by_people_are_no_evidence()
    {
        RepairVerdict verdict = Judge(
            Repair(),
            [
                One("2026-03-02T20:00", WashOutcome.StoppedByPerson), One("2026-03-03T20:00", WashOutcome.Completed, ProgrammeGrade.Light),
                One("2026-03-04T20:00", WashOutcome.Completed, detergentLeft: true), Clean("2026-03-05T20:00"),
                One("2026-03-06T20:00", WashOutcome.Completed, by: "shift lead"), One("2026-03-07T20:00", WashOutcome.Completed, ProgrammeGrade.Descale),
            ]);
        Assert.Equal((RepairState.NotProven, 1, 4), (verdict.State, verdict.CleanWashes, verdict.WashesSeen));
    }

    [Fact]
    public void A_first_wash_that_a_fault_stopped_outweighs_proofs_that_passed()
    {
        RepairVerdict verdict = Judge(
            Repair(("full-wash", ProofResult.Passed)), [One("2026-03-02T12:00", WashOutcome.StoppedByPerson), Stopped("2026-03-02T20:00", "E9"), Clean("2026-03-03T20:00")]);
        Assert.Equal((RepairState.Contradicted, RepairContradiction.FirstWashStopped), (verdict.State, verdict.Contradiction));
        Assert.Equal(At("2026-03-02T21:30"), verdict.SettledAt);
        Assert.False(verdict.IsProven);
    }

    [Fact]
    public void A_first_wash_that_was_refused_contradicts() => Assert.Equal(
        RepairContradiction.FirstWashRefused, Judge(Repair(), [One("2026-03-02T20:00", WashOutcome.Refused)]).Contradiction);

    [Theory]
    [InlineData("2026-03-09T09:00", RepairState.Contradicted)]
    [InlineData("2026-03-09T09:01", RepairState.ProvenByWashes)]
    public void The_same_fault_within_seven_days_contradicts_even_after_three_clean_washes(string raised, RepairState expected)
    {
        WashFault again = new("e1", At(raised), null, true);
        WashWithFault[] washes = [Clean("2026-03-02T20:00"), Clean("2026-03-03T20:00"), Clean("2026-03-04T20:00")];
        Assert.Equal(expected, RepairEvidence.Judge(Repair(), [Fault, again], washes, Later, Terms).State);
    }

    [Fact]
    public void Another_fault_later_says_nothing_of_this_repair()
    {
        WashFault other = new("E2", At("2026-03-03T00:00"), null, true);
        WashWithFault[] washes = [Clean("2026-03-02T20:00"), Stopped("2026-03-03T20:00", "E2"), Clean("2026-03-04T20:00"), Clean("2026-03-05T20:00")];
        Assert.Equal(RepairState.ProvenByWashes, RepairEvidence.Judge(Repair(), [Fault, other], washes, Later, Terms).State);
    }

    [Fact]
    public void What_happens_from_the_next_repair_on_is_left_out()
    {
        WashWithFault[] washes = [Clean("2026-03-02T20:00"), Clean("2026-03-03T20:00"), Clean("2026-03-04T20:00")];
        RepairVerdict verdict = RepairEvidence.Judge(Repair(), [Fault], washes, At("2026-03-04T21:30"), Terms);
        Assert.Equal((RepairState.NotProven, 2), (verdict.State, verdict.CleanWashes));
    }

    // Minutes after leaving; the fault was cleared an hour before that. What a person says of the visit's wash is held against the last one.
    [Theory]
    [InlineData(-30, WashOutcome.Completed, RepairContradiction.None)]
    [InlineData(-30, WashOutcome.StoppedByPerson, RepairContradiction.WashOfVisitStopped)]
    [InlineData(-30, WashOutcome.Refused, RepairContradiction.WashOfVisitStopped)]
    [InlineData(-30, WashOutcome.Unknown, RepairContradiction.None)]
    [InlineData(-120, WashOutcome.StoppedByFault, RepairContradiction.WashOfVisitStopped)]
    [InlineData(0, WashOutcome.StoppedByFault, RepairContradiction.WashOfVisitStopped)]
    [InlineData(-121, WashOutcome.StoppedByFault, RepairContradiction.None)]
    [InlineData(1, WashOutcome.StoppedByFault, RepairContradiction.FirstWashStopped)]
    [InlineData(1, WashOutcome.Refused, RepairContradiction.FirstWashRefused)]
    [InlineData(1, WashOutcome.StoppedByPerson, RepairContradiction.None)]
    [InlineData(1, WashOutcome.Completed, RepairContradiction.None)]
    public void A_full_wash_that_is_claimed_is_held_against_the_last_wash_of_the_visit_else_against_the_next(
        int minute, WashOutcome outcome, RepairContradiction expected) =>
        Assert.Equal(expected, Claimed(false, null, After(minute, outcome)));

    [Fact]
    public void The_last_wash_of_the_visit_answers_whatever_came_before_and_after()
    {
        WashWithFault[] washes = [After(80, WashOutcome.StoppedByFault) with { FaultCode = "E9" }, After(-60, WashOutcome.Completed), After(-110, WashOutcome.StoppedByFault)];
        Assert.Equal(RepairContradiction.None, Claimed(false, null, washes));
        Assert.Equal(RepairContradiction.WashOfVisitStopped, Claimed(false, null, [.. washes, After(-59, WashOutcome.StoppedByFault)]));
    }

    [Fact]
    public void Where_nothing_is_claimed_only_a_fault_or_a_refusal_after_the_repair_speaks_against_it()
    {
        Assert.Equal(RepairContradiction.None, Judge(Repair(), [After(-90, WashOutcome.StoppedByFault)]).Contradiction);
        Assert.Equal(RepairContradiction.None, Judge(Repair(), [After(-30, WashOutcome.StoppedByPerson)]).Contradiction);
        Assert.Equal(RepairContradiction.FirstWashStopped, Judge(Repair(), [After(-30, WashOutcome.StoppedByFault) with { FaultCode = "E9" }]).Contradiction);
        WashWithFault[] mended = [After(-50, WashOutcome.StoppedByFault) with { FaultCode = "E9" }, After(-30, WashOutcome.Completed)];
        Assert.Equal(RepairContradiction.None, Judge(Repair(), mended).Contradiction);
    }

    [Fact]
    public void A_person_who_stops_the_next_wash_says_nothing_and_the_one_after_it_answers() => Assert.Equal(
        RepairContradiction.FirstWashRefused, Claimed(false, null, After(1, WashOutcome.StoppedByPerson), After(20, WashOutcome.Refused)));

    [Fact]
    public void A_lower_grade_and_detergent_left_contradict_what_was_said_of_them()
    {
        WashWithFault light = After(-60, WashOutcome.Completed) is var one ? one with { Wash = one.Wash with { Grade = ProgrammeGrade.Light } } : one;
        Assert.Equal(RepairContradiction.WashOfVisitTooLow, Claimed(false, ProgrammeGrade.Standard, light));
        Assert.Equal(RepairContradiction.None, Claimed(false, null, light));
        WashWithFault rests = After(-60, WashOutcome.Completed) is var two ? two with { Wash = two.Wash with { DetergentLeft = true } } : two;
        Assert.Equal(RepairContradiction.DetergentLeft, Claimed(true, null, rests));
        Assert.Equal(RepairContradiction.None, Claimed(false, null, rests));
    }

    [Fact]
    public void What_contradicts_a_proof_that_passed_outweighs_it()
    {
        RepairVerdict verdict = Judge(Repair(("full-wash", ProofResult.Passed)), [After(-30, WashOutcome.StoppedByPerson)]);
        Assert.Equal(RepairState.Contradicted, verdict.State);
        Assert.Equal(Left - Duration.FromMinutes(30), verdict.ContradictedBy!.StartedAt);
    }

    // Hanley and Lippman-Hand (1983) JAMA 249, 1743: no event in 167 cases leaves up to 1.8 %, by the rule 3/n.
    [Fact]
    public void No_failure_in_so_many_rules_out_what_the_published_example_says()
    {
        Assert.Equal(0.018, RepairEvidence.ShareRuledOut(167), 0.0005);
        Assert.InRange(RepairEvidence.ShareRuledOut(59), 0.0495, 0.05);
        Assert.InRange(RepairEvidence.ShareRuledOut(58), 0.05, 0.0505);
        Assert.Equal(1 - Math.Cbrt(0.05), RepairEvidence.ShareRuledOut(3), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => RepairEvidence.ShareRuledOut(0));
    }

    private static RepairContradiction Claimed(bool dissolved, ProgrammeGrade? fullWash, params WashWithFault[] washes) => RepairEvidence.Judge(
        Repair([("full-wash", ProofResult.Passed), .. dissolved ? [("detergent-dissolved", ProofResult.Passed)] : Array.Empty<(string, ProofResult)>()]),
        [Fault], washes, Later, ProofTerms.Usual(ProgrammeGrade.Standard, fullWash)).Contradiction;

    private static WashWithFault After(int minute, WashOutcome outcome)
    {
        Instant start = Left + Duration.FromMinutes(minute);
        return new WashWithFault(
            new Wash(start, outcome == WashOutcome.Refused ? null : start + Duration.FromMinutes(5), ProgrammeGrade.Standard, outcome), null);
    }

    private static (string, ProofResult) Heated => (RepairEvidence.HeatingCircuits, ProofResult.Passed);

    private static ProofTerms Terms => ProofTerms.Usual(ProgrammeGrade.Standard);

    private static RepairVerdict Judge(CompletedRepair repair, IEnumerable<WashWithFault> washes) =>
        RepairEvidence.Judge(repair, [Fault], washes, Later, Terms);

    private static CompletedRepair Repair(params (string Code, ProofResult Result)[] proofs) =>
        new(Arrived, Left, true, ["E1"], [.. proofs.Select(proof => new TakenProof(proof.Code, proof.Result))]);

    private static WashWithFault Clean(string at) => One(at, WashOutcome.Completed);

    private static WashWithFault Stopped(string at, string fault) => One(at, WashOutcome.StoppedByFault) with { FaultCode = fault };

    private static WashWithFault One(
        string at, WashOutcome outcome, ProgrammeGrade grade = ProgrammeGrade.Standard, bool? detergentLeft = null, string? by = null) => new(
        new Wash(At(at), outcome == WashOutcome.Refused ? null : At(at) + Duration.FromMinutes(90), grade, outcome, detergentLeft, by), null);

    private static Instant At(string text) => InstantPattern.ExtendedIso.Parse(text + ":00Z").Value;
}
