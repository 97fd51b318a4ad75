using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Sites;
using Washwear.Dashboard.Tests.Cleaning;
using Washwear.Dashboard.Today;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests;

/// <summary>Reports of an invented fleet, as a full page shows them. The figures are made up to fill a page, not to be right.</summary>
public static class Samples
{
    public static readonly DateTimeOffset AsOf = new(2025, 6, 3, 7, 30, 0, TimeSpan.Zero);

    public const string Zone = "Europe/Vienna";

    public static PageContext Context { get; } = new(AsOf, "Morning desk", AntiforgeryToken: "token-1", InventedData: true, TimeZone: Zone) { MayAdminister = true };

    public static Basis Basis(string method, int n, int? failures = null, string? clock = null) => new(
        AsOf, AsOf.AddDays(-28), AsOf, method, clock, n, failures,
        new Dictionary<string, int> { ["start_unknown"] = 11, ["unit_not_heard_from"] = 2 },
        ["Two units send their washes a day late, so yesterday may still change."]);

    public static UnitCleaning Unit(int i, CleaningState state, Cause cause, double hours, string move, string sentence) => new(
        $"OV-{1000 + i}", $"S{i % 9}", SiteNames[i % 9], $"OP{i % 3}", OperatorNames[i % 3], i % 2 == 0 ? "H20" : "H10", i % 2 == 0
            ? "North" : "South",
        Zone, "daily", "a standard wash every trading day, 4 h of grace", "house rule of the food safety plan, section 7", state, cause,
        AsOf.AddHours(-hours), move, AsOf.AddHours(-hours - 22), AsOf.AddHours(-hours - 4), state == CleaningState.Overdue ? hours : 0,
            sentence, ProgrammeGrade.Standard);

    public static Alert Alert(int i, AlertKind kind, AlertState state) => new(
        i, kind, state, $"OV-{1000 + i}", $"S{i % 9}", SiteNames[i % 9], Zone, kind == AlertKind.Overdue ? "daily" : null, AsOf.AddHours(-i),
        AsOf.AddHours(-i - 24), "Nobody has started a wash since the deadline.", state == AlertState.Seen ? AsOf.AddHours(-1) : null,
        state == AlertState.Seen ? "Morning desk" : null, state == AlertState.Closed ? AsOf : null, state == AlertState.Closed ? "Clean again." : null);

    public static AlertsPageReport Alerts => new(
        new AlertsReport(
            Basis("states at each check", 3), "1 alert waits to be seen; 1 more still holds.",
            new Dictionary<AlertState, int> { [AlertState.Open] = 1, [AlertState.Seen] = 1, [AlertState.Closed] = 1 },
            [Alert(3, AlertKind.Overdue, AlertState.Open), Alert(2, AlertKind.EarlySign, AlertState.Seen), Alert(1, AlertKind.Silent, AlertState.Closed)],
            "cursor"),
        AlertState.Open,
        true);

    public static DigestReport Digest => new(
        Basis("states at each check", 3), "In the last 24 hours 1 alert opened and 1 closed; 2 open now.", 1, 1, 2,
        [Alert(3, AlertKind.Overdue, AlertState.Open)], [Alert(1, AlertKind.Silent, AlertState.Closed)], [Alert(2, AlertKind.LockedOut, AlertState.Seen)]);

    public static readonly string[] SiteNames =
    [
        "Harbour Lane School", "Millbrook House", "Ostrava Way Canteen", "Fennel Street Clinic", "Quarry Road Depot",
        "Larch Hall", "St Odo's Refectory", "Weir Bridge Works", "Upper Tarn Hostel",
    ];

    public static readonly string[] OperatorNames = ["Quillmere Kitchens", "Tarnwick Catering", "Nine Bells Dining"];

    public static IReadOnlyList<UnitCleaning> LockedOut { get; } =
    [
        Unit(3, CleaningState.LockedOut, Cause.LockoutWaitingPart, 197, "supplier",
            "Drain valve fault E-41 locks out washing since Monday a week ago; the part is on order. Nobody on site can end this."),
        Unit(12, CleaningState.LockedOut, Cause.LockoutWaitingApproval, 76.5, "approver",
            "The repair was quoted on Saturday and waits for an approval."),
        Unit(7, CleaningState.LockedOut, Cause.LockoutNoVisitAsked, 31.2, "service",
            "The unit refused the last wash and nobody has asked for a visit."),
    ];

