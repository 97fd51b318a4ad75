using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>How many of the washes that were due were on time over a window, and where the rest of the time went.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="By">What a row stands for: unit, site, operator, model, region or rule.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Total">All rows together.</param>
/// <param name="Rows">One row a group, lowest share first.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record ComplianceReport(
    Basis Basis,
    string By,
    string Sentence,
    ComplianceRow Total,
    IReadOnlyList<ComplianceRow> Rows,
    string? Next);

/// <summary>Cleaning of one group of units over the window.</summary>
/// <param name="Group">Code of the group.</param>
/// <param name="Name">Name of the group.</param>
/// <param name="Units">How many units it holds.</param>
/// <param name="Due">Washes whose deadline fell in the window, without those unknown (silence) and excused (out of service).</param>
/// <param name="OnTime">How many of them were kept by their deadline.</param>
/// <param name="OnTimeShare">On time by due, with bounds that allow for units differing; null when nothing was due.</param>
/// <param name="TimeWithinShare">Share of the time in service, open and heard in which no wash was overdue; null when there was none.</param>
/// <param name="LongestGapHours">Longest elapsed time between washes that count at one unit, under its mildest rule; of descaling only where
/// nothing else is asked for. Null when it cannot be told.</param>
/// <param name="LongestGapUnit">The unit that had it.</param>
/// <param name="HoursByCause">Hours of the window by cause; they add up to <paramref name="WindowHours"/>.</param>
/// <param name="WindowHours">Unit-and-rule hours in the window.</param>
public sealed record ComplianceRow(
    string Group,
    string Name,
    int Units,
    int Due,
    int OnTime,
    Estimate? OnTimeShare,
    double? TimeWithinShare,
    double? LongestGapHours,
    string? LongestGapUnit,
    IReadOnlyDictionary<Cause, double> HoursByCause,
    double WindowHours)
{
    /// <summary>Hours among those out of service in which the units were not there yet: before they were commissioned.</summary>
    public double NotYetThereHours { get; init; }
}
