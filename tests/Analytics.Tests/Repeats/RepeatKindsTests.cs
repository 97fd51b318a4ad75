using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;
using Washwear.Analytics.Repeats;

namespace Washwear.Analytics.Tests.Repeats;

/// <summary>What a repeat points to, each case by hand.</summary>
public sealed class RepeatKindsTests
{
    private const long Day = 86_400_000;
    private const int Pump = 1, Valve = 2, NotClean = 40, Batch = 77;

    private static readonly RepairDone First = new(1, Pump, 0, 5000 * Day, null, NotClean, Batch);

    [Theory]
    [InlineData(14, RepeatKind.WrongCauseFound)]
    [InlineData(14.1, RepeatKind.AsExpected)]
    public void The_same_fault_mended_elsewhere_weeks_later_has_come_anew(double days, RepeatKind expected) =>
        Assert.Equal(expected, Only(new FailureSeen(1, (long)(days * Day), Valve, NotClean), Model()).Kind);

    [Fact]
    public void The_same_fault_mended_elsewhere_the_next_time_was_a_wrong_cause()
    {
        Repeat repeat = Only(new FailureSeen(1, 5 * Day, Valve, NotClean), Model());
        Assert.Equal(RepeatKind.WrongCauseFound, repeat.Kind);
        Assert.False(repeat.SamePosition);
    }

    [Fact]
    public void The_same_fault_with_no_finding_yet_is_not_said_to_be_a_wrong_cause() =>
        Assert.Equal(RepeatKind.AsExpected, Only(new FailureSeen(1, 5 * Day, null, NotClean), Model()).Kind);

    [Theory]
    [InlineData(14, 0, RepeatKind.RepairDidNotHold, 14)]
    [InlineData(15, 0, RepeatKind.AsExpected, 14)]
    [InlineData(30, 30, RepeatKind.RepairDidNotHold, 30)]
    [InlineData(31, 30, RepeatKind.AsExpected, 30)]
    [InlineData(90, 300, RepeatKind.RepairDidNotHold, 90)]
    public void The_same_position_early_points_to_the_repair(int day, double fivePercentFailedByDay, RepeatKind kind, double early)
    {
        Repeat repeat = Only(new FailureSeen(1, day * Day, Pump), Model(early: fivePercentFailedByDay));
        Assert.Equal(kind, repeat.Kind);
        Assert.Equal(early, repeat.EarlyDays);
    }

    [Fact]
    public void Later_a_bad_batch_comes_before_a_unit_that_eats_parts_and_both_are_kept()
    {
        Repeat both = Only(new FailureSeen(1, 60 * Day, Pump), Model(chanceAbove: 0.96, badBatch: true));
        Assert.Equal(RepeatKind.BadBatch, both.Kind);
        Assert.Equal([RepeatKind.UnitEatsParts], both.Also);
        Assert.Equal(Batch, both.Batch!.Group);
        Repeat early = Only(new FailureSeen(1, 6 * Day, Pump), Model(chanceAbove: 0.96, badBatch: true));
        Assert.Equal(RepeatKind.RepairDidNotHold, early.Kind);
        Assert.Equal([RepeatKind.BadBatch, RepeatKind.UnitEatsParts], early.Also);
        Assert.Equal(RepeatKind.UnitEatsParts, Only(new FailureSeen(1, 60 * Day, Pump), Model(chanceAbove: 0.96)).Kind);
        Assert.Equal(RepeatKind.AsExpected, Only(new FailureSeen(1, 60 * Day, Pump), Model(chanceAbove: 0.94)).Kind);
    }

    [Fact]
    public void Too_many_for_chance_without_any_of_these_stay_unexplained()
    {
        Repeat repeat = Only(new FailureSeen(1, 60 * Day, Pump), Model(chance: 0.01));
        Assert.Equal(RepeatKind.Unexplained, repeat.Kind);
        Assert.True(repeat.Place.Called);
        Assert.Equal(0.01, repeat.ExpectedChance!.Value, 12);
    }

    private static Repeat Only(FailureSeen failure, RepeatModel model) => Assert.Single(RepeatFailures.Find([First], [failure], model).Repeats);

    private static RepeatModel Model(double early = 0, double chanceAbove = 0.5, bool badBatch = false, double chance = 0.3) => new(
        (_, _) => chance,
        _ => early,
        [new Excess(1, Pump, 3, 1, 0.1, 0.4, false) { Shrunken = new UnitRate(new Estimate(2, 1, 3, 0.95, "by hand"), null, null, chanceAbove) }],
        [new Excess(Batch, Pump, 9, 3, 0.001, 0.01, badBatch)]);
}