    public static IReadOnlyList<UnitCleaning> Overdue { get; } =
    [
        .. Enumerable.Range(20, 9).Select(i => Unit(
            i, CleaningState.Overdue, i % 3 == 0 ? Cause.StoppedByPerson : i % 3 == 1 ? Cause.NobodyStarted : Cause.WashDidNotCount,
            120.4 - (11 * (i - 20)), "kitchen",
            i % 3 == 0 ? "The last wash was stopped by a person after 12 min." : i % 3 == 1
                ? "Nobody has started a wash since the deadline."
                : "A light wash ran, but the rule asks for a standard one.")),
    ];

    public static IReadOnlyList<UnitCleaning> Silent { get; } =
        [Unit(44, CleaningState.Silent, Cause.Silent, 402, "connection",
            "Nothing was heard for more than 72 h; it may be clean. Look at the connection.")];

    public static Estimate Share(double value, double lower, double upper) => new(value, lower, upper, 0.95, "logit, units as clusters");

    public static ComplianceRow Row(int i, double share) => new(
        $"S{i}", SiteNames[i % 9] + (i >= 9 ? " " + (i / 9) : string.Empty), 3 + (i % 4), 80 + i, (int)Math.Round((80 + i) * share),
        Share(share, Math.Max(0, share - 0.09), Math.Min(1, share + 0.06)), Math.Min(1, share + 0.02), 30 + (5 * i), "OV-1003",
            Hours(share, 672 * (3 + (i % 4))),
        672 * (3 + (i % 4)));

    public static IReadOnlyDictionary<Cause, double> Hours(double share, double window)
    {
        double off = window * 0.14;
        double rest = window - off - (window * 0.86 * share);
        return new Dictionary<Cause, double>
        {
            [Cause.InOrder] = window * 0.86 * share,
            [Cause.NobodyStarted] = rest * 0.4,
            [Cause.StoppedByPerson] = rest * 0.15,
            [Cause.StoppedByFault] = rest * 0.05,
            [Cause.WashDidNotCount] = rest * 0.1,
            [Cause.LockoutNoVisitAsked] = rest * 0.06,
            [Cause.LockoutWaitingTechnician] = rest * 0.07,
            [Cause.LockoutWaitingApproval] = rest * 0.06,
            [Cause.LockoutWaitingPart] = rest * 0.06,
            [Cause.BeingWorkedOn] = rest * 0.01,
            [Cause.Silent] = rest * 0.04,
            [Cause.SiteClosed] = off * 0.9,
            [Cause.OutOfService] = off * 0.1,
        };
    }

    public static ComplianceReport Compliance { get; } = new(
        Basis("on-time share of due washes, units as clusters", 1512), "site",
        "91 % of the washes that were due were on time; three sites account for half of the rest.",
        Row(4, 0.91) with
        {
            Name = "All together",
            Group = "all",
            Units = 61,
            Due = 1512,
            OnTime = 1376,
            HoursByCause = Hours(0.91, 40992),
            WindowHours = 40992
        },
        [.. Enumerable.Range(0, 18).Select(i => Row(i, 0.58 + (0.023 * i)))], null);

    public static TodayReport Today { get; } = new(
        Basis("state of each unit under each rule", 61),
            "Twelve of 61 units need somebody: three cannot wash at all, nine were not washed in time.",
        61,
        new Dictionary<CleaningState, int>
        {
            [CleaningState.LockedOut] = LockedOut.Count,
            [CleaningState.Overdue] = Overdue.Count,
            [CleaningState.Silent] = Silent.Count,
        },
        LockedOut, Overdue, Silent,
        [
            new("OV-1031", "S4", "Quarry Road Depot", "wash-pump", "Wash pump", 911, 0.37,
                "More than one in three at this age; swap it when the unit is next open."),
            new("OV-1008", "S8", "Upper Tarn Hostel", "drain-valve", "Drain valve", 640, 0.22, "About one in five."),
        ],
        new Dictionary<string, int> { ["gateway-north"] = 14, ["job-sheets.csv"] = 3 }, Compliance.Total);

