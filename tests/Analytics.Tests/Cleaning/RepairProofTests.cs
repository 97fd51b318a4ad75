using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>The convention of <see cref="RepairProof"/>, case by case; no source outside states one.</summary>
public sealed class RepairProofTests
{
    private static readonly Instant Arrived = Instant.FromUtc(2026, 3, 2, 9, 0);
    private static readonly Instant Left = Arrived + Duration.FromHours(2);

    [Theory]
    [InlineData(30, WashOutcome.Completed, ProofContradiction.None)]
    [InlineData(30, WashOutcome.StoppedByPerson, ProofContradiction.WashOfVisitStopped)]
    [InlineData(30, WashOutcome.Refused, ProofContradiction.WashOfVisitStopped)]
    [InlineData(30, WashOutcome.Unknown, ProofContradiction.None)]
    [InlineData(0, WashOutcome.StoppedByFault, ProofContradiction.WashOfVisitStopped)]
    [InlineData(120, WashOutcome.StoppedByFault, ProofContradiction.WashOfVisitStopped)]
    [InlineData(-1, WashOutcome.StoppedByFault, ProofContradiction.None)]
    [InlineData(121, WashOutcome.StoppedByFault, ProofContradiction.NextWashStopped)]
    [InlineData(121, WashOutcome.Refused, ProofContradiction.NextWashRefused)]
    [InlineData(121, WashOutcome.StoppedByPerson, ProofContradiction.None)]
    [InlineData(121, WashOutcome.Completed, ProofContradiction.None)]
    public void A_full_wash_is_held_against_the_wash_of_the_visit_else_against_the_next(int minute, WashOutcome outcome, ProofContradiction expected) =>
        Assert.Equal(expected, Of(ProgrammeGrade.Standard, true, false, Wash(minute, outcome)));

    [Fact]
    public void The_last_wash_of_the_visit_decides_whatever_came_before_and_after()
    {
        Wash[] washes = [Wash(200, WashOutcome.StoppedByFault), Wash(60, WashOutcome.Completed), Wash(10, WashOutcome.StoppedByFault)];
        Assert.Equal(ProofContradiction.None, Of(ProgrammeGrade.Standard, true, false, washes));
        Assert.Equal(ProofContradiction.WashOfVisitStopped, Of(ProgrammeGrade.Standard, true, false, [.. washes, Wash(61, WashOutcome.StoppedByFault)]));
    }

    [Fact]
    public void A_wash_by_hand_and_descaling_say_nothing_and_what_nobody_claimed_is_not_contradicted()
    {
        Wash byHand = Wash(60, WashOutcome.StoppedByFault) with { AttestedBy = "cook" };
        Wash descaling = Wash(60, WashOutcome.StoppedByFault) with { Grade = ProgrammeGrade.Descale };
        Assert.Equal(ProofContradiction.None, Of(ProgrammeGrade.Standard, true, true, byHand, descaling));
        Assert.Equal(ProofContradiction.None, Of(ProgrammeGrade.Standard, false, false, Wash(60, WashOutcome.StoppedByFault)));
        Assert.Equal(ProofContradiction.None, Of(ProgrammeGrade.Standard, true, true));
    }

    [Fact]
    public void A_lower_grade_and_detergent_left_contradict_what_was_said_of_them()
    {
        Wash light = Wash(60, WashOutcome.Completed) with { Grade = ProgrammeGrade.Light };
        Assert.Equal(ProofContradiction.WashOfVisitTooLow, Of(ProgrammeGrade.Standard, true, false, light));
        Assert.Equal(ProofContradiction.None, Of(null, true, false, light));
        Wash withRests = Wash(60, WashOutcome.Completed) with { DetergentLeft = true };
        Assert.Equal(ProofContradiction.DetergentLeft, Of(ProgrammeGrade.Standard, true, true, withRests));
        Assert.Equal(ProofContradiction.None, Of(ProgrammeGrade.Standard, true, false, withRests));
    }

    private static ProofContradiction Of(ProgrammeGrade? asked, bool fullWash, bool dissolved, params Wash[] washes) =>
        RepairProof.Contradiction(Arrived, Left, fullWash, dissolved, asked, washes).Contradiction;

    private static Wash Wash(int minute, WashOutcome outcome)
    {
        Instant start = Arrived + Duration.FromMinutes(minute);
        return new Wash(start, outcome == WashOutcome.Refused ? null : start + Duration.FromMinutes(5), ProgrammeGrade.Standard, outcome);
    }
}
