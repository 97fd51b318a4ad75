using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>How long the parts at one position last, from the lives on record.</summary>
/// <param name="Basis">What the answer rests on: clock, number of lives, failures, what was left out and why.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="Model">Model asked for; null for all models.</param>
/// <param name="FailureMode">Failure mode asked for, all others censored; null for all modes together.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Counts">What kinds of lives there are.</param>
/// <param name="KaplanMeier">Survival without a model, one step at each age at which a part failed.</param>
/// <param name="Weibull">The fitted model; null when there is too little to fit.</param>
/// <param name="NotEnough">Why there is no fitted model, and what can be said instead; null when there is one.</param>
/// <param name="Curve">The fitted survival curve with pointwise bounds, for drawing; empty without a model.</param>
/// <param name="PlottingPoints">Failures by age and estimated probability, for the probability plot.</param>
/// <param name="FitQuality">Whether the model suits the lives, in a sentence; null without a model.</param>
/// <param name="Clocks">Which clock explains the lives best; null where fewer than two clocks can be compared.</param>
/// <param name="Groups">The lives compared by groups; null where that was not asked for.</param>
public sealed record PartLifeReport(
    Basis Basis,
    string Position,
    string PositionName,
    string? Model,
    string? FailureMode,
    string Sentence,
    LifeCounts Counts,
    IReadOnlyList<KaplanMeierStep> KaplanMeier,
    WeibullFigures? Weibull,
    NotEnoughFigures? NotEnough,
    IReadOnlyList<CurvePoint> Curve,
    IReadOnlyList<PlottingPoint> PlottingPoints,
    string? FitQuality = null,
    ClockFigures? Clocks = null,
    GroupFigures? Groups = null);

/// <summary>Which clock explains the lives best, by likelihood on one density base.</summary>
/// <param name="Sentence">The finding.</param>
/// <param name="Rows">The clocks, best first.</param>
public sealed record ClockFigures(string Sentence, IReadOnlyList<ClockRow> Rows);

/// <summary>One clock.</summary>
/// <param name="Clock">days, washes or operating_hours.</param>
/// <param name="AicAboveBest">By how much Akaike's criterion exceeds the best clock's; null without a fit.</param>
/// <param name="B10">Age by which 10 % have failed on this clock; null without a fit.</param>
public sealed record ClockRow(string Clock, double? AicAboveBest, double? B10);

/// <summary>The lives of a position compared by groups.</summary>
/// <param name="By">part_number, batch, supplier, model, operator, region or water_hardness.</param>
/// <param name="Sentence">The finding.</param>
/// <param name="CommonShape">Shape that all groups share in the comparison; null where there is none.</param>
/// <param name="EqualScalePValue">Likelihood-ratio p-value of one scale for all; null where it cannot be computed.</param>
/// <param name="LogRankPValue">Log-rank p-value of one curve for all, without a model; null where it cannot be computed.</param>
/// <param name="Rows">The groups, most lives first.</param>
/// <param name="LeftOut">Groups left out because more than twelve were found.</param>
public sealed record GroupFigures(
    string By, string Sentence, double? CommonShape, double? EqualScalePValue, double? LogRankPValue, IReadOnlyList<GroupRow> Rows, int LeftOut);

/// <summary>One group.</summary>
/// <param name="Group">Its name.</param>
/// <param name="Lives">Lives in it.</param>
/// <param name="Failures">Failures among them.</param>
/// <param name="Scale">Its scale at the common shape; null where nothing failed.</param>
/// <param name="ScaleRatio">Its scale over the reference group's; null for the reference, or where one has no failure.</param>
/// <param name="AdjustedPValue">p-value of equal scales, adjusted over all comparisons made (Benjamini–Hochberg); null for the reference.</param>
/// <param name="Verdict">What that says, in words.</param>
public sealed record GroupRow(
    string Group, int Lives, int Failures, double? Scale, Estimate? ScaleRatio, double? AdjustedPValue, string Verdict);

/// <summary>The lives behind a figure, by how they are known.</summary>
/// <param name="Lives">All lives used.</param>
/// <param name="Failed">Failed at a known age.</param>
/// <param name="FoundFailed">Found failed: failed somewhere between two looks.</param>
/// <param name="StillFitted">Still fitted and working.</param>
/// <param name="RemovedWorking">Taken out while working: precaution, upgrade, unit retired, or failed in another mode.</param>
/// <param name="EnteredLate">Of all, those that came under watch at an age above 0.</param>
/// <param name="LongestAge">Greatest age that any of them was seen at, on the report's clock; 0 without lives.</param>
public sealed record LifeCounts(
    int Lives,
    int Failed,
    int FoundFailed,
    int StillFitted,
    int RemovedWorking,
    int EnteredLate,
    double LongestAge);