    public static CleaningStatusReport Status { get; } = new(
        Basis("state of each unit under each rule", 61), "Nine units are overdue and three are locked out; 48 are in order.",
        new Dictionary<CleaningState, int>
        {
            [CleaningState.Clean] = 44,
            [CleaningState.Due] = 4,
            [CleaningState.Overdue] = 9,
            [CleaningState.LockedOut] = 3,
            [CleaningState.Silent] = 1,
        },
        [.. LockedOut, .. Overdue, .. Silent, Unit(50, CleaningState.Due, Cause.InOrder, 2, "kitchen",
            "A wash is due by 11:30; the grace runs."),
            Unit(51, CleaningState.Clean, Cause.InOrder, 8, "nobody", "Washed last night.")],
        "cursor-2");

    public static CleaningPageReport Cleaning { get; } = new(
        Status, Compliance, CleaningFilter.All, [new("OP0", "Quillmere Kitchens"), new("OP1", "Tarnwick Catering")], ["North", "South"],
        [new("H20", "Hearth 20")], Moves, Trend, SignSamples.Report);

    public static MovesReport Moves => new(
        61, 12, "OV-1003", "Fennel Street Clinic", 197, 0, new Dictionary<Mover, int> { [Mover.Kitchen] = 9, [Mover.Service] = 1, [Mover.Supplier] = 1 });

    public static TrendReport Trend => new(
        Basis("whole ISO weeks by UTC", 1512), "The share of washes on time shows no steady rise or fall over 13 weeks beyond chance: −2.9 points (−6.4 to +0.6).",
        new Estimate(-0.029, -0.064, 0.006, 0.95, "least-squares line"),
        [
            .. Enumerable.Range(0, 13).Select(i => new TrendWeek(
                $"2025-W{10 + i}", new DateTimeOffset(2025, 3, 3, 0, 0, 0, TimeSpan.Zero).AddDays(7 * i), new DateTimeOffset(2025, 3, 10, 0, 0, 0, TimeSpan.Zero).AddDays(7 * i),
                61, 120, 110 - i, Share((110 - i) / 120.0, 0.7, 0.95), 0.9, Hours(0.9, 10248), 10248)),
        ]);

    public static PartLifeReport Fit { get; } = MakeFit();

    public static PartLifeChoice Choice { get; } = new("wash-pump")
    {
        By = "batch",
        Group = "B17",
        At = [365, 730.5],
        Shape = 2.5,
        BothBounds = true,
        Level = 0.9,
    };

    public static PartLifePageReport PartLife { get; } = new(
        [new("wash-pump", "Wash pump", 143, 41), new("drain-valve", "Drain valve", 138, 17), new("door-gasket", "Door gasket", 61, 2)],
        ["H10", "H20"], ["no_pressure", "leak", "noise"], Fit, Choice);

    public static PartLivesReport PartLives { get; } = new(
        Choice, LifeKind.StillFitted, "Wash pump", "Wash pump, batch B17: 30 parts still fitted.",
        [
            .. Enumerable.Range(0, 30).Select(i => new PartLifeRow(
                $"OV-{1000 + i}", i % 2 == 0 ? "H20" : "H10", "wash-pump", 1 + (i % 3), "P-7731", i % 4 == 0 ? "B17" : null,
                i == 5 ? null : AsOf.AddDays(-900 + (10 * i)), i % 3 == 0 ? AsOf.AddDays(-30 - i) : null, i % 3 == 0 ? "failed" : null,
                i % 3 == 0 ? "no_pressure" : null, 0, i == 5 ? null : 870 - (11 * i), i == 5 ? null : 720 - (10 * i),
                i == 5 ? "fitted before records began" : null) { Supplier = "Quillmere Parts", LookedPoor = i % 7 == 0, AgeOperatingHours = 9 * i }),
        ],
        "cursor-2");

