using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

internal sealed record PartLifeFitTexts
{
    internal static TextFile<PartLifeFitTexts> File { get; } = new("PartLifeFit");

    internal static PartLifeFitTexts Now => File.Now;

    public required string Heading { get; init; }
    public required string Caption { get; init; }
    public required string What { get; init; }
    public required string BestValue { get; init; }
    public required string Bounds { get; init; }
    public required string InformationBounds { get; init; }
    public required string Meaning { get; init; }
    public required string B10 { get; init; }
    public required string B50 { get; init; }
    public required string MeanLife { get; init; }
    public required string Scale { get; init; }
    public required string Shape { get; init; }
    public required string B10Means { get; init; }
    public required string B50Means { get; init; }
    public required string MeanMeans { get; init; }
    public required string ScaleMeans { get; init; }
    public required string ShapeMeans { get; init; }
    public required string Likelihood { get; init; }
    public required string ShowBoth { get; init; }
    public required string ShowOne { get; init; }
    public required WeibullHelpTexts Help { get; init; }

    // Ages with their unit, of clocks_after_in, and bounds.
    public required string Finding { get; init; }

    public required string NothingOnRecord { get; init; }

    // The start of a finding without a curve.
    public required string Message { get; init; }

    public required string ConstantRate { get; init; }

    // Without a capital or a full stop, these three.
    public required string WearsOut { get; init; }

    public required string FailsEarly { get; init; }
    public required string NotTold { get; init; }
    public required string NotTested { get; init; }
    public required string FitsPoorly { get; init; }
    public required string Fits { get; init; }
    public required SurvivalTexts Survival { get; init; }
    public required SurvivalAtTexts SurvivalAt { get; init; }
    public required ProbabilityPlotTexts Plot { get; init; }
}

internal sealed record WeibullHelpTexts
{
    // Help in place: what it is, then what it says of the reader's own parts.
    public required string B10 { get; init; }

    public required PluralText B10Here { get; init; }
    public required string Shape { get; init; }
    public required string ShapeHere { get; init; }
    public required string Mean { get; init; }
    public required string MeanHere { get; init; }
}

internal sealed record SurvivalTexts
{
    public required string Heading { get; init; }
    public required string SeenCaption { get; init; }
    public required string SeenSome { get; init; }
    public required string UnderWatch { get; init; }
    public required string Failed { get; init; }
    public required string StillWorking { get; init; }
    public required string Lower { get; init; }
    public required string Upper { get; init; }

    // Ages at which nothing failed.
    public required string UpTo { get; init; }

    public required string FittedCaption { get; init; }
    public required string Title { get; init; }
    public required string OfAHundred { get; init; }
    public required string NoneFailed { get; init; }
    public required string TooFew { get; init; }

    // Of one point; {share} may have bounds as below.
    public required string SeenValue { get; init; }

    public required string FittedValue { get; init; }
    public required string NoFailureValue { get; init; }
    public required string ShareWithBounds { get; init; }
    public required string Axis { get; init; }
    public required string LegendFitBounds { get; init; }
    public required string LegendFit { get; init; }
    public required string LegendSeenBounds { get; init; }
    public required string LegendSeen { get; init; }

    // Help in place.
    public required string Help { get; init; }

    public required string HelpHere { get; init; }
}

internal sealed record SurvivalAtTexts
{
    public required string Heading { get; init; }
    public required string Caption { get; init; }
    public required string SeenHead { get; init; }
    public required string Seen { get; init; }
    public required string Fitted { get; init; }
    public required string FittedInformation { get; init; }
    public required string NotWatched { get; init; }
    public required string NoCurve { get; init; }

    // Help in place.
    public required string Help { get; init; }

    public required string HelpHere { get; init; }
}

internal sealed record ProbabilityPlotTexts
{
    public required string Heading { get; init; }
    public required string Title { get; init; }
    public required string Reading { get; init; }
    public required string TooFew { get; init; }
    public required string Value { get; init; }
    public required string XAxis { get; init; }
    public required string YAxis { get; init; }
    public required string LegendFailures { get; init; }
    public required string Caption { get; init; }
    public required string CaptionSome { get; init; }
    public required string AgeAtFailure { get; init; }
    public required string OrderNumber { get; init; }
    public required string ShareFailed { get; init; }
    public required string Ranks { get; init; }
    public required string RanksCaption { get; init; }
    public required string Line { get; init; }
    public required string Shape { get; init; }
    public required string Scale { get; init; }
    public required string AgeOnRank { get; init; }
    public required string RankOnAge { get; init; }
    public required string Likelihood { get; init; }
    public required string RSquared { get; init; }
    public required string RSquaredMeans { get; init; }
    public required string Bands { get; init; }
    public required string BandsCaption { get; init; }
    public required string From { get; init; }
    public required string To { get; init; }
    public required string Seen { get; init; }
    public required string Expected { get; init; }

    // Help in place.
    public required string Help { get; init; }

    public required string HelpHere { get; init; }
    public required string HelpTest { get; init; }
    public required string HelpBand { get; init; }
}
