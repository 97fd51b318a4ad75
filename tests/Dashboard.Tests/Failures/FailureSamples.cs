using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Failures;

/// <summary>Reports of failures in time: full, of odd figures and names, and empty. The figures fill a page; they are not right.</summary>
public static class FailureSamples
{
    public static readonly DateTimeOffset To = Samples.AsOf;
    public static readonly DateTimeOffset From = To.AddDays(-365);

    private static readonly string[] PositionNames =
        ["Wash pump", "Drain valve", "Door gasket", "Detergent hose", "Rinse arm bearing", "Water inlet solenoid valve, hot side", "Fan motor", "Core probe"];

    public static FailureChoice Choice { get; } = new() { From = From, To = To };

    public static Basis Basis(int n, int failures) => new(
        To, From, To, "exact Poisson bounds", null, n, failures, new Dictionary<string, int> { ["unit_not_watched"] = 2 }, ["Two units were not heard from for a month."]);

    public static Basis EmptyBasis { get; } = new(To, From, To, "exact Poisson bounds", null, 0, 0, new Dictionary<string, int>(), []);

    public static Estimate About(double value, double spread = 0.4) => new(value, value * (1 - spread), value * (1 + (1.4 * spread)), 0.95, "exact Poisson");

    public static FailureTrendReport Trend { get; } = new(
        Basis(61, 212), "Faults come 1.6 times as often as a year ago (1.2 to 2.1).", "12 failures fewer in the last three months would take the verdict away.", "getting_worse",
        "Lewis–Robinson, because faults come in clusters", 0.0041,
        [new("Laplace", 3.1, 0.0019, "failures come more often"), new("MIL-HDBK-189", 301.2, 0.004, "failures come more often"), new("Mann–Kendall", 18, 0.06, "no trend shown")],
        new PowerLawFigures(About(1.31, 0.15), 61, 212, 0.08, "nothing speaks against it", 0.002), About(22),
        [.. Enumerable.Range(0, 13).Select(i =>
        {
            DateTimeOffset begin = new DateTimeOffset(2024, 6, 1, 0, 0, 0, TimeSpan.Zero).AddMonths(i);
            int failures = i == 12 ? 1 : 11 + i + (i * 7 % 5);
            double years = i is 0 or 12 ? 0.4 : 5.1;
            return new FailureMonth(
                begin.ToString("yyyy-MM", System.Globalization.CultureInfo.InvariantCulture), i == 0 ? From : begin, i == 12 ? To : begin.AddMonths(1), failures, years,
                About(failures / years / (i == 0 ? 10 : 1), i is 0 or 12 ? 0.95 : 0.4), 1500 - i, About(failures / 1.5));
        })]);

    public static RecurrenceGroup Group(string code, string name, double pace, bool bounds = true) => new(code, name, 20, 70,
        [.. Enumerable.Range(1, 60).Select(i => new RecurrenceStep(
            i * 20, 60 - i, 2, pace * Math.Pow(i / 20.0, 1.3), bounds ? pace * Math.Pow(i / 20.0, 1.3) * 0.8 : null, bounds ? pace * Math.Pow(i / 20.0, 1.3) * 1.25 : null))]);

    public static RecurrenceReport Recurrence { get; } = new(
        Basis(61, 212), "By an age of 1,200 days a unit has had 4.2 faults on average.", "age", [Group("all", "all", 1)], null);

    public static RecurrenceReport Compared { get; } = Recurrence with
    {
        Groups = [Group("OP0", "Quillmere Kitchens", 1), Group("OP1", "Tarnwick Catering and Event Services of the North", 1.02), Group("OP2", "Nine Bells Dining", 0.3)],
        Comparison = new RecurrenceComparison("robust pseudo-score test", 9.1, 2, 0.011, "the groups differ more than chance explains"),
    };

    public static RateRow Rate(int i, double rate, bool called) => new(
        $"OV-{1000 + i}", Samples.SiteNames[i % 9], new RateFigures((int)rate, 0.99, About(rate, 0.6), 410, About(rate / 0.41)), About((0.6 * rate) + 1.4, 0.3),
        About(rate / 3.5), called ? 0.997 : 0.4, called ? 0.0002 : 0.4, called ? 0.004 : 0.6, called);

