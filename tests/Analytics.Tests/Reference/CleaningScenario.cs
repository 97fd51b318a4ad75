using CsCheck;
using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Reference;

/// <summary>A site as plain data, so that the slow computation need not ask the product's calendar.</summary>
public sealed record SiteData(string ZoneId, bool[] TradedFromMonday, int DayEndsAtMinute, LocalDate[] Closures)
{
    public DateTimeZone Zone => DateTimeZoneProviders.Tzdb[ZoneId];

    public SiteCalendar Calendar => new(
        Zone,
        Enumerable.Range(0, 7).Where(d => TradedFromMonday[d]).Select(d => (IsoDayOfWeek)(d + 1)),
        LocalTime.FromMinutesSinceMidnight(DayEndsAtMinute),
        Closures);
}

/// <summary>A site, a rule, a unit's records and a window, all at whole minutes.</summary>
public sealed record CleaningScenario(SiteData Site, CleaningRule Rule, UnitHistory History, Interval Window)
{
    private const int Span = 12 * 24 * 60;

    /// <summary>Zones with a change of the clocks a few days after the date given: by an hour, by half an hour, at midnight, or
    /// none.</summary>
    private static readonly (string Zone, LocalDate Begin)[] Places =
    [
        ("Europe/Vienna", new LocalDate(2025, 3, 26)), ("Europe/Vienna", new LocalDate(2025, 10, 22)),
        ("America/New_York", new LocalDate(2025, 3, 5)), ("America/New_York", new LocalDate(2025, 10, 29)),
        ("Australia/Lord_Howe", new LocalDate(2025, 4, 2)), ("Australia/Lord_Howe", new LocalDate(2025, 10, 1)),
        ("America/Santiago", new LocalDate(2025, 4, 2)), ("America/Santiago", new LocalDate(2025, 9, 3)),
        ("Pacific/Apia", new LocalDate(2011, 12, 26)), ("Asia/Kathmandu", new LocalDate(2025, 6, 1)),
    ];

    /// <summary>Random scenarios: late and overlapping washes, refusals, faults never cleared, open visits, silence, closures.</summary>
    public static Gen<CleaningScenario> Any { get; } =
        Gen.Select(Gen.Int[0, Places.Length - 1], Gen.OneOf(Gen.Const(1), Gen.Const(30), Gen.Const(120)))
            .SelectMany(at => ScenarioAt(Places[at.Item1].Zone, Places[at.Item1].Begin, at.Item2));

    /// <summary>Everything lies on a grid of so many minutes; a coarse one makes instants meet: a wash at the deadline, a fault at its
    /// clearing.</summary>
    private static Gen<CleaningScenario> ScenarioAt(string zone, LocalDate begin, int grid)
    {
        Gen<int> Minutes(int least, int most) => Gen.Int[least, most].Select(m => m / grid * grid);
        Gen<LocalDate?> Days(int least, int most) => Gen.Int[least, most].Select(d => (LocalDate?)begin.PlusDays(d));
        Instant origin = begin.AtStartOfDayInZone(DateTimeZoneProviders.Tzdb[zone]).ToInstant();
        Gen<Instant> at = Minutes(0, Span).Select(m => origin + Duration.FromMinutes(m));
        Gen<Instant?> atOrNever = Gen.Frequency((1, Gen.Const((Instant?)null)), (4, at.Select(t => (Instant?)t)));
        Gen<LocalDate> date = Gen.Int[0, 12].Select(begin.PlusDays);
        Gen<LocalDate?> early = Gen.Frequency((2, Gen.Const((LocalDate?)null)), (1, Days(-3, 4)));
        Gen<LocalDate?> late = Gen.Frequency((5, Gen.Const((LocalDate?)null)), (1, Days(6, 12)));
        Gen<SiteData> site = Gen.Select(
            Gen.Frequency((4, Gen.Const(true)), (1, Gen.Const(false))).Array[7], Gen.Int[0, 11].Select(half => half * 30), date.Array[0, 2],
            (traded, ends, closures) => new SiteData(zone, traded, ends, closures));
        Gen<UnitHistory> history = Gen.Select(
            ServiceOf(at, atOrNever, early, late, grid), WashesOf(at, Minutes(-20, 240)), FaultsOf(at, Minutes(-600, 6000)), at.Array[0, 8],
            VisitsOf(atOrNever, Minutes(-200, 400)), ApprovalsOf(atOrNever),
            (service, washes, faults, heard, visits, approvals) => new UnitHistory(service, washes, faults, heard, visits, approvals));
        Gen<Interval> window = Gen.Select(at, Minutes(1, 10 * 24 * 60).Select(m => Math.Max(1, m)), (from, length) =>
            new Interval(from, from + Duration.FromMinutes(length)));
        return Gen.Select(site, RuleOf(early, late, grid), history, window, (s, r, h, w) => new CleaningScenario(s, r, h, w));
    }

