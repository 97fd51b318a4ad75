using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>A kept forecast of a quarter and what came of it.</summary>
/// <param name="Quarter">The quarter, such as 2026-Q1, by UTC.</param>
/// <param name="PartNumber">The part number; null: all parts together.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="MadeAfterwards">Whether it was made later, from what had happened by the quarter's begin, because none had been kept.</param>
/// <param name="IsOver">Whether the quarter is over; if not, nothing is scored yet.</param>
/// <param name="Parts">Fitted parts that it speaks of.</param>
/// <param name="TakenOut">Of these, how many were taken out working before the quarter's end: nobody knows what they would have done.</param>
/// <param name="Expected">Failures that it expected of the others.</param>
/// <param name="Lower">Fewest failures of its 90 % prediction interval, the life models taken as they were fitted.</param>
/// <param name="Upper">Most failures of that interval.</param>
/// <param name="Observed">Failures that came, or have come so far.</param>
/// <param name="Inside">Whether they lay in the interval; null: the quarter goes on.</param>
public sealed record KeptForecastRow(
    string Quarter,
    string? PartNumber,
    DateTimeOffset MadeAt,
    bool MadeAfterwards,
    bool IsOver,
    int Parts,
    int TakenOut,
    double Expected,
    int Lower,
    int Upper,
    int Observed,
    bool? Inside);

/// <summary>Parts of which about the same was said.</summary>
/// <param name="From">Least chance that was said of them.</param>
/// <param name="To">Greatest chance that was said of them.</param>
/// <param name="Parts">How many.</param>
/// <param name="Said">Mean chance that was said.</param>
/// <param name="Came">Share that failed.</param>
/// <param name="Lower">Lower bound of that share's chance.</param>
/// <param name="Upper">Upper bound.</param>
public sealed record CalibrationBand(double From, double To, int Parts, double Said, double Came, double? Lower, double? Upper);

/// <summary>How good kept forecasts were.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Scored">Parts whose forecast could be scored: of quarters that are over, not taken out working.</param>
/// <param name="Expected">Failures that were expected of them.</param>
/// <param name="Observed">Failures that came.</param>
/// <param name="PValue">How often a total that far off would come by chance if the forecasts were right; null: nothing could be scored.</param>
/// <param name="Brier">Mean squared difference of what was said and what came; null: nothing could be scored.</param>
/// <param name="BrierUninformed">The same of a forecast that says of every part the share that failed.</param>
/// <param name="CalibrationZ">Spiegelhalter's z: beyond 2 on either side, the chances said do not fit what came.</param>
/// <param name="Bands">Parts by what was said of them.</param>
/// <param name="Rows">Quarters, newest first, all parts together before each part number.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record CalibrationReport(
    Basis Basis,
    string Sentence,
    int Scored,
    double Expected,
    int Observed,
    double? PValue,
    double? Brier,
    double? BrierUninformed,
    double? CalibrationZ,
    IReadOnlyList<CalibrationBand> Bands,
    IReadOnlyList<KeptForecastRow> Rows,
    string? Next);
