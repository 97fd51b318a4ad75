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
    GroupFigures? Groups = null)
{
    /// <summary>What lives were compared by or narrowed by; null: nothing.</summary>
    public string? By { get; init; }

    /// <summary>The one group of <see cref="By"/> that the figures speak of; null: all groups.</summary>
    public string? Group { get; init; }

    /// <summary>Why the report's clock was taken, in a sentence.</summary>
    public string ClockReason { get; init; } = string.Empty;

    /// <summary>Groups that fail early: batches always, and groups of what was compared by.</summary>
    public IReadOnlyList<EarlyGroup> Early { get; init; } = [];

    /// <summary>The fitted model with bounds from the observed information; null where they were not asked for or nothing was fitted.</summary>
    public WeibullFigures? WeibullInformation { get; init; }

    /// <summary>Survival at the ages asked for.</summary>
    public IReadOnlyList<SurvivalAtRow> SurvivalAt { get; init; } = [];

    /// <summary>Lower bounds at a given shape: where one was entered, and where no shape can be fitted; null otherwise.</summary>
    public FixedShapeFigures? FixedShape { get; init; }

    /// <summary>The straight lines through the points of the probability plot; null without two failures.</summary>
    public RankRegressionFigures? RankRegression { get; init; }

    /// <summary>The test behind <see cref="FitQuality"/>; null without a model.</summary>
    public FitTestFigures? FitTest { get; init; }

    /// <summary>Failure modes side by side; null where fewer than two are told apart, or one was asked for.</summary>
    public ModeFigures? Modes { get; init; }

    /// <summary>What swaps of parts that looked worn or poor may do to the figures; null where there were none.</summary>
    public PoorSwapFigures? PoorSwaps { get; init; }

    /// <summary>What was left out, every reason counted.</summary>
    public IReadOnlyList<LeftOutRow> LeftOut { get; init; } = [];
}

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

/// <summary>A point of a fitted survival curve.</summary>
/// <param name="Age">Age on the report's clock.</param>
/// <param name="Survival">Share that outlives this age.</param>
/// <param name="Lower">Lower pointwise bound; null where undefined.</param>
/// <param name="Upper">Upper pointwise bound; null where undefined.</param>
public sealed record CurvePoint(double Age, double Survival, double? Lower, double? Upper);

/// <summary>A failure on a probability plot.</summary>
/// <param name="Age">Age at failure on the report's clock.</param>
/// <param name="Probability">Estimated probability of failing by that age, above 0 and below 1.</param>
/// <param name="AdjustedRank">Order number, adjusted for parts that left before; null where lives enter late.</param>
public sealed record PlottingPoint(double Age, double Probability, double? AdjustedRank = null);

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
    string? Doubt)
{
    /// <summary>Supplier, if known.</summary>
    public string? Supplier { get; init; }

    /// <summary>Age at its end, or now, operating hours of the unit; null where its meter does not tell.</summary>
    public double? AgeOperatingHours { get; init; }

    /// <summary>Whether it was taken out working after a look that found it worn or poor.</summary>
    public bool LookedPoor { get; init; }
}

/// <summary>What the part-life page shows: the fit of one position and the choices a reader has.</summary>
/// <param name="Positions">Positions that have lives on record, most failures first.</param>
/// <param name="Models">Models in the registry.</param>
/// <param name="FailureModes">Failure modes on record at the selected position, most failures first.</param>
/// <param name="Selected">The fit asked for; null when there is nothing on record.</param>
/// <param name="Choice">What the reader chose; null when there is nothing on record.</param>
public sealed record PartLifePageReport(
    IReadOnlyList<PositionChoice> Positions,
    IReadOnlyList<string> Models,
    IReadOnlyList<string> FailureModes,
    PartLifeReport? Selected,
    PartLifeChoice? Choice);

/// <summary>What the page of the parts behind the figures shows.</summary>
/// <param name="Choice">What the reader chose.</param>
/// <param name="Kind">Which parts are listed.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="Sentence">What is listed, in one sentence.</param>
/// <param name="Rows">One page of the parts, by asset tag and order of fitting.</param>
/// <param name="Next">Cursor of the next page; null: this is the last.</param>
public sealed record PartLivesReport(
    PartLifeChoice Choice, LifeKind Kind, string PositionName, string Sentence, IReadOnlyList<PartLifeRow> Rows, string? Next);

/// <summary>A position that can be chosen.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="Name">Name of the position.</param>
/// <param name="Lives">Lives on record.</param>
/// <param name="Failures">Failures on record.</param>
public sealed record PositionChoice(string Position, string Name, int Lives, int Failures);
