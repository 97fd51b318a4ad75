using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>How often things fail, and which are truly worse than the fleet.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="By">What rates are told apart by.</param>
/// <param name="FalseDiscoveryRate">Share of the calls that may be wrong, 0 to 1.</param>
/// <param name="Fleet">All of them together.</param>
/// <param name="Spread">How much true rates differ, in words.</param>
/// <param name="Rows">By shrunken rate, highest first.</param>
/// <param name="Next">Cursor of the next rows; null: there are none.</param>
public sealed record RatesReport(
    Basis Basis,
    string Sentence,
    RateGroup By,
    double FalseDiscoveryRate,
    RateFigures Fleet,
    string Spread,
    IReadOnlyList<RateRow> Rows,
    string? Next);

/// <summary>Failures and what they are counted against.</summary>
/// <param name="Failures">Failures in the window.</param>
/// <param name="UnitYears">Time watched, unit-years (by part number: part-years).</param>
/// <param name="PerUnitYear">Failures a unit-year, with exact Poisson bounds; null without exposure.</param>
/// <param name="Washes">Washes that ran; null where they cannot be told (by part number).</param>
/// <param name="PerThousandWashes">Failures per 1,000 washes, with exact Poisson bounds; null without washes.</param>
public sealed record RateFigures(int Failures, double UnitYears, Estimate? PerUnitYear, double? Washes, Estimate? PerThousandWashes);

/// <summary>One unit, site, operator, model or part number.</summary>
/// <param name="Code">Its code.</param>
/// <param name="Name">Its name, or of a unit its site's.</param>
/// <param name="Figures">Its own figures.</param>
/// <param name="Shrunken">Rate a unit-year drawn towards the fleet's as far as its small count asks, with bounds.</param>
/// <param name="RatioToOthers">Its rate by that of all others, with exact bounds; null where it cannot be told.</param>
/// <param name="ChanceWorse">Chance that its true rate is above the fleet's, 0 to 1.</param>
/// <param name="PValue">Chance of as many failures or more at the rate of the others, 0 to 1.</param>
/// <param name="AdjustedPValue">The same adjusted for looking at all rows (Benjamini–Hochberg).</param>
/// <param name="Called">Whether it is called worse than the fleet at the false discovery rate.</param>
public sealed record RateRow(
    string Code,
    string Name,
    RateFigures Figures,
    Estimate Shrunken,
    Estimate? RatioToOthers,
    double ChanceWorse,
    double? PValue,
    double? AdjustedPValue,
    bool Called);
