using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Failures;

/// <summary>Reports of failures whose names try to break out of the page and whose figures are missing or not numbers.</summary>
public static class HostileFailures
{
    private const string Name = Hostile.Name;

    private static readonly string LongName = Hostile.LongName;

    private static Estimate Bad => new(double.NaN, double.NaN, double.PositiveInfinity, 0.95, Name);

    private static Estimate HalfBad => new(2, double.NaN, double.PositiveInfinity, 0.95, Name);

    public static FailureChoice Choice { get; } = new()
    {
        From = DateTimeOffset.MinValue,
        To = DateTimeOffset.MaxValue,
        Operator = Name,
        Site = Name,
        Model = LongName,
        Unit = "a/b?c#d%20&\"<",
        Position = Name,
        Code = Name,
        Compare = Name,
        GapHours = double.Epsilon,
        WindowDays = int.MaxValue,
    };

    public static FailureTrendReport Trend { get; } = new(
        Hostile.EmptyBasis, Name, Name, Name, Name, double.NaN, [new(Name, double.NaN, double.NaN, Name)], new PowerLawFigures(Bad, 0, 0, double.NaN, Name, double.NaN), Bad,
        [
            new(Name, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, int.MaxValue, double.NaN, Bad, double.NaN, Bad),
            new("2025-13", DateTimeOffset.MinValue, DateTimeOffset.MinValue, int.MaxValue, 1e-9, HalfBad, double.PositiveInfinity, Bad),
            new("2025-01", DateTimeOffset.MaxValue, DateTimeOffset.MaxValue, 1, 0, new Estimate(1e7, 0, 1e8, 0.95, Name), -1, null),
        ]);

    public static RatesReport Rates { get; } = new(
        Hostile.EmptyBasis, Name, RateGroup.Unit, double.NaN, new RateFigures(0, double.NaN, Bad, double.NaN, Bad), Name,
        [
            new(Name, LongName, new RateFigures(-1, double.NaN, Bad, double.NaN, Bad), Bad, Bad, double.NaN, double.NaN, double.NaN, true),
            new(LongName, string.Empty, new RateFigures(1, 0, new Estimate(1e12, 0, null, 0.95, Name), null, null), HalfBad, null, double.PositiveInfinity, null, null, true),
        ],
        Name);

    public static ParetoReport Pareto { get; } = new(
        Hostile.EmptyBasis, Name, ParetoGroup.Code, ParetoMeasure.UnwashedDays, DateTimeOffset.MinValue, DateTimeOffset.MaxValue,
        [
            new(Name, Name, LongName, int.MaxValue, double.NaN, double.PositiveInfinity, 0.9, double.NaN, -1, Bad, double.NaN),
            new(null, null, Name, 1, double.NaN, double.NaN, double.NaN, double.NaN, 0, null, null),
        ]);

    public static RecurrenceReport Recurrence { get; } = new(
        Hostile.EmptyBasis, Name, Name,
        [
            new(Name, LongName, 1, 9, [new(double.NaN, 1, 1, 1, 1, 1), new(5, 1, 1, 2, double.NaN, double.PositiveInfinity)]),
            new(Name, Name, 1, 1, [new(5, 1, 1, double.NaN, null, null), new(9, 0, 0, 0, null, null)]),
            new(Name, Name, 0, 0, []),
        ],
        new RecurrenceComparison(Name, double.NaN, -1, double.NaN, Name));

    public static RepeatsReport Repeats { get; } = new(
        Hostile.EmptyBasis, Name, int.MinValue, double.NaN,
        [new(Name, null, LongName, -1, 1, Bad, double.NaN, Bad), new(null, Name, Name, 1, 0, null, null, null)],
        [new(Name, Name, LongName, Name, Name, 1, double.NaN, Bad, double.NaN, double.NaN, true)],
        [new(Name, Name, Name, Name, 1, 1, 1, double.NaN, Bad, double.NaN, true), new(Name, Name, LongName, null, 1, 0, 1, double.NaN, Bad, double.NaN, false)],
        [new(Name, Name, LongName, "No/Such_Zone", Name, Name, Name, DateTimeOffset.MinValue, DateTimeOffset.MaxValue, double.NaN, Name, Name, RepeatKind.BadBatch, Name)],
        Name);

    public static FailuresPageReport Page { get; } = new(
        Choice, Name, [.. Enumerable.Range(0, 7).Select(i => new FailureDecision(Name + i, [Name, LongName], Name, Urls.Unit(Name), Urls.FailureRecords(Choice)))],
        Trend, Recurrence, Rates, Repeats, Pareto, new FailureOffers([new(Name, LongName)], [], [new(Name, Name)], [new(Name, Name)]));

    public static FailureRecordsReport Records { get; } = new(
        Choice, DateTimeOffset.MaxValue,
        [new(Name, Name, LongName, "No/Such_Zone", DateTimeOffset.MinValue, DateTimeOffset.MaxValue, Name, Name, Name, -1, Name, Name, Name, double.NaN, double.NaN, double.PositiveInfinity)],
        Name);
}
