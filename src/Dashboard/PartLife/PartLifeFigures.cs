using Washwear.Analytics.Numerics;

namespace Washwear.Dashboard.PartLife;

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

/// <summary>Lower bounds at a shape that was given and not fitted to these lives.</summary>
/// <param name="Shape">The shape.</param>
/// <param name="Source">entered_by_user, fleet_of_same_position or assumed.</param>
/// <param name="SourceInWords">Where the shape comes from, to stand after 'the shape'.</param>
/// <param name="ShapeLower">Lower bound of the shape where its source has one; null otherwise.</param>
/// <param name="ShapeUpper">Upper bound of the shape where its source has one; null otherwise.</param>
/// <param name="Failures">Failures among the lives.</param>
/// <param name="Confidence">One-sided confidence of the bounds.</param>
/// <param name="SumOfPoweredAges">Sum of age^shape over all parts, less entry^shape for those entered late; null beyond the range of numbers.</param>
/// <param name="Scale">Best scale; null without a failure.</param>
/// <param name="ScaleLower">Lower bound of the scale, on the report's clock.</param>
/// <param name="MeanLifeLower">Lower bound of the mean life.</param>
/// <param name="B10Lower">Lower bound of the age by which 10 % have failed.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Doubts">What to mind, in sentences.</param>
public sealed record FixedShapeFigures(
    double Shape,
    string Source,
    string SourceInWords,
    double? ShapeLower,
    double? ShapeUpper,
    int Failures,
    double Confidence,
    double? SumOfPoweredAges,
    double? Scale,
    double ScaleLower,
    double MeanLifeLower,
    double B10Lower,
    string Sentence,
    IReadOnlyList<string> Doubts);

/// <summary>Survival at an age that the reader asked for.</summary>
/// <param name="Age">The age, on the report's clock.</param>
/// <param name="Seen">Share still working as seen (Kaplan–Meier); null past the oldest part under watch.</param>
/// <param name="Fitted">Share by the fitted curve, profile-likelihood bounds; null without a fit.</param>
/// <param name="FittedInformation">The same with bounds from the observed information; null where they were not asked for.</param>
public sealed record SurvivalAtRow(double Age, Estimate? Seen, Estimate? Fitted, Estimate? FittedInformation);

/// <summary>A straight line on the probability plot.</summary>
/// <param name="Shape">Its slope.</param>
/// <param name="Scale">Age at which it crosses 63.2 %.</param>
public sealed record RankLine(double Shape, double Scale);

/// <summary>Median-rank regression: the lines through the points of the probability plot. For reading the plot; bounds come from the likelihood.</summary>
/// <param name="AgeOnRank">Least squares along ln age (x on y), the usual choice; null with fewer than two different ages.</param>
/// <param name="RankOnAge">Least squares along ln(−ln(1 − share)) (y on x); null as above.</param>
/// <param name="RSquared">Squared correlation of the points, 0 to 1; null as above.</param>
/// <param name="Convention">How the points were placed.</param>
public sealed record RankRegressionFigures(RankLine? AgeOnRank, RankLine? RankOnAge, double? RSquared, string Convention);

/// <summary>Whether the fitted curve suits the lives.</summary>
/// <param name="Method">The test, or that none was made.</param>
/// <param name="Statistic">Anderson–Darling A² or the chi-square of the age bands; null when no test was made.</param>
/// <param name="AdjustedStatistic">A² × (1 + 0.2/√n); null for age bands.</param>
/// <param name="DegreesOfFreedom">Of the chi-square; null for Anderson–Darling.</param>
/// <param name="PValue">Chance of so poor an agreement if the curve is right; null when no test was made.</param>
/// <param name="Bands">Failures by band of age, seen and expected; empty for Anderson–Darling.</param>
/// <param name="BendPValue">p-value of one straight line on the plot; null when that was not tested.</param>
/// <param name="BendAtAge">Age at which the plot was tested for a bend; null as above.</param>
/// <param name="MixtureWarning">One sentence when the plot bends: two modes, two ages or two kinds of parts may be mixed; null otherwise.</param>
/// <param name="Doubts">What to mind, or why no test was made.</param>
public sealed record FitTestFigures(
    string Method,
    double? Statistic,
    double? AdjustedStatistic,
    int? DegreesOfFreedom,
    double? PValue,
    IReadOnlyList<AgeBandRow> Bands,
    double? BendPValue,
    double? BendAtAge,
    string? MixtureWarning,
    IReadOnlyList<string> Doubts);