    public static RatesReport Rates { get; } = new(
        Basis(61, 212), "2 of 61 units fail more than chance explains: OV-1000 and OV-1001.", RateGroup.Unit, 0.1, new RateFigures(212, 60.8, About(3.49, 0.13), 18120, About(11.7)),
        "true rates differ by about a third from unit to unit", [.. Enumerable.Range(0, 30).Select(i => Rate(i, 14 - (0.45 * i), i < 2))], "cursor-2");

    public static RepeatsReport Repeats { get; } = new(
        Basis(143, 23), "23 of 143 repairs came back within 90 days; 11 were to be expected.", 90, 0.1,
        [.. PositionNames.Select((name, i) => new RepeatPosition(i < 7 ? "p" + i : null, i < 7 ? null : "E-41", name, 30 - (3 * i), 6 - (i / 2), Samples.Share(0.2, 0.08, 0.38), i == 3 ? null : 2.9, i == 3 ? null : About(2.1)))],
        [.. Enumerable.Range(0, 9).Select(i => new RepeatPlace($"OV-{1003 + i}", $"S{i}", Samples.SiteNames[i], "drain-valve", "Drain valve", 5 - (i / 2), 0.8, About(6.2), 0.0003, 0.004 + (0.1 * i), i < 2))],
        [new("wash-pump", "Wash pump", "B17", "P-7731", 30, 9, 12, 4.1, About(2.9), 0.002, true), new("wash-pump", "Wash pump", "B16", null, 80, 60, 9, 11, About(0.8), 0.9, false)],
        [.. Enumerable.Range(0, 12).Select(i => new RepeatRow(
            $"OV-{1003 + i}", $"S{i % 9}", Samples.SiteNames[i % 9], Samples.Zone, i % 4 == 0 ? null : "drain-valve", i % 4 == 0 ? "E-41" : null, i % 4 == 0 ? "Drain valve does not close" : "Drain valve",
            To.AddDays(-90 - i), To.AddDays(-60 - i), 30 + (0.5 * i), i % 4 == 0 ? null : "P-2204", i % 3 == 0 ? "B17" : null, (RepeatKind)(i % 5), "The new part failed at 30 days; of such parts 2 in 100 do."))],
        "cursor-2");

    public static ParetoReport Pareto { get; } = new(
        Basis(212, 212), "Wash pumps and drain valves make up half of all failures.", ParetoGroup.Position, ParetoMeasure.Count, From.AddDays(-365), From,
        [.. PositionNames.Select((name, i) => new ParetoRow(
            "p" + i, null, name, 60 - (7 * i), 400 - (40 * i), 30 - i, (60 - (7 * i)) / 284.0, Enumerable.Range(0, i + 1).Sum(k => 60 - (7 * k)) / 284.0, 40 - (4 * i), About(1.5), 0.02 * (i + 1)))]);

    public static FailuresPageReport Full { get; } = new(
        Choice, "Faults come more often than a year ago, and two units stand out.",
        [
            new("Wash pumps of batch B17 fail 2.9 times as often as their age explains; 9 are still fitted.", ["12 failures of 30 parts, 4.1 expected (1.5 to 5.1 times).", "The fleet's pumps last 993 days."],
                "Decide on swapping the 9 that are still fitted", Urls.PartLife("wash-pump"), Urls.FailureRecords(Choice with { Position = "wash-pump" })),
            new("OV-1003 in Fennel Street Clinic ate 5 drain valves where 0.8 were expected.", ["Ratio 6.2 (2.0 to 14.6)."], "Send somebody to find what spoils them", Urls.Unit("OV-1003"), Urls.FailureRecords(Choice with { Unit = "OV-1003" })),
            new("Faults of the fleet come more often.", [], "See the months", Urls.Failures(Choice, "worse"), Urls.FailureRecords(Choice)),
        ],
        Trend, Recurrence, Rates, Repeats, Pareto,
        new FailureOffers([new("OP0", "Quillmere Kitchens")], [new("H20", "Hearth 20, twenty trays")], [.. PositionNames.Select((name, i) => new Offer("p" + i, name))], [new("E-41", "Drain valve does not close")]));

