using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What most failures come from.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="By">What is counted.</param>
/// <param name="Measure">What it is ordered by.</param>
/// <param name="EarlierFrom">Start of the period that it is compared with: as long as the window, just before it.</param>
/// <param name="EarlierTo">End of that period, exclusive.</param>
/// <param name="Rows">By the measure, most first.</param>
public sealed record ParetoReport(
    Basis Basis,
    string Sentence,
    ParetoGroup By,
    ParetoMeasure Measure,
    DateTimeOffset EarlierFrom,
    DateTimeOffset EarlierTo,
    IReadOnlyList<ParetoRow> Rows);

/// <summary>One position, mode, cause or code.</summary>
/// <param name="Position">Code of the position; null by code.</param>
/// <param name="Code">Fault code; null except by code.</param>
/// <param name="Name">Its name.</param>
/// <param name="Count">Failures in the window.</param>
/// <param name="LockedOutHours">Hours for which units were locked out of washing by them.</param>
/// <param name="UnwashedDays">Days without a wash that counts after them, the first 24 hours left out.</param>
/// <param name="Share">Share of the measure, 0 to 1.</param>
/// <param name="CumulativeShare">Share of this row and those above it, 0 to 1.</param>
/// <param name="EarlierCount">Failures in the earlier period.</param>
/// <param name="Change">Rate of the window by the rate of the earlier period, with exact bounds; null where it cannot be told.</param>
/// <param name="AdjustedPValue">p-value of no change, adjusted over the rows (Benjamini–Hochberg); null where it cannot be told.</param>
public sealed record ParetoRow(
    string? Position,
    string? Code,
    string Name,
    int Count,
    double LockedOutHours,
    double UnwashedDays,
    double Share,
    double CumulativeShare,
    int EarlierCount,
    Estimate? Change,
    double? AdjustedPValue);
