using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>How washes were kept week by week, and whether that changes by more than chance.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Change">Change of the on-time share from the first week to the last, along a straight line through all of them, with
/// bounds that allow for washes of one unit being alike; null where it cannot be told.</param>
/// <param name="Weeks">Whole weeks, oldest first.</param>
public sealed record TrendReport(Basis Basis, string Sentence, Estimate? Change, IReadOnlyList<TrendWeek> Weeks);

/// <summary>One week.</summary>
/// <param name="Week">Week of ISO 8601, such as 2026-W07; it begins on Monday at 00:00 UTC, whatever the site.</param>
/// <param name="From">Its first instant.</param>
/// <param name="To">The first instant after it.</param>
/// <param name="Units">Units under a rule in it.</param>
/// <param name="Due">Washes whose deadline fell in it, without those unknown (silence) and excused (out of service).</param>
/// <param name="OnTime">How many of them were kept by their deadline.</param>
/// <param name="OnTimeShare">On time by due, with bounds that allow for units differing; null when nothing was due.</param>
/// <param name="TimeWithinShare">Share of the time in service, open and heard in which no wash was overdue; null when there was none.</param>
/// <param name="HoursByCause">Hours of the week by cause; they add up to <paramref name="WindowHours"/>.</param>
/// <param name="WindowHours">Unit-and-rule hours in the week.</param>
public sealed record TrendWeek(
    string Week,
    DateTimeOffset From,
    DateTimeOffset To,
    int Units,
    int Due,
    int OnTime,
    Estimate? OnTimeShare,
    double? TimeWithinShare,
    IReadOnlyDictionary<Cause, double> HoursByCause,
    double WindowHours);
