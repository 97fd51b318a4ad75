using Washwear.Dashboard.Planning;

namespace Washwear.Dashboard.Tests.Planning;

/// <summary>A dated plan and a trial, in earnest and spoilt.</summary>
internal static class PlanSamples
{
    private static readonly DateOnly Monday = new(2025, 6, 9);

    public static PlannedVisit Visit { get; } = new(
        "pier-4", "Pier 4", "harbour", "depot", Monday, Monday.AddDays(2), 55, 412, 12.5, "Replace wash pump and pump suction hose of OVEN-1: 55 min of work.",
        [
            new("OVEN-1", "wash-pump", "Wash pump", "P/100-2", true, 35, 310, Monday.AddDays(20), null, 0.12, null, "It reaches the age at which replacing is cheapest about 29 Jun 2025."),
            new("OVEN-1", "suction-hose", "Pump suction hose", null, false, 20, 22, Monday, Monday.AddDays(2), null, PlanDecisionWord.Accepted, "Ann accepted it for 11 Jun 2025."),
        ]);

    public static PlanDecisionRow Decision { get; } = new(
        7, "OVEN-1", "pier-4", "Pier 4", "harbour", "suction-hose", "Pump suction hose", PlanDecisionWord.Accepted, Monday.AddDays(2), null, "Ann", "desk", Samples.AsOf, true,
        "Pump suction hose of OVEN-1 is planned for 11 Jun 2025 (decided by Ann).");

    public static VisitPlanReport Plan { get; } = new(
        Samples.Basis("the plan", 40), "1 visit in the next 26 weeks replaces 2 parts, 55 min of work.", "EUR", 26, 1, 2, 55, 412, 0.03,
        [new("OVEN-9", "burner", "Burner", "pier-9", "the crew has no minutes left in these weeks")], [Visit], "next");

    public static FailureForecastReport Failures { get; } = new(
        Samples.Basis("the plan", 40), "About 3.2 of 40 fitted parts will fail within 90 days: 1 to 6, 90 % sure.", 90, ForecastBy.PartNumber, 0.9,
        new ForecastRow(string.Empty, "All", 40, 2, 3.2, 1, 6), [], null);

    public static PlanPageReport Page { get; } = new(
        Plan, Failures, 3, new PlanDecisionsReport(Samples.Basis("the plan", 40), "1 decision holds now, of 1 decision taken.", 1, [Decision], null),
        new PlanFilter(Site: "pier-4", Position: "wash-pump"), true, Decision.Sentence);

    public static PlanPageReport Empty { get; } = new(
        new VisitPlanReport(Hostile.EmptyBasis, "Nothing is best replaced within the next 26 weeks.", null, 26, 0, 0, 0, 0, null, [], [], null),
        Failures with { Total = new ForecastRow(string.Empty, "All", 0, 0, 0, 0, 0) }, 0, new PlanDecisionsReport(Hostile.EmptyBasis, "Nothing was decided about planned jobs yet.", 0, [], null),
        PlanFilter.All, false, null);

    public static PlanPageReport HostilePage { get; } = new(
        new VisitPlanReport(
            Hostile.EmptyBasis, Hostile.LongName, Hostile.Name, -1, -1, -1, double.NaN, double.NaN, double.NaN,
            [new(Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name)],
            [new(Hostile.Name, Hostile.LongName, Hostile.Name, null, DateOnly.MinValue, DateOnly.MaxValue, double.PositiveInfinity, double.NaN, double.NaN, Hostile.Name,
                [new(Hostile.Name, Hostile.Name, Hostile.LongName, Hostile.Name, null, double.NaN, double.NaN, null, DateOnly.MaxValue, double.NaN, PlanDecisionWord.Postponed, Hostile.Name)])],
            Hostile.Name),
        Failures with { Total = new ForecastRow(Hostile.Name, Hostile.Name, 1, 1, double.NaN, -1, int.MaxValue) }, null,
        new PlanDecisionsReport(Hostile.EmptyBasis, Hostile.Name, -1,
            [Decision with { Unit = Hostile.Name, SiteName = Hostile.LongName, Sentence = Hostile.Name, At = DateTimeOffset.MaxValue }], Hostile.Name),
        new PlanFilter(Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name), true, Hostile.Name);

    public static WhatIfReport Tried { get; } = new(
        Samples.Basis("the plan", 40), "The best age changes at one position.", "EUR", 26,
        new PlanTotals(72, 141, 3540, 23_989, 103, 63_100, 508, 87_089, 3), new PlanTotals(114, 210, 5300, 51_259, 93.2, 72_302, 459, 123_561, 3),
        [new("T10", "wash-pump", "Wash pump", PlanVerdict.RunToFailure, PlanVerdict.ReplaceAtAge, null, 324)]);

    public static WhatIfPageReport WhatIf { get; } = new(
        [new("wash-pump", "Wash pump")], [new("sup", "Supplier (invented)", 9)], 0,
        new Dictionary<string, string> { ["position"] = "wash-pump", ["failure_cost"] = "2500" }, Tried, []);

    public static WhatIfPageReport HostileWhatIf { get; } = new(
        [new(Hostile.Name, Hostile.LongName)], [new(Hostile.Name, Hostile.Name, double.NaN)], double.NaN,
        new Dictionary<string, string> { ["position"] = Hostile.Name, ["failure_cost"] = Hostile.Name },
        Tried with
        {
            Sentence = Hostile.Name,
            Currency = Hostile.Name,
            Now = new PlanTotals(-1, -1, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, -1),
            Changed = [new(Hostile.Name, Hostile.Name, Hostile.Name, PlanVerdict.Unknown, PlanVerdict.ReplaceAtAge, double.NaN, null)]
        },
        [Hostile.Name]);
}
