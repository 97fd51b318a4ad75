using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Planning;

/// <summary>What lies behind a plan: ages, pairs, stock, forecasts, in earnest and spoilt.</summary>
internal static class PlanningSamples
{
    private static readonly Basis Basis = Samples.Basis("the plan", 40);

    public static ReplacementRow Early { get; } = new(
        "T10", "Ten tray", "wash-pump", "Wash pump", "P/100-2", 24, PlanVerdict.ReplaceAtAge,
        "Replace it at 410 washes (about 380 days). It saves about 120 a year and position. Anything from 330 to 520 costs about the same.", "washes", 1.08,
        new Estimate(3.1, 2.4, 4, 0.95, "sample"), 360, 1240, 12, true, new Estimate(410, 360, 470, 0.95, "sample"), 380, 330, 520, 310, 430, 120, 0.4,
        [new("A failure costs twice as much", PlanVerdict.ReplaceAtAge, 340, 300), new("A failure costs half as much", PlanVerdict.RunToFailure, null, 0)],
        [.. Enumerable.Range(1, 40).Select(i => new CostPoint(i * 30, 310 + (Math.Pow((i * 30) - 410, 2) / 2000)))], null,
        "The shape of its life is above 1 even at its lower bound: it wears out.", 0.01);

    public static ReplacementRow Run { get; } = Early with
    {
        Position = "fan-motor",
        PositionName = "Fan motor",
        PartNumber = null,
        Verdict = PlanVerdict.RunToFailure,
        Sentence = "Let it run until it fails: it does not wear, so a new one fails as soon as an old one.",
        Reason = "Let it run until it fails: it does not wear, so a new one fails as soon as an old one.",
        Age = null,
        AgeDays = null,
        FlatFrom = null,
        FlatTo = null,
        SavingPerYear = null,
        CostPerYear = null,
        Sensitivity = [],
        CostCurve = [new(100, 900), new(400, 500), new(1200, 432)],
    };

    public static ReplacementRow Unknown { get; } = Run with
    {
        Position = "door-seal",
        PositionName = "Door seal",
        Verdict = PlanVerdict.Unknown,
        Sentence = "Nothing is planned: too few failures are on record.",
        NotPlanned = "too few failures are on record",
        Reason = null,
        Shape = null,
        PlannedCost = null,
        FailureCost = null,
        CostCurve = [],
        RunToFailureCostPerYear = null,
    };

    public static CompanionRow Pair { get; } = new(
        "T10", "Ten tray", "wash-pump", "Wash pump", "suction-hose", "Pump suction hose", 24, "days", 300, 300, 0.6, "29 parts taken out here in 48 unit-years", 10, 240, 22, 3.5, 7,
        "Swap the Pump suction hose along past 300 days when the Wash pump is open.", null);

    public static PlanPartsPageReport Parts { get; } = new(
        new ReplacementsReport(Basis, "1 kind of part is cheaper replaced before they fail (Wash pump); 1 is best left until they fail.", "EUR", [Early, Run, Unknown], null), Early,
        new CompanionsReport(Basis, "1 pair is worth swapping together, of 1.", "EUR", [Pair], null), new PlanFilter(Operator: "harbour"));

    public static PlanPartsPageReport NoParts { get; } = new(
        new ReplacementsReport(Hostile.EmptyBasis, "No fitted part is on record here, so nothing is planned.", null, [], null), null,
        new CompanionsReport(Hostile.EmptyBasis, "The models call no positions companions, so nothing is weighed.", null, [], null), PlanFilter.All);

    public static ReplacementRow HostileRow { get; } = new(
        Hostile.Name, Hostile.LongName, Hostile.Name, Hostile.LongName, Hostile.Name, -1, PlanVerdict.ReplaceAtAge, Hostile.Name, Hostile.Name, double.NaN,
        new Estimate(double.NaN, double.NaN, double.PositiveInfinity, 0.95, Hostile.Name), double.NaN, double.PositiveInfinity, double.NaN, false,
        new Estimate(double.NaN, null, double.PositiveInfinity, 0.95, Hostile.Name), double.NaN, double.NaN, double.PositiveInfinity, double.NaN, double.NaN, double.NaN, double.NaN,
        [new(Hostile.Name, PlanVerdict.ReplaceAtAge, double.NaN, double.PositiveInfinity)],
        [new(double.NaN, double.NaN), new(double.PositiveInfinity, 1), new(1, double.NegativeInfinity), new(10, 5)], Hostile.Name, Hostile.Name, double.NaN);

    public static PlanPartsPageReport HostileParts { get; } = new(
        new ReplacementsReport(Hostile.EmptyBasis, Hostile.LongName, Hostile.Name, [HostileRow], Hostile.Name), HostileRow,
        new CompanionsReport(Hostile.EmptyBasis, Hostile.Name, Hostile.Name,
            [new(Hostile.Name, Hostile.LongName, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, -1, Hostile.Name, double.NaN, double.NaN, double.NaN, Hostile.Name, double.NaN,
                double.NaN, double.NaN, double.NaN, -1, Hostile.Name, Hostile.Name)], Hostile.Name),
        new PlanFilter(Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name));

    public static StockRow Short { get; } = new(
        "depot", "Depot north", "P/100-2", "Wash pump", 24, 1, "sup", 14, 2.1, 1, 0.95, 6, 0.97, 2, 4, 1240, 0.31,
        "Keep 6 for a lead time of 14 days: about 2.10 will fail and 1 is to be replaced in it, and 6 last with 97 % chance. 2 lie there: order 4 now.");

