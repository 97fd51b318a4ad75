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

/// <summary>Reports whose names try to break out of the page, whose figures are missing or not numbers, and that are empty.</summary>
public static class Hostile
{
    public const string Name = "</td><script>alert(1)</script>\" onload='x' & ]]> <b>";

    public static readonly string LongName = string.Concat(Enumerable.Repeat("Überlängenküche", 20)) + "\u202E\U0001F9FC";

    public static PageContext Context { get; } = Samples.Context with
    {
        SignedInName = Name,
        AntiforgeryToken = Name,
        TimeZone = "No/Such_Zone"
    };

    public static Basis EmptyBasis { get; } = new(Samples.AsOf, null, null, Name, null, 0, null, new Dictionary<string, int>(), []);

    public static UnitCleaning Unit(CleaningState state) => new(
        "a/b?c#d%20&\"<", Name, LongName, Name, Name, Name, null, "Nowhere/Else", Name, Name, Name, state, Cause.Silent, null, Name, null,
            null, double.NaN, Name, ProgrammeGrade.Descale);

    public static Alert Alert(AlertState state) => new(
        long.MaxValue, AlertKind.Overdue, state, "a/b?c#d%20&\"<", Name, LongName, "Nowhere/Else", Name, DateTimeOffset.MaxValue, null, Name,
        DateTimeOffset.MinValue, Name, state == AlertState.Closed ? DateTimeOffset.MaxValue : null, Name);

    public static AlertsPageReport Alerts => new(
        new AlertsReport(EmptyBasis, Name, new Dictionary<AlertState, int>(), [Alert(AlertState.Open), Alert(AlertState.Closed)], Name), null, true);

    public static AlertsPageReport EmptyAlerts => new(
        new AlertsReport(EmptyBasis, "No alert is open.", new Dictionary<AlertState, int>(), [], null), null, false);

    public static DigestReport Digest => new(EmptyBasis, Name, 0, 0, 0, [Alert(AlertState.Open)], [], []);

    public static ComplianceRow Row(string name, Estimate? share) => new(
        name, name, 0, 0, 0, share, double.NaN, null, Name, new Dictionary<Cause, double>
        {
            [Cause.Silent] = 5,
            [Cause.InOrder] = double.NaN
        }, 0);

    public static ComplianceReport Compliance { get; } = new(
        EmptyBasis, "site", Name, Row(Name, null),
        [Row(Name, new Estimate(0, null, null, 0.95, "none")), Row(LongName, new Estimate(double.NaN, 0, 1, 0.95, "none")), Row("x", null),
            Row("y", new Estimate(1, double.NaN, double.PositiveInfinity, 0.95, "none"))],
        Name);

    public static CleaningPageReport Cleaning { get; } = new(
        new CleaningStatusReport(EmptyBasis, Name, new Dictionary<CleaningState, int>(), [.. Enum.GetValues<CleaningState>().Select(Unit)],
            Name),
        Compliance with { Total = Row(Name, null) with { WindowHours = 5 } },
        new CleaningFilter(CleaningState.LockedOut, Name, Name, Name, -3) { Site = Name, Model = Name, Unit = Name, Move = Mover.Supplier }, [new(Name, Name)], [Name],
        [new(Name, LongName)],
        new MovesReport(3, 2, Name, LongName, double.NaN, -1, new Dictionary<Mover, int> { [Mover.Kitchen] = -1 }),
        new TrendReport(EmptyBasis, Name, Bad, [.. Enumerable.Range(0, 3).Select(i => new TrendWeek(
            Name + i, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, 0, 0, 0, i == 0 ? Bad : new Estimate(0.5, i == 1 ? null : double.NaN, 1, 0.95, Name), double.NaN,
            new Dictionary<Cause, double> { [Cause.NobodyStarted] = double.NaN }, 0))]),
        SignSamples.HostileReport);

    public static CleaningPageReport EmptyCleaning { get; } = new(
        new CleaningStatusReport(EmptyBasis, "No unit is on record.", new Dictionary<CleaningState, int>(), [], null),
        new ComplianceReport(EmptyBasis, "site", "Nothing was due.", Row("All", null), [], null), CleaningFilter.All, [], [], [],
        new MovesReport(0, 0, null, null, null, 0, new Dictionary<Mover, int>()), new TrendReport(EmptyBasis, "No wash was due over 13 weeks.", null, []), SignSamples.Empty);

    public static TodayReport Today { get; } = new(
        EmptyBasis, Name, 3, new Dictionary<CleaningState, int> { [CleaningState.LockedOut] = 1, [CleaningState.Silent] = -1 }, [Unit(CleaningState.LockedOut)], [Unit(CleaningState.Overdue)], [Unit(CleaningState.Silent)],
        [new(Name, Name, LongName, Name, Name, double.NaN, double.NaN, Name)], new Dictionary<string, int> { [Name] = 1 }, Row(Name, null));

    public static TodayReport EmptyToday { get; } =
        new(EmptyBasis, "No unit is on record yet.", 0, new Dictionary<CleaningState, int>(), [], [], [], [], new Dictionary<string, int>(), Row("All", null));