/// <summary>One step of the Kaplan–Meier curve.</summary>
/// <param name="Age">Age on the report's clock.</param>
/// <param name="AtRisk">Parts under watch just before this age.</param>
/// <param name="Failures">Parts that failed at this age.</param>
/// <param name="Survival">Estimated share that outlives this age.</param>
/// <param name="Lower">Lower bound (complementary log-log, Greenwood); null where undefined.</param>
/// <param name="Upper">Upper bound; null where undefined.</param>
public sealed record KaplanMeierStep(double Age, int AtRisk, int Failures, double Survival, double? Lower, double? Upper);

/// <summary>A two-parameter Weibull distribution fitted by maximum likelihood: F(t) = 1 − exp(−(t/scale)^shape).</summary>
/// <param name="Shape">Above 1: fails more often as it ages; below 1: fails early; no unit.</param>
/// <param name="Scale">Age by which 63.2 % have failed, on the report's clock.</param>
/// <param name="MeanLife">Mean life, on the report's clock.</param>
/// <param name="B10">Age by which 10 % have failed.</param>
/// <param name="B50">Age by which half have failed.</param>
/// <param name="LogLikelihood">Log-likelihood at the maximum.</param>
/// <param name="Aic">Akaike's information criterion.</param>
/// <param name="Ageing">What the shape says, in words.</param>
public sealed record WeibullFigures(
    Estimate Shape,
    Estimate Scale,
    Estimate MeanLife,
    Estimate B10,
    Estimate B50,
    double LogLikelihood,
    double Aic,
    string Ageing);

/// <summary>Too little to fit a curve, and what can be said all the same.</summary>
/// <param name="Failures">Failures on record.</param>
/// <param name="FailuresNeeded">Failures that a fit asks for.</param>
/// <param name="Message">The reason in one sentence.</param>
/// <param name="TimeUnderWatch">Total age under watch, on the report's clock.</param>
/// <param name="MeanLifeLowerBound">One-sided lower bound on mean life if failures came at a constant rate; null where there is no time under watch.</param>
/// <param name="Level">Confidence level of that bound.</param>
public sealed record NotEnoughFigures(
    int Failures,
    int FailuresNeeded,
    string Message,
    double TimeUnderWatch,
    double? MeanLifeLowerBound,
    double Level);

/// <summary>A point of a fitted survival curve.</summary>
/// <param name="Age">Age on the report's clock.</param>
/// <param name="Survival">Share that outlives this age.</param>
/// <param name="Lower">Lower pointwise bound; null where undefined.</param>
/// <param name="Upper">Upper pointwise bound; null where undefined.</param>
public sealed record CurvePoint(double Age, double Survival, double? Lower, double? Upper);

/// <summary>A failure on a probability plot.</summary>
/// <param name="Age">Age at failure on the report's clock.</param>
/// <param name="Probability">Estimated probability of failing by that age, above 0 and below 1.</param>
public sealed record PlottingPoint(double Age, double Probability);

/// <summary>One part's life, as used in the figures.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Model">Code of the unit's model.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="Ordinal">1 for the first part known at the position.</param>
/// <param name="PartNumber">Part number, if known.</param>
/// <param name="Batch">Batch, if known.</param>
/// <param name="FittedAt">When it was fitted; null if before records began.</param>
/// <param name="EndedAt">When it was removed; null if still fitted.</param>
/// <param name="EndedHow">failed, found_failed, precaution, upgrade or unit_retired; null if still fitted.</param>
/// <param name="FailureMode">How it failed, if it did.</param>
/// <param name="EntryAgeDays">Age at which it came under watch, days.</param>
/// <param name="AgeDays">Age at its end, or now, days; null when the start is unknown.</param>
/// <param name="AgeWashes">Age at its end, or now, washes; null when the start is unknown.</param>
/// <param name="Doubt">Why the life was left out; null when it was used.</param>
public sealed record PartLifeRow(
    string Unit,
    string Model,
    string Position,
    int Ordinal,
    string? PartNumber,
    string? Batch,
    DateTimeOffset? FittedAt,
    DateTimeOffset? EndedAt,
    string? EndedHow,
    string? FailureMode,
    double EntryAgeDays,
    double? AgeDays,
    double? AgeWashes,
    string? Doubt);

/// <summary>What the part-life page shows: the fit of one position and the choices a reader has.</summary>
/// <param name="Positions">Positions that have lives on record, most failures first.</param>
/// <param name="Models">Models in the registry.</param>
/// <param name="FailureModes">Failure modes on record at the selected position, most failures first.</param>
/// <param name="Selected">The fit asked for; null when there is nothing on record.</param>
/// <param name="Lives">The lives behind the fit.</param>
public sealed record PartLifePageReport(
    IReadOnlyList<PositionChoice> Positions,
    IReadOnlyList<string> Models,
    IReadOnlyList<string> FailureModes,
    PartLifeReport? Selected,
    IReadOnlyList<PartLifeRow> Lives);

/// <summary>A position that can be chosen.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Name">Name of the position.</param>
/// <param name="Lives">Lives on record.</param>
/// <param name="Failures">Failures on record.</param>
public sealed record PositionChoice(string Position, string Name, int Lives, int Failures);