    private static Gen<CleaningRule> RuleOf(Gen<LocalDate?> from, Gen<LocalDate?> to, int grid)
    {
        Gen<(DueBasis, int)> days = Gen.Select(
            Gen.Frequency((3, Gen.Const(1)), (2, Gen.Int[2, 4])), Gen.Int[0, 30 * 60],
            (n, grace) => ((DueBasis)new EveryTradingDays(n), grace / grid * grid));
        Gen<(DueBasis, int)> hours = Gen.Int[120, 60 * 60].Select(m => m / grid * grid).SelectMany(every => Gen.Int[0, Math.Min(every - 1, 6 * 60)]
            .Select(grace => ((DueBasis)new EveryHours(Duration.FromMinutes(every)), grace / grid * grid)));
        return Gen.Select(Gen.OneOf(days, hours), from, to, (basis, first, last) => new CleaningRule(
            "R", ProgrammeGrade.Standard, basis.Item1, Duration.FromMinutes(basis.Item2), first,
            last is { } l && first is { } f && l < f ? f : last));
    }

    private static Gen<UnitService> ServiceOf(
        Gen<Instant> at, Gen<Instant?> atOrNever, Gen<LocalDate?> early, Gen<LocalDate?> late, int grid) => Gen.Select(
        Gen.Frequency((1, Gen.Const(0)), (4, Gen.Int[6 * 60, 96 * 60].Select(m => m / grid * grid))), early, late,
        Gen.Select(at, atOrNever, (from, to) => new OutOfServicePeriod(from, to)).Array[0, 2],
        (reporting, first, last, periods) => new UnitService(
            reporting == 0 ? null : Duration.FromMinutes(reporting), first, last, periods));

    private static Gen<Wash[]> WashesOf(Gen<Instant> at, Gen<int> minutes)
    {
        Gen<ProgrammeGrade> grade = Gen.Frequency(
            (1, Gen.Const(ProgrammeGrade.Light)), (6, Gen.Const(ProgrammeGrade.Standard)), (1, Gen.Const(ProgrammeGrade.Intensive)),
            (1, Gen.Const(ProgrammeGrade.Descale)));
        Gen<WashOutcome> outcome = Gen.Frequency(
            (6, Gen.Const(WashOutcome.Completed)), (2, Gen.Const(WashOutcome.StoppedByPerson)), (2, Gen.Const(WashOutcome.StoppedByFault)),
            (2, Gen.Const(WashOutcome.Refused)), (1, Gen.Const(WashOutcome.Unknown)));
        Gen<bool?> left = Gen.Frequency((3, Gen.Const((bool?)null)), (3, Gen.Const((bool?)false)), (1, Gen.Const((bool?)true)));
        return Gen.Select(at, minutes, grade, outcome, left, (start, length, g, o, l) => new Wash(
            start, length < 0 || o == WashOutcome.Refused ? null : start + Duration.FromMinutes(length), g, o, l)).Array[0, 14];
    }

    private static Gen<WashFault[]> FaultsOf(Gen<Instant> at, Gen<int> minutes) => Gen.Select(
        at, minutes, Gen.Int[0, 2], (raised, length, kind) => new WashFault(
            kind == 2 ? "B" : "A", raised, length > 4000 ? null : raised + Duration.FromMinutes(length), kind > 0)).Array[0, 4];

    private static Gen<Visit[]> VisitsOf(Gen<Instant?> atOrNever, Gen<int> minutes) => Gen.Select(
        atOrNever, atOrNever, minutes, Gen.Int[0, 5], (asked, arrived, length, outcome) => new Visit(
            asked, arrived, length > 350 ? null : arrived + Duration.FromMinutes(length),
            outcome == 5 ? null : (VisitOutcome)outcome)).Array[0, 4];

    private static Gen<Approval[]> ApprovalsOf(Gen<Instant?> atOrNever) => Gen.Select(
        atOrNever, atOrNever, Gen.Int[0, 3], (asked, decided, answer) => new Approval(
            asked, decided, answer == 0 ? null : answer > 1)).Array[0, 3];
}
