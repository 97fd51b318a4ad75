using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Repairs;

namespace Washwear.Dashboard.Tests.Approvals;

/// <summary>Approvals and delays of the invented fleet, and hostile ones.</summary>
public static class ApprovalSamples
{
    public static ApprovalRow Open { get; } = Told(new ApprovalRow(
        4711, "jobs", "J-12", ApprovalState.Open, "OV-1001", "S1", "Millbrook House", "OP1", "Tarnwick Catering", Samples.Zone, "Replace wash pump", 180.5,
        "E21", "No water circulates", "wash-pump", "Wash pump", PositionSource.Finding, Samples.AsOf.AddDays(-4), 96, 3.4, 7, 0.12,
        ["Pump suction hose", "Pump delivery hose"], 2, 0, null, null, null, "Quote attached.", string.Empty, ["Another open request is for the same unit and fault."]));

    public static ApprovalRow Decided { get; } = Told(Open with
    {
        State = ApprovalState.Granted,
        DecidedAt = Samples.AsOf.AddDays(-1),
        DecidedBy = "area manager",
        WaitedHours = 72,
        UnwashedDays = 2.6,
        Doubts = [],
        UnwashedDaysNextWeek = null,
        CompanionChance30Days = null,
        OtherUnitsThatWash = null,
    });

    public static ApprovalRow OwnDecision { get; } = Decided with
    {
        Id = 4713,
        DecidedBy = "jobs",
        DecidedByAsker = true,
        Doubts = ["The one who asked decided."],
    };

    public static DelaysReport Delays { get; } = new(
        Samples.Basis("by what a lockout waits for", 12), DelayWords.Finding(Row("all", 12, 40), 28), "operator", Row("all", 12, 40),
        [Row("Tarnwick Catering", 8, 30), Row("Quillmere Kitchens", 4, 10)]);

    public static DelaysReport NoDelays { get; } = new(
        Hostile.EmptyBasis, DelayWords.Finding(Row("all", 0, 0), 90), "operator", Row("all", 0, 0), []);

    public static ApprovalsPageReport Page { get; } = new(
        Report(Open, Open with { Id = 4712, PositionFrom = PositionSource.Catalogue, AskedAt = null, WaitedHours = null, Amount = null }),
        Report(Decided, OwnDecision), Delays, new ApprovalFilter(ApprovalState.Open), true, Decided);

    public static ApprovalsPageReport Empty { get; } = new(
        new ApprovalsReport(Hostile.EmptyBasis, ApprovalSentences.Finding([]), 0, [], null), new ApprovalsReport(Hostile.EmptyBasis, ApprovalSentences.Decided([]), 0, [], null),
        NoDelays, new ApprovalFilter(ApprovalState.Open), false, null);

    public static ApprovalsPageReport HostilePage { get; } = new(
        new ApprovalsReport(Hostile.EmptyBasis, Hostile.Name, -1, [Bad], Hostile.Name), new ApprovalsReport(Hostile.EmptyBasis, Hostile.Name, 0, [Bad with { State = ApprovalState.Refused }], null),
        new DelaysReport(Hostile.EmptyBasis, Hostile.Name, Hostile.Name, Worst, [Worst, Worst with { Name = Hostile.LongName, Hours = 5 }, Worst with { Lockouts = 0 }]),
        new ApprovalFilter(ApprovalState.Open, Hostile.Name, Hostile.Name, Hostile.Name), true, Bad with { State = ApprovalState.Granted });

    public static DelayRow Row(string name, int lockouts, double hours)
    {
        Dictionary<DelayKind, double> kinds = Enum.GetValues<DelayKind>().ToDictionary(kind => kind, kind => hours * (1 + (int)kind) / 15);
        return new DelayRow(
            name, name, lockouts, hours,
            Enum.GetValues<DelaySort>().ToDictionary(sort => sort, sort => kinds.Where(pair => RepairDelays.SortOf(pair.Key) == sort).Sum(pair => pair.Value)), kinds);
    }

    private static ApprovalRow Bad => new(
        long.MaxValue, Hostile.Name, Hostile.Name, ApprovalState.Open, Hostile.Name, Hostile.Name, Hostile.LongName, Hostile.Name, Hostile.Name, "No/Such_Zone",
        Hostile.Name, double.NaN, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, PositionSource.Catalogue, DateTimeOffset.MinValue, double.NaN,
        double.NaN, double.PositiveInfinity, double.NaN, [Hostile.Name], -1, -1, DateTimeOffset.MaxValue, Hostile.Name, true, Hostile.Name,
        ApprovalSentences.Cost(Open with { UnwashedDays = double.NaN, Companions = [Hostile.Name] }), [Hostile.Name]);

    private static DelayRow Worst => new(
        Hostile.Name, Hostile.Name, 1, double.NaN, new Dictionary<DelaySort, double> { [DelaySort.Logistic] = double.NaN },
        new Dictionary<DelayKind, double> { [DelayKind.WaitingPart] = double.PositiveInfinity });

    private static ApprovalRow Told(ApprovalRow row) => row with { Sentence = ApprovalSentences.Cost(row) };

    private static ApprovalsReport Report(params ApprovalRow[] rows) =>
        new(Samples.Basis("what waiting costs", rows.Length), ApprovalSentences.Finding(rows), rows.Length, rows, null);
}
