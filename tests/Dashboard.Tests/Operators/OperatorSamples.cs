using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Tests.Approvals;
using Washwear.Dashboard.Tests.Failures;
using Washwear.Dashboard.Tests.Planning;

namespace Washwear.Dashboard.Tests.Operators;

/// <summary>Operators full, empty and hostile.</summary>
public static class OperatorSamples
{
    private static readonly Dictionary<CleaningState, int> States = new()
    {
        [CleaningState.Clean] = 31,
        [CleaningState.LockedOut] = 2,
        [CleaningState.Overdue] = 4,
        [CleaningState.Silent] = 1,
    };

    public static WashingChange Washing { get; } = new(
        "In the last 28 days 880 of 1,010 washes that were due were on time (87 %). That is better than the 28 days before by more than chance: +4.1 points (1.2 to 7.0).",
        Stretch(56, 1_000, 830), Stretch(28, 1_010, 880), new Estimate(0.041, 0.012, 0.07, 0.95, "units as clusters"),
        [new(Cause.NobodyStarted, 412, 301, 0.012), new(Cause.LockoutWaitingPart, 0, 96, 0.004), new(Cause.Silent, 48, 0, 0)]);

    public static OperatorReport Full { get; } = new(
        Samples.Basis("state by the cleaning rules", 38), "OP0", "Quillmere Kitchens",
        "Of 38 ovens in 9 kitchens, 2 cannot wash, 4 are overdue and 1 is not heard from, in 5 kitchens.", 9, 5, 38, States, Washing,
        ApprovalSamples.Page.Open, new OperatorRepeats(90, 6, "6 parts failed again in the last 90 days.", [.. FailureSamples.Repeats.Repeats.Take(5)]),
        PlanSamples.Plan,
        [
            Kitchen(3, Samples.Unit(3, CleaningState.LockedOut, Cause.LockoutWaitingPart, 190, "supplier", "Locked out, waiting for a part."), "Ask after the part"),
            Kitchen(4, Samples.Unit(4, CleaningState.Overdue, Cause.NobodyStarted, 20, "kitchen", "Nobody started a wash."), "Wash it now"),
            Kitchen(5, Samples.Unit(5, CleaningState.Clean, Cause.InOrder, 0, "nobody", "In order."), null), Kitchen(6, null, null),
        ],
        "cursor-2");

    public static OperatorReport Empty { get; } = Full with
    {
        Sentence = "No oven of this operator is under a cleaning rule.",
        Units = 0,
        Rows = [],
        Next = null,
    };

    public static OperatorReport Quiet { get; } = Full with
    {
        Washing = new WashingChange("In the last 28 days no wash was due that could be judged.", Stretch(56, 0, 0), Stretch(28, 0, 0), null, []),
        Approvals = ApprovalSamples.Empty.Open,
        Repeats = new OperatorRepeats(90, 0, "None failed again.", []),
        Plan = PlanSamples.Empty.Plan,
        Rows = [],
        Next = null,
    };

    public static OperatorReport Hostile { get; } = new(
        Tests.Hostile.EmptyBasis, Tests.Hostile.Name, Tests.Hostile.LongName, Tests.Hostile.Name, -1, -1, 1,
        new Dictionary<CleaningState, int> { [CleaningState.Due] = -1, [CleaningState.Silent] = 1 },
        new WashingChange(
            Tests.Hostile.Name, Stretch(56, 0, 0), Stretch(28, 1, 1) with { OnTimeShare = new Estimate(double.NaN, null, null, 0.95, Tests.Hostile.Name) }, null,
            [new(Cause.NoRule, double.NaN, double.PositiveInfinity, double.NaN)]),
        ApprovalSamples.HostilePage.Open, new OperatorRepeats(-1, int.MaxValue, Tests.Hostile.Name, HostileFailures.Repeats.Repeats), PlanSamples.HostilePage.Plan,
        [new(Tests.Hostile.Name, Tests.Hostile.LongName, Tests.Hostile.Name, 0, 0, new Dictionary<CleaningState, int>(), Tests.Hostile.Unit(CleaningState.Overdue), Tests.Hostile.Name)],
        Tests.Hostile.Name);

    public static OperatorListReport List { get; } = new(
        Samples.Basis("registry search", 3), "3 operators on record; 7 ovens wait for somebody, most at Quillmere Kitchens (7 of 38).", "e",
        [.. Samples.OperatorNames.Select((name, i) => new OperatorListRow($"OP{i}", name, 9 - i, 38 - i, 7 - i, States, i == 2 ? null : Samples.Share(0.87, 0.82, 0.9)))],
        "cursor-2");

    public static OperatorListReport HostileList { get; } = new(
        Tests.Hostile.EmptyBasis, Tests.Hostile.Name, Tests.Hostile.Name,
        [new(Tests.Hostile.Name, Tests.Hostile.LongName, -1, 0, 0, new Dictionary<CleaningState, int>(), new Estimate(double.NaN, double.NaN, null, 0.95, ""))], Tests.Hostile.Name);

    private static OperatorKitchen Kitchen(int i, Dashboard.Cleaning.UnitCleaning? worst, string? step) => new(
        $"S{i}", Samples.SiteNames[i], i == 4 ? null : "North", worst is null ? 0 : 3, step is null ? 0 : 1,
        worst is null ? new Dictionary<CleaningState, int>() : new() { [worst.State] = 1, [CleaningState.Closed] = 2 }, worst, step);

    private static WashingStretch Stretch(int daysBack, int due, int onTime) => new(
        Samples.AsOf.AddDays(-daysBack), Samples.AsOf.AddDays(28 - daysBack), 38, due, onTime,
        due == 0 ? null : Samples.Share((double)onTime / due, 0.8, 0.92), due == 0 ? null : 0.97, due * 24);
}