    public static StockRow Enough { get; } = Short with { PartNumber = "H/7", PartName = "Pump suction hose", OnHand = 9, OrderNow = 0, OrderCost = 0, ChanceOnHandLasts = 0.999, Sentence = "Enough." };

    public static StockRow Untold { get; } = Short with
    {
        StockPoint = null,
        StockPointName = null,
        PartNumber = "X-1",
        Supplier = null,
        LeadTimeDays = null,
        Expected = null,
        SmallestStock = null,
        ChanceItLasts = null,
        OnHand = null,
        OrderNow = null,
        OrderCost = null,
        ChanceOnHandLasts = null,
        Sentence = "How many to keep cannot be told: no supplier with a lead time is told for this part number.",
    };

    public static PlanStockPageReport Stock { get; } = new(
        new StockReport(Basis, "1 part number is short: order 4 parts now.", "EUR", 1, [Short, Enough, Untold], "next"), [Short], PlanFilter.All);

    public static PlanStockPageReport NoStock { get; } = new(
        new StockReport(Hostile.EmptyBasis, "No fitted part has a part number here, so no stock is reckoned.", null, 0, [], null), [], PlanFilter.All);

    private static StockRow HostileStockRow => new(
        Hostile.Name, Hostile.LongName, Hostile.Name, Hostile.LongName, -1, -1, Hostile.Name, double.NaN, double.NaN, -1, double.NaN, int.MaxValue, double.NaN, -1, int.MaxValue,
        double.PositiveInfinity, double.NaN, Hostile.Name);

    public static PlanStockPageReport HostileStock { get; } = new(
        new StockReport(Hostile.EmptyBasis, Hostile.Name, Hostile.Name, -1, [HostileStockRow], Hostile.Name), [HostileStockRow],
        new PlanFilter(StockPoint: Hostile.Name));

    public static FailureForecastReport Forecast { get; } = new(
        Basis, "About 3.2 of 40 fitted parts will fail within 90 days: 1 to 6, 90 % sure.", 90, ForecastBy.PartNumber, 0.9, new("all", "All", 40, 2, 3.2, 1, 6),
        [new("P/100-2", "Wash pump", 24, 0, 2.4, 0, 5), new("H/7", "Pump suction hose", 16, 0, 0.8, 0, 3), new("X-1", "Burner", 0, 2, 0, 0, 0)], null);

    public static FailureForecastReport Months { get; } = Forecast with
    {
        By = ForecastBy.Month,
        Rows = [new("2025-06", "June 2025", 40, 2, 0.9, 0, 3), new("2025-07", "July 2025", 40, 2, 1.2, 0, 3)],
    };

    public static CalibrationReport Calibration { get; } = new(
        Basis, "In 2 quarters that are over, 6.10 failures were expected and 7 came, as close as chance lets one expect.", 60, 6.1, 7, 0.71, 0.08, 0.1, 0.4,
        [new(0, 0.1, 40, 0.05, 0.05, 0.01, 0.17), new(0.1, 0.3, 20, 0.2, 0.25, 0.09, 0.49)],
        [
            new("2025-Q2", null, Samples.AsOf, false, false, 40, 0, 3.2, 1, 6, 1, null), new("2025-Q1", null, Samples.AsOf, false, true, 40, 3, 3, 1, 6, 7, false),
            new("2025-Q1", "P/100-2", Samples.AsOf, false, true, 24, 0, 2, 0, 5, 2, true), new("2024-Q4", null, Samples.AsOf, true, true, 38, 0, 3.1, 1, 6, 0, false),
        ], null);

    public static PlanForecastPageReport ForecastPage { get; } = new(Forecast, Months, Calibration, new PlanFilter(StockPoint: "depot"));

    public static PlanForecastPageReport NoForecast { get; } = new(
        Forecast with { Basis = Hostile.EmptyBasis, Sentence = "No fitted part is on record here, so nothing is forecast.", Total = new("all", "All", 0, 0, 0, 0, 0), Rows = [] },
        Months with { Rows = [] },
        new CalibrationReport(Hostile.EmptyBasis, "No forecast of a quarter is kept yet.", 0, 0, 0, null, null, null, null, [], [], null), PlanFilter.All);

    public static FailureForecastReport HostileForecast { get; } = new(
        Hostile.EmptyBasis, Hostile.Name, -1, ForecastBy.StockPoint, double.NaN, new(Hostile.Name, Hostile.Name, 1, 1, double.NaN, -1, int.MaxValue),
        [new(Hostile.Name, Hostile.LongName, 1, -1, double.NaN, -1, int.MaxValue), new(Hostile.LongName, Hostile.Name, 1, 1, 3, -1, int.MaxValue),
            new(Hostile.Name, string.Empty, 2, 0, 1e9, 5, -5)], Hostile.Name);

    public static PlanForecastPageReport HostileForecastPage { get; } = new(
        HostileForecast, HostileForecast with { By = ForecastBy.Month },
        new CalibrationReport(
            Hostile.EmptyBasis, Hostile.Name, 5, double.NaN, -1, double.NaN, double.NaN, double.PositiveInfinity, double.NaN,
            [new(double.NaN, double.PositiveInfinity, -1, double.NaN, double.NaN, null, double.NaN)],
            [new(Hostile.Name, Hostile.LongName, DateTimeOffset.MinValue, true, true, -1, int.MaxValue, double.NaN, int.MinValue, int.MaxValue, -1, false)], Hostile.Name),
        new PlanFilter(Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name));
}
