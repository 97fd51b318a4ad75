using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Whether failures come more often, month by month.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The verdict in one sentence.</param>
/// <param name="Change">What would change the verdict, in one sentence; null where nothing can be said.</param>
/// <param name="Verdict">getting_worse, getting_better, no_trend_shown or too_little_data.</param>
/// <param name="Test">The test that the verdict rests on and why that one; null with too little data.</param>
/// <param name="PValue">Its two-sided p-value, 0 to 1; null with too little data.</param>
/// <param name="Tests">All trend tests that could be made.</param>
/// <param name="PowerLaw">The power-law process; null where it could not be fitted.</param>
/// <param name="NextMonth">How many failures the next 30 days may bring if nothing changes.</param>
/// <param name="Months">Months of the window by UTC, oldest first; the first and the last may be cut by the window.</param>
public sealed record FailureTrendReport(
    Basis Basis,
    string Sentence,
    string? Change,
    string Verdict,
    string? Test,
    double? PValue,
    IReadOnlyList<TrendTestRow> Tests,
    PowerLawFigures? PowerLaw,
    Estimate? NextMonth,
    IReadOnlyList<FailureMonth> Months);

/// <summary>One trend test.</summary>
/// <param name="Name">Its plain name.</param>
/// <param name="Statistic">The statistic.</param>
/// <param name="PValue">Two-sided p-value, 0 to 1.</param>
/// <param name="Says">What it says in words.</param>
public sealed record TrendTestRow(string Name, double Statistic, double PValue, string Says);

/// <summary>The power-law process over the age of the units: expected failures up to age t are (t / scale)^shape.</summary>
/// <param name="Shape">Shape; above 1: failures come more often with age.</param>
/// <param name="Units">Units that share it.</param>
/// <param name="Failures">Failures that it rests on.</param>
/// <param name="CramerVonMises">Goodness-of-fit statistic; null where it could not be computed.</param>
/// <param name="Fits">Whether the process describes the records, in words.</param>
/// <param name="PValueOfConstant">p-value of a constant rate (shape 1), by likelihood ratio; null where it could not be computed.</param>
public sealed record PowerLawFigures(
    Estimate Shape, int Units, int Failures, double? CramerVonMises, string Fits, double? PValueOfConstant);

/// <summary>One month.</summary>
/// <param name="Month">Such as 2026-03.</param>
/// <param name="From">First instant counted.</param>
/// <param name="To">First instant after it.</param>
/// <param name="Failures">Failures in it.</param>
/// <param name="UnitYears">Time watched, unit-years.</param>
/// <param name="RatePerUnitYear">Failures a unit-year, with exact Poisson bounds; null without exposure.</param>
/// <param name="Washes">Washes that ran in it.</param>
/// <param name="RatePerThousandWashes">Failures per 1,000 washes, with exact Poisson bounds; null without washes.</param>
public sealed record FailureMonth(
    string Month,
    DateTimeOffset From,
    DateTimeOffset To,
    int Failures,
    double UnitYears,
    Estimate? RatePerUnitYear,
    double Washes,
    Estimate? RatePerThousandWashes);
