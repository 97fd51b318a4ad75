using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Visits;

namespace Washwear.Dashboard.Tests.Visits;

/// <summary>Forms and receipts of an invented visit, and hostile ones.</summary>
public static class VisitSamples
{
    private const string Key = "0196f2aa-1111-7aaa-8bbb-123456789abc";

    public static CloseOutReport Form { get; } = new(
        "OV-1003", "73-0021987", "S3", "Fennel Street Clinic", "Hearth 20, twenty trays", Samples.Zone, "tech 4", true, Key,
        [new("E21", "No water circulates", Samples.AsOf.AddDays(-2)), new("E30", "Does not drain", null)],
        [new("turn-impeller", "Turn the impeller by hand", 5, ["electric", "caustic"], true), new("drain-by-clock", "Time the draining", 6, [], false)],
        "First the one after which E21 is mended soonest: in 5 min it speaks of 66 % of what it can be.",
        [new("wash-pump", "Wash pump", "seized", "scale", true), new("drain-valve", "Drain valve", null, null, false)],
        [
            new("wash-pump", "Wash pump", ["leaks", "seized"], ["P/100-2"], "P/100-2", Samples.AsOf.AddDays(-400), 400, Samples.AsOf.AddDays(-30)),
            new("suction-hose", "Pump suction hose", [], [], null, null, null, null),
        ],
        Proof.Asked(ProgrammeGrade.Standard),
        Values(("key", Key), ("arrived", "2025-06-03T09:30"), ("fault", "E21"), ("technician", "tech 4")),
        [],
        new("earlier", "tech 5", "Visit by tech 5: waits for a part after 40 min.", Samples.AsOf.AddHours(-6), 0, []));

    public static CloseOutReport Correcting { get; } = Form with
    {
        Values = Values(("key", Key), ("corrects", "earlier"), ("arrived", "2025-06-03T09:30"), ("fault", "E21"), ("cleared/E30", "yes"), ("note", "Scale.")),
        Latest = null,
    };

    public static AskReport Asking { get; } = new(
        "OV-1003", "Fennel Street Clinic", "Hearth 20, twenty trays", Samples.Zone, "tech 4", true, Samples.AsOf.AddHours(-5),
        [new("E21", "No water circulates", Samples.AsOf.AddDays(-2)), new("E30", "Does not drain", null)],
        Values(("key", Key), ("asked", "2025-06-03T09:30"), ("fault", "E21")),
        []);

    public static AskReport AskingRefused { get; } = Asking with
    {
        AskedAt = null,
        Faults = [new("E30", "Does not drain", null)],
        Problems = [new("fault", "missing", "Nobody said what is wrong.", "Choose a fault, or say it in your own words.")],
    };

    public static AskReport HostileAsking { get; } = new(
        Tests.Hostile.Name, Tests.Hostile.LongName, Tests.Hostile.Name, "No/Such_Zone", Tests.Hostile.Name, false, DateTimeOffset.MinValue,
        [new(Tests.Hostile.Name, Tests.Hostile.LongName, DateTimeOffset.MinValue), new("x", "x", null)],
        Values(("note", "</textarea>" + Tests.Hostile.Name)),
        [new(null, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name)]);

    public static CloseOutReport Refused { get; } = Form with
    {
        Values = Values(
            ("key", Key), ("arrived", "2025-06-03T09:30"), ("left", "2025-06-03T08:00"), ("fault", "E21"), ("outcome", "proven"), ("note", "Scale."),
            ("check/turn-impeller/result", "fail"), ("check/turn-impeller/reading", "two"), ("part/wash-pump/out", "failed"), ("part/wash-pump/mode", "seized"),
            ("proof/no-leak", "pass"), ("found/wash-pump/seized/scale", "yes")),
        Problems =
        [
            new("left", "out_of_order", "left_at is before arrived_at.", "Correct one of the two instants."),
            new("outcome", "proof_missing", "This repair is not proven yet.", "Choose another outcome."),
            new("part/wash-pump/at", "removed_before_fitted", "The part was taken out before it was fitted.", "Correct the instant."),
            new("check/turn-impeller", "kind", "The reading is no number.", "Write digits."),
        ],
    };

