using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Tests.Planning;
using Washwear.Dashboard.Tests.Repairs;

namespace Washwear.Dashboard.Tests.Operators;

/// <summary>Months full, empty and hostile.</summary>
public static class MonthSamples
{
    public static MonthReport Full { get; } = new(
        Samples.Basis("every due wash judged at its deadline", 1_010), "OP0", "Quillmere Kitchens", "2025-05", "May 2025", Samples.Zone, true,
        "In May 2025 87 % of the 1,010 washes that were due were on time.", 9, 38, OperatorSamples.Washing,
        [new("S3", "Fennel Street Clinic", 3, 90, 71, Samples.Share(0.79, 0.6, 0.9), Cause.LockoutWaitingPart, 96), new("S4", "Hall", 1, 4, 3, null, null, 0)], 5,
        [
            .. Enumerable.Range(0, 14).Select(i => new MonthLockout(
                $"OV-{i}", "S3", "Fennel Street Clinic", Samples.Zone, Samples.AsOf.AddDays(-20 - i), i % 3 == 0 ? null : Samples.AsOf.AddDays(-18), 48 + i, ["E-41", "E-42"],
                i == 1 ? null : "Drain valve does not close", (DelayKind)(i % 5))),
        ],
        [RepairSamples.InDoubt, RepairSamples.InDoubt with { State = RepairState.ProvenByProofs, Faults = [] }],
        [
            .. Enumerable.Range(0, 9).Select(i => new MonthPart(
                $"OV-{i}", "S3", "Fennel Street Clinic", Samples.Zone, Samples.AsOf.AddDays(-i), "wash-pump", "Wash pump", i % 2 == 0 ? "failed" : null, null, 400, "P-1")),
        ],
        PlanSamples.Plan,
        [.. Enumerable.Range(0, 14).Select(i => new MonthSilence($"OV-{i}", "S3", "Fennel Street Clinic", 50 - i))]);

    public static MonthReport Empty { get; } = Full with
    {
        IsOver = false,
        Sentence = "In May 2025, so far, no wash was due that could be judged.",
        Washing = OperatorSamples.Quiet.Washing,
        WorstKitchens = [],
        KitchensThatMissed = 0,
        Lockouts = [],
        Repairs = [],
        Parts = [],
        Plan = PlanSamples.Empty.Plan,
        NotHeard = [],
    };

    public static MonthReport Hostile { get; } = new(
        Tests.Hostile.EmptyBasis, Tests.Hostile.Name, Tests.Hostile.LongName, Tests.Hostile.Name, Tests.Hostile.Name, "No/Such_Zone", false, Tests.Hostile.Name, -1, -1,
        OperatorSamples.Hostile.Washing,
        [new(Tests.Hostile.Name, Tests.Hostile.LongName, -1, 0, 0, new Estimate(double.NaN, null, double.PositiveInfinity, 0.95, ""), Cause.NoRule, double.NaN)], -1,
        [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.LongName, "No/Such_Zone", DateTimeOffset.MinValue, DateTimeOffset.MaxValue, double.NaN, [Tests.Hostile.Name], Tests.Hostile.Name, default)],
        [RepairSamples.Bad],
        [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.LongName, "No/Such_Zone", DateTimeOffset.MaxValue, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, null, double.NaN, null)],
        PlanSamples.HostilePage.Plan,
        [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.LongName, double.PositiveInfinity)]);
}
