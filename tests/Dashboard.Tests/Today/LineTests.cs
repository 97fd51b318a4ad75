using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Tests.Today;

/// <summary>What becomes a line, whose it is, and what is joined.</summary>
public sealed class LineTests
{
    [Fact]
    public void Ovens_that_share_a_state_and_a_cause_share_a_line_with_their_count_and_the_longest_first()
    {
        UnitCleaning[] ovens = [.. Enumerable.Range(1, 10).Select(i => TodaySamples.Oven(i, CleaningState.Overdue, Cause.NobodyStarted, i * 24, "kitchen"))];
        TodayLine line = Assert.Single(UnitLines.Of(ovens, Samples.AsOf));
        Assert.Equal("10 ovens are overdue: nobody started a wash.", line.Sentence);
        Assert.Equal((TodayRole.Operator, 10, Samples.AsOf.AddDays(-10)), (line.Role, line.Count, line.Since!.Value));
        Assert.Equal(["OV-1010", "OV-1009", "OV-1008", "OV-1007"], line.Items.Select(item => item.Name));
        Assert.Equal(("See all 10", "/cleaning?state=overdue&whose_move=kitchen"), (line.Action, line.Href));
    }

    [Theory]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingTechnician, "service", TodayRole.Technician, "/units/OV-1003/visit-sheet")]
    [InlineData(CleaningState.LockedOut, Cause.BeingWorkedOn, "service", TodayRole.Technician, "/visits/new?unit=OV-1003")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingPart, "supplier", TodayRole.Planner, "/units/OV-1003")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutNoVisitAsked, "kitchen", TodayRole.Operator, "/sites/S3")]
    [InlineData(CleaningState.Overdue, Cause.StoppedByFault, "service", TodayRole.Technician, "/units/OV-1003/visit-sheet")]
    [InlineData(CleaningState.Overdue, Cause.WashDidNotCount, "kitchen", TodayRole.Operator, "/sites/S3")]
    [InlineData(CleaningState.Silent, Cause.Silent, "connection", TodayRole.Operator, "/sites/S3")]
    public void One_oven_needs_whoever_can_act_and_leads_to_the_next_step(CleaningState state, Cause cause, string move, TodayRole role, string href)
    {
        TodayLine line = Assert.Single(UnitLines.Of([TodaySamples.Oven(3, state, cause, 30, move)], Samples.AsOf));
        Assert.Equal((role, href), (line.Role, line.Href));
        Assert.StartsWith("OV-1003 at ", line.Sentence, StringComparison.Ordinal);
        Assert.Empty(line.Items);
    }

    [Fact]
    public void An_oven_that_washes_every_day_and_is_late_for_descaling_is_not_told_to_wash()
    {
        UnitCleaning[] ovens =
        [
            TodaySamples.Oven(3, CleaningState.Overdue, Cause.NobodyStarted, 30, "kitchen"),
            TodaySamples.Oven(4, CleaningState.Overdue, Cause.NobodyStarted, 20, "kitchen") with { Grade = ProgrammeGrade.Descale },
        ];
        Assert.Equal(2, UnitLines.Of(ovens, Samples.AsOf).Count());
        Assert.Contains(UnitLines.Of(ovens, Samples.AsOf), line => line.Sentence.EndsWith("is overdue for descaling.", StringComparison.Ordinal));
    }

    [Fact]
    public void An_oven_that_has_washed_since_its_lockout_began_is_not_told_to_be_unable_to_wash()
    {
        UnitCleaning locked = TodaySamples.Oven(3, CleaningState.LockedOut, Cause.LockoutNoVisitAsked, 30, "kitchen");
        UnitCleaning washed = locked with { HasWashedSince = true };

        TodayLine line = Assert.Single(UnitLines.Of([washed], Samples.AsOf));

        Assert.EndsWith("is told to be locked out, but has washed since.", line.Sentence, StringComparison.Ordinal);
        Assert.Equal((TodayRole.Service, "/units/OV-1003"), (line.Role, line.Href));
        Assert.Contains("cannot wash", Assert.Single(UnitLines.Of([locked], Samples.AsOf)).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_state_and_cause_has_a_line_or_is_told_elsewhere()
    {
        foreach (CleaningState state in new[] { CleaningState.LockedOut, CleaningState.Overdue, CleaningState.Silent })
        {
            foreach (Cause cause in Enum.GetValues<Cause>())
            {
                TodayLine[] lines = [.. UnitLines.Of([TodaySamples.Oven(1, state, cause, 5, "kitchen")], Samples.AsOf)];

                // Approvals have a line of their own, with what waiting costs.
                Assert.Equal(state == CleaningState.LockedOut && cause == Cause.LockoutWaitingApproval ? 0 : 1, lines.Length);
            }
        }
    }

    [Fact]
    public void Repairs_with_one_same_doubt_share_a_line_and_another_doubt_has_its_own()
    {
        RepairRow[] rows =
        [
            .. Enumerable.Range(1, 9).Select(i => Repair(i, RepairState.NotProven, "Repaired, not proven. Missing: full wash; or 3 clean washes in a row.")),
            Repair(10, RepairState.Contradicted, "In doubt: the fault came back."),
        ];
        TodayLine[] lines = [.. RepairLines.Unproven(rows)];
        Assert.Equal(["9 repairs are not proven.", "The repair of OV-10 at Pier 4 is in doubt."], lines.Select(line => line.Sentence));
        Assert.Equal(9, lines[0].Count);
        Assert.StartsWith("Full wash; or 3 clean washes in a row.", lines[0].Reason, StringComparison.Ordinal);
        Assert.Equal("/?for=technician#unproven", lines[0].Href);
        Assert.Equal("/units/OV-10", lines[1].Href);
    }

    [Fact]
    public void A_planner_sees_the_visits_of_two_weeks_and_parts_that_are_due_and_undecided()
    {
        var today = new DateOnly(2026, 3, 2);
        PlannedVisit[] visits = [Visit(today.AddDays(2), today.AddDays(-9)), Visit(today.AddDays(14), today.AddDays(30)), Visit(today.AddDays(15), today)];
        TodayLine soon = PlannerLines.Visits(visits, today)!;
        Assert.Equal(("2 visits are planned for the next 14 days.", today.AddDays(2)), (soon.Sentence, soon.On!.Value));
        TodayLine due = PlannerLines.Due(visits, today)!;
        Assert.Equal((2, today.AddDays(-9)), (due.Count, due.On!.Value));
        Assert.Null(PlannerLines.Visits([], today));
        Assert.Null(PlannerLines.Due([visits[1]], today));
    }

    [Fact]
    public void Nothing_is_no_line()
    {
        Assert.Empty(UnitLines.Of([], Samples.AsOf));
        Assert.Empty(RepairLines.Unproven([]));
        Assert.Null(RepairLines.Granted([]));
        Assert.Null(ServiceLines.Refused(new Dictionary<string, int>()));
        Assert.Null(PlannerLines.Wearing([]));
        Assert.Equal("Nothing needs a technician today.", TodaySentences.Finding(TodayRole.Technician, 0));
        Assert.Equal("1 thing needs the planner today.", TodaySentences.Finding(TodayRole.Planner, 1));
    }

    private static RepairRow Repair(int i, RepairState state, string sentence) => new(
        "OV-" + i, "S1", "Pier 4", Samples.Zone, "V" + i, Samples.AsOf.AddDays(-i), [], state, default, ["full_wash"], 0, 3, null, sentence, []);

    private static PlannedVisit Visit(DateOnly day, DateOnly due) => new(
        "S1", "Pier 4", "OP1", null, day, day, 35, 200, 0, "Swap the wash pump of OV-1.",
        [new VisitJob("OV-1", "wash-pump", "Wash pump", null, null, 35, null, due, null, null, null, "It is due.")]);
}