    public static FailuresPageReport FullOfParts { get; } = Full with
    {
        Choice = Choice with { Of = FailureKind.Parts, Operator = "OP0", Site = "S1", Model = "H20", Position = "p1", Compare = "operator", GapHours = 24, By = RateGroup.PartNumber, Measure = ParetoMeasure.LockedOutHours },
        Recurrence = Compared,
        Rates = Rates with { By = RateGroup.PartNumber, Next = null },
        Pareto = Pareto with { Measure = ParetoMeasure.LockedOutHours },
        Repeats = Repeats with { Next = null },
    };

    public static FailuresPageReport Quiet { get; } = Full with
    {
        Sentence = "No failure in one month: too little to say more.",
        Decisions = [],
        Trend = new FailureTrendReport(
            Basis(3, 0), "No failure in the one month that was watched.", null, "too_little_data", null, null, [], null, new Estimate(0, 0, 14.8, 0.95, "exact Poisson"),
            [new("2025-05", To.AddDays(-20), To, 0, 0.25, new Estimate(0, 0, 14.8, 0.95, "exact Poisson"), 60, new Estimate(0, 0, 61.5, 0.95, "exact Poisson"))]),
        Recurrence = Recurrence with { Groups = [new("all", "all", 3, 0, [])] },
        Rates = Rates with
        {
            Rows = [new("OV-1", "Larch Hall", new RateFigures(0, 0.08, new Estimate(0, 0, 46, 0.95, "exact Poisson"), null, null), new Estimate(0, 0, 14, 0.95, "none"), null, 0.5, null, null, false)],
            Fleet = new RateFigures(0, 0.25, new Estimate(0, 0, 14.8, 0.95, "exact Poisson"), 0, null),
            Next = null,
        },
        Repeats = Repeats with { Positions = [new("p1", null, "Wash pump", 1, 0, Samples.Share(0, 0, 0.975), null, null)], Places = [], Batches = [], Repeats = [], Next = null },
        Pareto = Pareto with { Rows = [new("p1", null, "Wash pump", 1, 0, 0, 0, 0, 0, null, null)], Measure = ParetoMeasure.UnwashedDays },
    };

    public static FailuresPageReport Empty { get; } = new(
        new FailureChoice(), "No failure is on record yet.", [],
        new FailureTrendReport(EmptyBasis, "Nothing was watched yet.", null, "too_little_data", null, null, [], null, null, []),
        new RecurrenceReport(EmptyBasis, "Nothing was watched yet.", "calendar", [], null),
        new RatesReport(EmptyBasis, "Nothing was watched yet.", RateGroup.Unit, 0.1, new RateFigures(0, 0, null, null, null), string.Empty, [], null),
        new RepeatsReport(EmptyBasis, "Nothing was repaired yet.", 90, 0.1, [], [], [], [], null),
        new ParetoReport(EmptyBasis, "Nothing failed yet.", ParetoGroup.Cause, ParetoMeasure.Count, From, To, []),
        new FailureOffers([], [], [], []));

    public static FailureRecordsReport Faults { get; } = new(
        Choice with { Code = "E-41" }, To,
        [.. Enumerable.Range(0, 20).Select(i => new FailureRow(
            $"OV-{1000 + i}", "S1", Samples.SiteNames[i % 9], Samples.Zone, To.AddDays(-i), i == 0 ? null : To.AddDays(-i).AddHours(5), "E-41", null, "Drain valve does not close", 1 + (i % 4), null, null, null, null, 12.5 * (i % 3), 0.4 * (i % 3)))],
        "cursor-2");

    public static FailureRecordsReport Parts { get; } = new(
        Choice with { Of = FailureKind.Parts, Operator = "OP0", Site = "S1", Model = "H20", Unit = "OV-1", Position = "drain-valve" }, To,
        [
            new("OV-1", "S1", "Larch Hall", Samples.Zone, To, null, null, "drain-valve", "Drain valve", 0, "does_not_close", "P-2204", "B17", 211.4, 0, 0),
            new("OV-1", "S1", "Larch Hall", Samples.Zone, To, null, null, "drain-valve", "Drain valve", 0, null, null, null, null, 9, 1.2),
        ],
        null);
}