/// <summary>Failures in one band of age.</summary>
/// <param name="FromAge">Ages above this one.</param>
/// <param name="ToAge">Ages up to and including this one.</param>
/// <param name="Observed">Failures seen.</param>
/// <param name="Expected">Failures expected under the fitted curve.</param>
public sealed record AgeBandRow(double FromAge, double ToAge, int Observed, double Expected);

/// <summary>Failure modes as competing ends of a life.</summary>
/// <param name="Sentence">The finding.</param>
/// <param name="Method">Method and convention.</param>
/// <param name="Rows">The modes, most failures first; failures that name none last.</param>
/// <param name="Doubts">What to mind, in sentences.</param>
public sealed record ModeFigures(string Sentence, string Method, IReadOnlyList<ModeRow> Rows, IReadOnlyList<string> Doubts);

/// <summary>One failure mode.</summary>
/// <param name="Mode">The mode; null for failures that name none.</param>
/// <param name="Failures">Failures of this mode.</param>
/// <param name="IncidenceAtEnd">Share of all parts that this mode has ended by the last failure, the other modes at work; with bounds.</param>
/// <param name="Weibull">Its own curve, other modes censored; null where none can be fitted.</param>
/// <param name="NotEnough">Why there is no curve; null where there is one.</param>
/// <param name="Incidence">Its cumulative incidence, one step for each age at which a part failed of this mode.</param>
public sealed record ModeRow(
    string? Mode, int Failures, Estimate? IncidenceAtEnd, WeibullFigures? Weibull, string? NotEnough, IReadOnlyList<IncidencePoint> Incidence);

/// <summary>One step of a cumulative incidence.</summary>
/// <param name="Age">Age on the report's clock.</param>
/// <param name="Failures">Failures of the mode at this age.</param>
/// <param name="Incidence">Share of all parts that the mode has ended by then, the other modes at work.</param>
/// <param name="StandardError">Standard error by the delta method.</param>
/// <param name="Lower">Lower bound, complementary log-log; null where the incidence is 0 or 1.</param>
/// <param name="Upper">Upper bound; null as above.</param>
public sealed record IncidencePoint(double Age, int Failures, double Incidence, double StandardError, double? Lower, double? Upper);

/// <summary>How far the life may be misjudged because parts were swapped when they looked worn or poor.</summary>
/// <param name="Swapped">Number of such parts.</param>
/// <param name="Sentence">What that means.</param>
/// <param name="B10IfAsGoodAsOthers">Age by which 10 % fail had they been as good as others of their age; null without a curve.</param>
/// <param name="B10IfAboutToFail">The same had they been about to fail; null without a curve.</param>
/// <param name="B50IfAsGoodAsOthers">Age by which half fail, as above.</param>
/// <param name="B50IfAboutToFail">The same had they been about to fail.</param>
/// <param name="MeanLifeIfAsGoodAsOthers">Mean life, as above.</param>
/// <param name="MeanLifeIfAboutToFail">The same had they been about to fail.</param>
public sealed record PoorSwapFigures(
    int Swapped,
    string Sentence,
    Estimate? B10IfAsGoodAsOthers,
    Estimate? B10IfAboutToFail,
    Estimate? B50IfAsGoodAsOthers,
    Estimate? B50IfAboutToFail,
    Estimate? MeanLifeIfAsGoodAsOthers,
    Estimate? MeanLifeIfAboutToFail);

/// <summary>What was left out for one reason; every reason is counted, also where the count is 0.</summary>
/// <param name="Kind">unknown_start, before_records, impossible_order, not_on_clock or voided.</param>
/// <param name="Reason">The reason in words.</param>
/// <param name="Count">How many.</param>
/// <param name="Counted">What is counted: parts, units or records.</param>
public sealed record LeftOutRow(string Kind, string Reason, int Count, string Counted);
