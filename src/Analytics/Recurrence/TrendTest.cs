using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>How a record ended.</summary>
public enum RecordEnd
{
    /// <summary>At a time that has nothing to do with the events, such as today (time-terminated).</summary>
    ByTime,

    /// <summary>At an event, because of it (failure-terminated): the last event then says nothing but where the record ends.</summary>
    AtEvent,
}

/// <summary>Which way events go, whether or not it is more than chance.</summary>
public enum TrendDirection
{
    /// <summary>Neither way.</summary>
    Level,

    /// <summary>Events come more often as time goes on.</summary>
    Worsening,

    /// <summary>Events come less often as time goes on.</summary>
    Improving,
}

/// <summary>A test for trend in events that recur.</summary>
public enum TrendTestKind
{
    /// <summary>Laplace's test, of the mean position of events in their windows.</summary>
    Laplace,

    /// <summary>Laplace's statistic with the spread taken from the units themselves.</summary>
    LaplaceBetweenUnits,

    /// <summary>The chi-square test of MIL-HDBK-189.</summary>
    MilitaryHandbook,

    /// <summary>Lewis and Robinson's test, of renewal against trend.</summary>
    LewisRobinson,

    /// <summary>Mann's reverse arrangements of the times between events.</summary>
    ReverseArrangements,

    /// <summary>Laplace's test of counts in successive periods with their exposure (the trend test of Cochran and Armitage).</summary>
    Counts,

    /// <summary>Mann and Kendall's test of the rates of successive periods.</summary>
    MannKendall,
}

/// <summary>Outcome of a test for trend.</summary>
/// <param name="Kind">The test.</param>
/// <param name="Units">Units that contributed events to the sums.</param>
/// <param name="Events">Events that entered the sums.</param>
/// <param name="EnteredLate">Units among them whose watch began above age 0.</param>
/// <param name="Statistic">
/// z for Laplace, Lewis-Robinson, counts and Mann-Kendall, positive when worsening; chi-square for the handbook, large when improving;
/// number of reversals for reverse arrangements, large when improving. Null where the test cannot be made.
/// </param>
/// <param name="DegreesOfFreedom">Of the chi-square; null for the others.</param>
/// <param name="PWorsening">
/// Chance of a statistic that speaks at least as much for worsening, without any trend; null without statistic.
/// </param>
/// <param name="PImproving">The same for improving.</param>
public sealed record TrendTest(
    TrendTestKind Kind,
    int Units,
    int Events,
    int EnteredLate,
    double? Statistic,
    int? DegreesOfFreedom,
    double? PWorsening,
    double? PImproving)
{
    /// <summary>Two-sided chance: twice the smaller one-sided one, at most 1; null without statistic.</summary>
    public double? PTwoSided => PWorsening is { } worse && PImproving is { } better ? Math.Min(1, 2 * Math.Min(worse, better)) : null;

    /// <summary>Which way the statistic points; level where both sides are equal or there is no statistic.</summary>
    public TrendDirection Direction => PWorsening < PImproving ? TrendDirection.Worsening
        : PImproving < PWorsening ? TrendDirection.Improving : TrendDirection.Level;

    internal static TrendTest None(TrendTestKind kind, int units, int events, int late) =>
        new(kind, units, events, late, null, null, null, null);

    internal static TrendTest FromNormal(TrendTestKind kind, int units, int events, int late, double z) =>
        new(kind, units, events, late, z, null, Normal.CDF(0, 1, -z), Normal.CDF(0, 1, z));

    internal static TrendTest FromChiSquare(TrendTestKind kind, int units, int events, int late, double statistic) => new(
        kind, units, events, late, statistic, 2 * events,
        ChiSquare.LowerTail(statistic, 2 * events), ChiSquare.UpperTail(statistic, 2 * events));
}