    public static PartLifeReport TooFew { get; } = Fit with
    {
        PositionName = "Door gasket",
        Position = "door-gasket",
        Sentence = "Two of 61 door gaskets have failed: too few to say how they age.",
        Counts = new LifeCounts(61, 2, 0, 55, 4, 6, 1220),
        Weibull = null,
        Curve = [],
        FailureMode = "leak",
        Model = "H10",
        NotEnough = new NotEnoughFigures(2, 5, "Two failures cannot tell the shape of a life curve.", 41230, 6549, 0.95),
        KaplanMeier = [new(310, 58, 1, 0.983, 0.884, 0.998), new(702, 40, 1, 0.958, null, null)],
        PlottingPoints = [new(310, 0.012), new(702, 0.035)],
        FixedShape = new FixedShapeFigures(
            2.1, "fleet_of_same_position", "fitted to the fleet's parts at the same position", 1.6, 2.7, 2, 0.95, 8.1e7, 3010, 1620, 1435, 560,
            "at a shape of 2.1 (fitted to the fleet's parts at the same position), one in ten fails no earlier than 560 days.",
            ["The shape (2.1) was fitted to the fleet's parts at the same position, not to these lives: the bound is only as good as it."]),
        RankRegression = new RankRegressionFigures(null, null, null, "Benard's median ranks"),
        SurvivalAt = [new(365, Share(0.98, 0.88, 0.99), null, null), new(4000, null, null, null)],
        Modes = null,
        WeibullInformation = null,
        FitTest = null,
        FitQuality = null,
    };

    public static IReadOnlyList<WashDay> Days { get; } =
    [
        .. Enumerable.Range(0, 365).Select(i =>
        {
            DateOnly day = new DateOnly(2024, 6, 4).AddDays(i);
            WashDayKind kind = day.DayOfWeek == DayOfWeek.Sunday ? WashDayKind.Closed
                : i < 9 ? WashDayKind.OutOfService
                : i is > 100 and < 108 ? WashDayKind.Refused
                : i is > 200 and < 206 ? WashDayKind.Silent
                : (i * 7919 % 23) switch { 0 => WashDayKind.NobodyStarted, 1 => WashDayKind.StoppedByPerson, 2 => WashDayKind.LowerGrade, 3 => WashDayKind.CountedByHand, _ =>
                    WashDayKind.Counted };
            return new WashDay(day, kind, kind == WashDayKind.Counted ? 1 + (i % 11 == 0 ? 1 : 0) : 0);
        }),
    ];

    public static UnitReport UnitPage => WithoutVisits with
    {
        Visits = [new("0196-a", "tech 4", "Visit by tech 4: repaired and proven after 2 h.", AsOf.AddDays(-1), 2, ["Another visit covers the same time."]), new("0196-b", "gateway 1", "Visit.", null, 0, [])],
    };

    private static UnitReport WithoutVisits { get; } = new(
        Basis("records of the unit", 812), "OV-1003", "73-0021987", "S3", "Fennel Street Clinic", "OP0", "Quillmere Kitchens", "H20",
            "Hearth 20, twenty trays", Zone,
        new DateOnly(2022, 3, 14), AsOf.AddHours(-2.4),
        "OV-1003 cannot wash: its drain valve has been stuck for 8 days and the part is on order. The supplier's move.",
        [LockedOut[0], Unit(3, CleaningState.Clean, Cause.InOrder, 90, "nobody", "Descaled last week.") with { Rule = "descale",
            RuleText = "a descale every 30 days" }],
        [new("E-41", "Drain valve does not close", AsOf.AddHours(-197), true, false), new("W-07", "Door switch slow", AsOf.AddHours(-20),
            false, false)],
        [
            new("wash-pump", "Wash pump", "P-7731", AsOf.AddDays(-430), 430, 388, Share(0.11, 0.07, 0.17),
                "Weibull on washes, 41 failures of 143 lives, all models"),
            new("drain-valve", "Drain valve", "P-2204", null, null, null, null, "Fitted before records began: its age is not known."),
            new("door-gasket", "Door gasket", "P-0190", AsOf.AddDays(-120), 120, 101, null,
                "Too few failures (2) of this position to tell."),
        ],
        Days,
        [
            new(9001, AsOf.AddHours(-2.4), "heartbeat", "gateway-north", "hb-77121", AsOf.AddHours(-2.4),
                "The unit reported that it is there.", false),
            new(8990, AsOf.AddHours(-20), "fault", "gateway-north", "f-5512", AsOf.AddHours(-19.9),
                "Fault W-07 was raised: door switch slow.", false),
            new(8971, AsOf.AddHours(-197), "wash", "gateway-north", "w-99120", AsOf.AddHours(-196),
                "Wash P3 (standard) was stopped by fault E-41 after 18 min.", false),
            new(8903, AsOf.AddHours(-230), "wash", "job-sheets.csv", "row-18", AsOf.AddHours(-200),
                "Wash by hand, attested by the kitchen.", true),
        ],
        SignSamples.Charts);

