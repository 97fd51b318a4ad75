using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Failures that came back after a repair.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="WindowDays">Days after a repair within which a failure is a repeat.</param>
/// <param name="FalseDiscoveryRate">Share of the calls that may be wrong, 0 to 1.</param>
/// <param name="Positions">Each position: how many repairs came back, against what the life model expects.</param>
/// <param name="Places">Units and positions that fail more than expected, the surest first.</param>
/// <param name="Batches">Batches that fail more than expected, the surest first.</param>
/// <param name="Repeats">The repeats of the window, newest first.</param>
/// <param name="Next">Cursor of the next repeats; null: there are none.</param>
public sealed record RepeatsReport(
    Basis Basis,
    string Sentence,
    int WindowDays,
    double FalseDiscoveryRate,
    IReadOnlyList<RepeatPosition> Positions,
    IReadOnlyList<RepeatPlace> Places,
    IReadOnlyList<RepeatBatch> Batches,
    IReadOnlyList<RepeatRow> Repeats,
    string? Next);

/// <summary>A position, or a fault code, over the fleet.</summary>
/// <param name="Position">Code of the position; null for a fault code.</param>
/// <param name="Code">Fault code; null for a position.</param>
/// <param name="Name">Its name.</param>
/// <param name="Repairs">Repairs in the window.</param>
/// <param name="CameBack">How many of them came back.</param>
/// <param name="Share">The same as a share, with exact bounds; null without repairs.</param>
/// <param name="Expected">How many the life model expects; null where there is none.</param>
/// <param name="Ratio">Came back by expected, with exact Poisson bounds; null where it cannot be told.</param>
public sealed record RepeatPosition(
    string? Position, string? Code, string Name, int Repairs, int CameBack, Estimate? Share, double? Expected, Estimate? Ratio);

/// <summary>A unit and position that fail more than parts of the fleet would.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Its name.</param>
/// <param name="Failures">Failures on record.</param>
/// <param name="Expected">How many the life model of the fleet expects of parts of these ages.</param>
/// <param name="Ratio">Failures by expected, with exact Poisson bounds.</param>
/// <param name="PValue">Chance of as many or more, 0 to 1.</param>
/// <param name="AdjustedPValue">The same adjusted for looking at all places (Benjamini–Hochberg).</param>
/// <param name="Called">Whether it is called at the false discovery rate.</param>
public sealed record RepeatPlace(
    string Unit,
    string Site,
    string SiteName,
    string Position,
    string PositionName,
    int Failures,
    double Expected,
    Estimate Ratio,
    double PValue,
    double AdjustedPValue,
    bool Called);

/// <summary>A batch of parts that fails more than its position's parts would.</summary>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Its name.</param>
/// <param name="Batch">The batch.</param>
/// <param name="PartNumber">Its part number; null: several or unknown.</param>
/// <param name="Parts">Parts of it on record.</param>
/// <param name="StillFitted">How many of them are still fitted.</param>
/// <param name="Failures">Failures on record.</param>
/// <param name="Expected">How many the life model expects.</param>
/// <param name="Ratio">Failures by expected, with exact Poisson bounds.</param>
/// <param name="AdjustedPValue">Adjusted over all batches (Benjamini–Hochberg).</param>
/// <param name="Called">Whether it is called at the false discovery rate.</param>
public sealed record RepeatBatch(
    string Position,
    string PositionName,
    string Batch,
    string? PartNumber,
    int Parts,
    int StillFitted,
    int Failures,
    double Expected,
    Estimate Ratio,
    double AdjustedPValue,
    bool Called);

/// <summary>One failure that came back.</summary>
/// <param name="Unit">Asset tag.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Position">Code of the position; null for a fault code.</param>
/// <param name="Code">Fault code; null for a position.</param>
/// <param name="Name">Name of the position, or the fault's text.</param>
/// <param name="RepairedAt">When it was repaired.</param>
/// <param name="FailedAgainAt">When it failed again.</param>
/// <param name="Days">Days between.</param>
/// <param name="PartNumber">Part that was fitted; null: not told.</param>
/// <param name="Batch">Its batch; null: not told.</param>
/// <param name="PointsTo">What it points to.</param>
/// <param name="Evidence">Why, in one sentence.</param>
public sealed record RepeatRow(
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    string? Position,
    string? Code,
    string Name,
    DateTimeOffset RepairedAt,
    DateTimeOffset FailedAgainAt,
    double Days,
    string? PartNumber,
    string? Batch,
    RepeatKind PointsTo,
    string Evidence);