    public static CloseOutReport Hostile { get; } = new(
        Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.LongName, Tests.Hostile.Name, "No/Such_Zone", Tests.Hostile.Name, false, Tests.Hostile.Name,
        [new(Tests.Hostile.Name, Tests.Hostile.LongName, DateTimeOffset.MinValue), new("x", "x", null)],
        [new(Tests.Hostile.Name, Tests.Hostile.Name, double.NaN, [Tests.Hostile.Name], true)], Tests.Hostile.Name,
        [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, true)],
        [new(Tests.Hostile.Name, Tests.Hostile.LongName, [Tests.Hostile.Name], [Tests.Hostile.Name], Tests.Hostile.Name, DateTimeOffset.MaxValue, double.NaN, DateTimeOffset.MinValue)],
        [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name)],
        Values(("note", "</textarea>" + Tests.Hostile.Name), ("technician", Tests.Hostile.Name), ("outcome", Tests.Hostile.Name)),
        [new(null, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name), new("note", Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name)],
        new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, null, -1, []));

    public static VisitReport Visit { get; } = new(
        Samples.Basis("the visit as it was reported", 2), Key, "tech 4", "OV-1003", "S3", "Fennel Street Clinic", Samples.Zone,
        "Visit by tech 4: repaired, not proven after 2 h; found: Wash pump (seized).",
        ["Repaired, not proven. Missing: full wash completed.", "Wash pump: its failure counts in part life from now on."],
        null, Samples.AsOf.AddHours(-4), Samples.AsOf.AddHours(-2), VisitOutcome.RepairedNotProven, "tech 4", "Scale in the pump.\nHose next time.",
        ["E21: No water circulates"], [new("turn-impeller", "Turn the impeller by hand", "fail", 1.5, "A")], ["Wash pump: seized (scale)"],
        ["Wash pump: old part out, failed (seized); new part in, P/100-2."], ["Pump suction hose: worn"],
        [new("full-wash", "Full wash completed", "not_done")], new("Replace wash pump", 310.5, "Approval asked for: Replace wash pump, 310.5; nobody has decided yet."),
        [new("other", "tech 5", "Visit by tech 5: no fault found.", Samples.AsOf.AddHours(-3), 0, [])],
        [new(1, "image/jpeg", 1234, new string('0', 64), Samples.AsOf)],
        [new("earlier", 2, "image/png", 4321, new string('1', 64), Samples.AsOf.AddHours(-1))], false, Samples.AsOf);

    public static VisitPageReport Receipt { get; } = new(Visit, "Saved. You may go.", ["One file was not kept."], true, true, true, "earlier", null);

    public static VisitPageReport Corrected { get; } = new(Visit with { IsVoided = true }, null, [], true, false, false, null, "later");

    public static VisitPageReport HostileReceipt { get; } = new(
        new VisitReport(
            Tests.Hostile.EmptyBasis with { Doubts = [Tests.Hostile.Name] }, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.LongName, "No/Such_Zone",
            Tests.Hostile.Name, [Tests.Hostile.Name], DateTimeOffset.MinValue, null, DateTimeOffset.MaxValue, null, Tests.Hostile.Name, Tests.Hostile.Name, [Tests.Hostile.Name],
            [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, double.NaN, Tests.Hostile.Name)], [Tests.Hostile.Name], [Tests.Hostile.Name], [Tests.Hostile.Name],
            [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name)], new(Tests.Hostile.Name, double.NaN, Tests.Hostile.Name),
            [new(Tests.Hostile.Name, Tests.Hostile.Name, Tests.Hostile.Name, null, -1, [])],
            [new(1, Tests.Hostile.Name, -1, Tests.Hostile.Name, DateTimeOffset.MaxValue)],
            [new(Tests.Hostile.Name, -1, Tests.Hostile.Name, -1, Tests.Hostile.Name, DateTimeOffset.MinValue)], true, DateTimeOffset.MinValue),
        Tests.Hostile.Name, [Tests.Hostile.Name], true, true, true, Tests.Hostile.Name, Tests.Hostile.Name);

    private static CloseOutValues Values(params (string Name, string Value)[] fields) =>
        new(fields.ToDictionary(field => field.Name, field => (IReadOnlyList<string>)[field.Value]));
}