    public static PartLifeReport Fit { get; } = new(
        EmptyBasis with { Clock = Name }, Name, LongName, Name, Name, Name, new LifeCounts(1, 0, 0, 1, 0, 0, double.NaN),
        [new(double.NaN, 1, 1, double.NaN, null, null), new(5, 1, 1, 0, double.NaN, double.PositiveInfinity)],
        new WeibullFigures(Bad, Bad, Bad, Bad, Bad, double.NaN, double.NegativeInfinity, Name), null,
        [new(0, 1, null, null), new(1, double.NaN, double.NaN, 2), new(2, 0.5, null, 0.7)],
        [new(0, 0.5), new(-1, 0.2), new(3, 0), new(4, 1), new(double.NaN, 0.4), new(10, 0.3)]);

    public static PartLifeChoice Choice { get; } = new(Name) { Model = Name, FailureMode = Name, Clock = Name, By = Name, Group = LongName };

    public static PartLifePageReport PartLife { get; } = new(
        [new(Name, LongName, 1, 0)], [Name], [Name],
        Fit with
        {
            By = Name,
            Group = Name,
            ClockReason = Name,
            Clocks = new ClockFigures(Name, Name, false, [new(Name, double.NaN, double.PositiveInfinity)]),
            Groups = new GroupFigures(
                Name, Name, double.NaN, double.NaN, null, double.NaN, [new(Name, 1, 0, double.NaN, double.NaN, Bad, double.NaN, Name)], 1, [Name]),
            Early = [new(Name, LongName, 1, 1, Bad, double.NaN, 1, 1, [Name], Name)],
            SurvivalAt = [new(double.NaN, Bad, Bad, Bad)],
            FixedShape = new FixedShapeFigures(double.NaN, Name, Name, null, null, 0, double.NaN, null, double.NaN, double.NaN, double.NaN, double.NaN, Name, [Name]),
            RankRegression = new RankRegressionFigures(new(double.NaN, double.PositiveInfinity), null, double.NaN, Name),
            FitQuality = Name,
            FitTest = new FitTestFigures(Name, double.NaN, null, null, double.NaN, [new(double.NaN, double.PositiveInfinity, 0, double.NaN)], null, null, Name, [Name]),
            Modes = new ModeFigures(Name, Name, [new(Name, 1, Bad, null, Name, [new(double.NaN, 1, double.NaN, double.NaN, null, null), new(5, 1, 0.5, 0.1, null, null)])], [Name]),
            PoorSwaps = new PoorSwapFigures(1, Name, Bad, null, null, Bad, null, null),
            LeftOut = [new(Name, Name, 1, Name)],
        },
        Choice);

    public static PartLivesReport PartLives { get; } = new(
        Choice, LifeKind.All, LongName, Name,
        [new(Name, Name, Name, 1, null, Name, null, null, Name, Name, double.NaN, null, null, Name) { Supplier = Name, AgeOperatingHours = double.NaN }],
        Name);

    public static PartLifePageReport EmptyPartLife { get; } = new([], [], [], null, null);

    public static PartLivesReport EmptyPartLives { get; } = new(new PartLifeChoice("x"), LifeKind.LeftOut, "Door gasket", "Door gasket: 0 parts left out.", [], null);

    public static UnitReport UnitPage { get; } = new(
        EmptyBasis, Name, null, Name, LongName, Name, Name, Name, Name, "No/Such_Zone", new DateOnly(1, 1, 1), null, Name,
            [Unit(CleaningState.Silent)],
        [new(Name, Name, DateTimeOffset.MinValue, true, true)],
        [new(Name, Name, null, null, null, null, null, Name), new(Name, LongName, Name, DateTimeOffset.MaxValue, double.NaN, -1, Bad,
            Name)],
        [new(new DateOnly(2025, 1, 1), WashDayKind.Counted, 0)],
        [new(1, Samples.AsOf, Name, Name, Name, Samples.AsOf, Name, true)],
        SignSamples.HostileCharts)
    {
        Visits = [new(Name, Name, LongName, DateTimeOffset.MaxValue, -1, [Name])],
    };

    public static UnitReport EmptyUnit { get; } = UnitPage with
    {
        Unit = "NEW-1",
        SiteName = "Larch Hall",
        Sentence = "Nothing was heard yet.",
        Cleaning = [],
        OpenFaults = [],
        Parts = [],
        Days = [],
        History = [],
        Visits = [],
        Signs = SignSamples.NoCharts,
    };

    public static KitchenReport Kitchen { get; } = new(
        EmptyBasis, Name, LongName, Name, Name, "No/Such_Zone", Name,
        [.. Enum.GetValues<KitchenTask>().Select((task, i) => new KitchenUnit(
            Name + i, LongName, task, i == 0 ? null : CleaningState.Silent, Name, Name, Name, DateTimeOffset.MinValue, Name, Name, [Name],
            [.. Enum.GetValues<WashDayKind>().Select(kind => new WashDay(DateOnly.MinValue.AddDays((int)kind), kind, -1, Name))]))],
        [new(DateOnly.MaxValue, false)]);

    public static SiteListReport Sites { get; } = new(
        EmptyBasis, Name, 1, [new(Name, LongName, Name, Name, null, 0, new Dictionary<CleaningState, int> { [CleaningState.Due] = -1 })], Name);

    public static UnitListReport UnitList { get; } = new(
        EmptyBasis, Name, 1, [new(Name, Name, Name, Name, LongName, Name, "No/Such_Zone", null, null)], Name);

    public static UnitListReport EmptyUnitList { get; } = new(EmptyBasis, null, 0, [], null);

    private static Estimate Bad => new(double.NaN, double.NaN, double.PositiveInfinity, 0.95, Name);
}