    public static KitchenReport Kitchen { get; } = new(
        Basis("state by the cleaning rules that apply", 2), "S3", "Fennel Street Clinic", "OP0", "Quillmere Kitchens", Zone,
        "Of 2 ovens: 1 cannot wash and waits for somebody; 1 to wash today.",
        [
            new("OV-1003", "Hearth 20, twenty trays", KitchenTask.Wait, CleaningState.LockedOut, "Cannot wash: the repair waits for a part.",
                "Mon 26 May at 23:10", null, AsOf.AddDays(-7), "supplier", "The service firm: they wait for the part", [], [.. Days.TakeLast(14)]),
            new("OV-1004", "Hearth 10, ten trays", KitchenTask.WashToday, CleaningState.Clean, "Wash it tonight before 02:00.", "Last night at 23:40",
                "Tonight before 02:00 (Wed 4 Jun), programme night or deep", AsOf.AddHours(16), "nobody", null,
                ["Intensive wash: Friday night before 02:00 (Sat 7 Jun), programme deep"], [.. Days.TakeLast(14)]),
        ],
        [.. Enumerable.Range(0, 7).Select(i => new KitchenDay(new DateOnly(2025, 6, 3).AddDays(i), i != 5))]);

    public static SiteListReport Sites { get; } = new(
        Basis("registry search in name and code", 9), "e", 9,
        [.. SiteNames.Select((name, i) => new SiteListRow(
            $"S{i}", name, $"OP{i % 3}", OperatorNames[i % 3], i == 2 ? null : "North", 3,
            new Dictionary<CleaningState, int> { [CleaningState.Clean] = 2, [(CleaningState)(1 + (i % 6))] = 1 }))],
        "cursor-2");

    public static UnitListReport UnitList { get; } = new(
        Basis("units on record", 61), "OV-10", 61,
        [.. Enumerable.Range(0, 12).Select(i => new UnitListRow(
            $"OV-{1000 + i}", i % 5 == 0 ? null : $"73-00{21000 + i}", i % 2 == 0 ? "H20" : "H10", $"S{i % 9}", SiteNames[i % 9],
                OperatorNames[i % 3], Zone,
            i == 4 ? null : (CleaningState)(i % 7), i == 6 ? null : AsOf.AddHours(-i * 3)))],
        "cursor-2");

