using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Planning;

/// <summary>A forecast that was kept, and what became of it.</summary>
/// <param name="Said">Chance that was told, 0 to 1.</param>
/// <param name="Happened">Whether it came true.</param>
public sealed record ForecastCase(double Said, bool Happened);

/// <summary>How chances are put to the test.</summary>
public sealed record ForecastScoreOptions
{
    /// <summary>Edges of the bands of chances, rising from 0 to 1; 0, 0.02, 0.05, 0.1, 0.2, 0.4, 1 unless set.</summary>
    public IReadOnlyList<double> Edges { get; init; } = [0, 0.02, 0.05, 0.1, 0.2, 0.4, 1];

    /// <summary>Confidence level of bounds and verdicts, above 0 and below 1; 0.95 unless set.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>Fewest cases of either outcome that must be expected to say that chances fit; 5 unless set, 0 or more.</summary>
    public double FewestExpected { get; init; } = 5;
}

/// <summary>What kept forecasts say of the chances told.</summary>
public enum ForecastVerdict
{
    /// <summary>As many happened as the chances let expect.</summary>
    Fits,

    /// <summary>Fewer happened than the chances let expect.</summary>
    SaidTooHigh,

    /// <summary>More happened than the chances let expect.</summary>
    SaidTooLow,

    /// <summary>No contradiction, but too little to show one.</summary>
    TooFewToSay,
}

/// <summary>Forecasts of about the same chance.</summary>
/// <param name="From">Least chance of the band, included.</param>
/// <param name="To">Greatest chance of the band, excluded unless it is 1.</param>
/// <param name="Count">Forecasts in it.</param>
/// <param name="MeanSaid">Mean chance told.</param>
/// <param name="Happened">How many came true.</param>
/// <param name="Share">Share that came true, with exact binomial bounds.</param>
/// <param name="Verdict">Whether that fits the chances told.</param>
public sealed record ForecastBand(double From, double To, int Count, double MeanSaid, int Happened, Estimate? Share, ForecastVerdict Verdict);

/// <summary>Brier's score and its parts: score = reliability - resolution + uncertainty + within bands.</summary>
/// <param name="Score">Mean squared difference of chance and outcome: 0 perfect, 0.25 what always telling one half gets.</param>
/// <param name="Reliability">How far bands' mean chances lie from the shares that happened; 0 is best.</param>
/// <param name="Resolution">How far bands' shares lie from the overall share; the more, the better parts are told apart.</param>
/// <param name="Uncertainty">What the overall share alone would get.</param>
/// <param name="WithinBands">Remainder, as chances differ within a band.</param>
public sealed record BrierParts(double Score, double Reliability, double Resolution, double Uncertainty, double WithinBands);

/// <summary>How chances that were told came true.</summary>
/// <param name="Count">Forecasts.</param>
/// <param name="Expected">Events expected: the sum of the chances.</param>
/// <param name="Happened">Events that happened.</param>
/// <param name="ChanceOfSoFew">Chance of as few or fewer events if the chances are right.</param>
/// <param name="ChanceOfSoMany">Chance of as many or more events if the chances are right.</param>
/// <param name="Verdict">What the number of events says.</param>
/// <param name="Bands">Bands that hold a forecast, by rising chance.</param>
/// <param name="Brier">Brier's score; null without forecasts.</param>
/// <param name="SpiegelhalterZ">Standard normal for many right chances; null where no chance could be wrong (all 0, 1/2 or 1).</param>
/// <param name="ChanceOfZ">Two-sided chance of a z that far from 0 if the chances are right; null without z.</param>
public sealed record ForecastScoring(
    int Count,
    double Expected,
    int Happened,
    double ChanceOfSoFew,
    double ChanceOfSoMany,
    ForecastVerdict Verdict,
    IReadOnlyList<ForecastBand> Bands,
    BrierParts? Brier,
    double? SpiegelhalterZ,
    double? ChanceOfZ);