    private static PartLifeReport MakeFit()
    {
        const double Shape = 2.13;
        const double Scale = 1180;
        double[] failed = [.. Enumerable.Range(1, 41).Select(i => Math.Round(Scale * Math.Pow(-Math.Log(1 - (i / 60.0)), 1 / Shape) * (1
            + (0.04 * Math.Sin(i * 2.4)))))];
        Array.Sort(failed);
        KaplanMeierStep[] steps = [.. failed.Select((age, i) =>
        {
            int atRisk = 143 - (2 * i) - (i / 2);
            double survival = Math.Exp(-Math.Pow(age / Scale, Shape)) + (0.02 * Math.Sin(i) * i / 41);
            double spread = 0.012 * Math.Sqrt(i + 1);
            return new KaplanMeierStep(age, atRisk, 1, survival, Math.Max(0, survival - spread), Math.Min(1, survival + (spread * 0.8)));
        })];
        CurvePoint[] curve = [.. Enumerable.Range(0, 41).Select(i =>
        {
            double age = i * 45.0;
            double s = Math.Exp(-Math.Pow(age / Scale, Shape));
            double spread = 0.16 * s * (1 - s) * 1.8;
            return new CurvePoint(age, s, Math.Max(0, s - spread), Math.Min(1, s + spread));
        })];
        var points = steps.Select((step, i) => new PlottingPoint(step.Age, (i + 0.7) / 60.4)).ToArray();
        Estimate Figure(double value, double spread) => new(value, value * (1 - spread), value * (1 + (1.3 * spread)), 0.95,
            "profile likelihood");
        return new PartLifeReport(
            Basis("Kaplan–Meier; Weibull by maximum likelihood with right, interval censoring and delayed entry", 143, 41, "days"),
            "wash-pump", "Wash pump", null, null, "Wash pumps wear out: one in ten has failed by 411 days, half by 993 days.",
            new LifeCounts(143, 38, 3, 79, 23, 17, 1640), steps,
            new WeibullFigures(Figure(2.13, 0.14), Figure(1180, 0.08), Figure(1045, 0.08), Figure(411.3, 0.19), Figure(993.5, 0.08),
                -331.27, 666.54,
                "The shape is above 1 with its whole interval: these pumps wear out, so swapping by age makes sense."),
            null, curve, points, "Nothing speaks against the model (p 0.41, chi-square of failures by age band).",
            new ClockFigures(
                "Counted in washes the lives follow one curve best; the other clocks explain them clearly less well.", "washes", true,
                [new("washes", 0, 390), new("days", 14.2, 411), new("operating_hours", null, null)]),
            new GroupFigures(
                "batch", "B17 fails earlier than B16: its lives are 0.31 (0.22 to 0.45) times as long (12 failures).", 2.2, 0.4, 0.0001, 0.0002,
                [
                    new("B16", 80, 20, 25.3, 1250, null, null, "compared with"),
                    new("B17", 30, 12, 4.2, 390, Figure(0.31, 0.2), 0.0003, "fails earlier"),
                    new("not named", 9, 0, null, null, null, null, "too few failures to tell"),
                ],
                3, ["'not named' has too few failures (0): the p-values are rough."]))
        {
            By = "batch",
            Group = "B17",
            ClockReason = "Counted in days as you asked; washes explain the records clearly better.",
            Early =
            [
                new("batch", "B17", 30, 12, Figure(0.31, 0.2), 0.0003, 14, 9, ["OV-1001", "OV-1007"], "Batch B17 fails early: 12 failures of 30 parts."),
                new("supplier", "Quillmere Parts", 30, 12, Figure(0.31, 0.2), 0.0003, 3, 0, [], "Supplier Quillmere Parts fails early."),
            ],
            WeibullInformation = new WeibullFigures(
                Figure(2.13, 0.12), Figure(1180, 0.07), Figure(1045, 0.07), Figure(411.3, 0.17), Figure(993.5, 0.07), -331.27, 666.54, "wears out"),
            SurvivalAt = [new(365, Share(0.93, 0.9, 0.95), Share(0.92, 0.9, 0.94), Share(0.92, 0.9, 0.94)), new(5000, null, Share(0.01, 0, 0.02), null)],
            RankRegression = new RankRegressionFigures(new(2.2, 1175), new(2.1, 1190), 0.97, "Benard's median ranks"),
            FitTest = new FitTestFigures(
                "chi-square of failures by age band", 3.1, null, 4, 0.41, [new(0, 300, 8, 7.6), new(300, 1640, 9, 9.4)], 0.3, 700, null, []),
            Modes = new ModeFigures(
                "No pressure ends most parts: 25 failures of 41; it fails more often as it ages (wear-out).", "cumulative incidence",
                [
                    new("no_pressure", 25, Share(0.4, 0.3, 0.5), null, "too few failures", [new(300, 1, 0.01, 0.01, 0.002, 0.03), new(1200, 1, 0.4, 0.05, 0.3, 0.5)]),
                    new(null, 16, null, null, null, [new(500, 1, 0.05, 0.02, null, null)]),
                ],
                ["Failures that name no mode are shown apart (16 of 41)."]),
            PoorSwaps = new PoorSwapFigures(
                4, "Parts were swapped because they looked poor: 4 of 143, beside those that failed: 41.", Figure(411, 0.2), Figure(390, 0.2), null, null,
                Figure(1045, 0.1), null),
            LeftOut = [new("unknown_start", "nobody reported its fitting", 11, "parts"), new("voided", "a part change was voided", 1, "records")],
        };
    }
}
