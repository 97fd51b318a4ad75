using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

/// <summary>A month of an operator, as a manager hands it to an owner.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Month">The month, such as 2026-10.</param>
/// <param name="MonthName">The month in words.</param>
/// <param name="TimeZone">IANA time zone by which the month begins and ends: that of most of its ovens.</param>
/// <param name="IsOver">Whether the month is over; one in course is told up to the last full hour.</param>
/// <param name="Sentence">The findings in a few sentences.</param>
/// <param name="Kitchens">Kitchens with units under a rule in the month.</param>
/// <param name="Units">Units under a rule in the month.</param>
/// <param name="Washing">How washes were kept, beside the month before.</param>
/// <param name="WorstKitchens">Kitchens that missed washes, most missed first; at most ten.</param>
/// <param name="KitchensThatMissed">How many kitchens missed a wash.</param>
/// <param name="Lockouts">Ovens that could not wash, longest first.</param>
/// <param name="Repairs">Repairs that ended in the month, in the order in which they ended.</param>
/// <param name="Parts">Parts changed in the month, in the order of time.</param>
/// <param name="Plan">What is planned as of now; the first ten visits.</param>
/// <param name="NotHeard">Ovens that were not heard from, longest first.</param>
public sealed record MonthReport(
    Basis Basis,
    string Operator,
    string OperatorName,
    string Month,
    string MonthName,
    string TimeZone,
    bool IsOver,
    string Sentence,
    int Kitchens,
    int Units,
    WashingChange Washing,
    IReadOnlyList<MonthKitchen> WorstKitchens,
    int KitchensThatMissed,
    IReadOnlyList<MonthLockout> Lockouts,
    IReadOnlyList<RepairRow> Repairs,
    IReadOnlyList<MonthPart> Parts,
    VisitPlanReport Plan,
    IReadOnlyList<MonthSilence> NotHeard)
{
    /// <summary>Hours of the month for which ovens could not wash, all together.</summary>
    public double LockedOutHours => Lockouts.Sum(row => row.Hours);

    /// <summary>How many of the repairs are in each state.</summary>
    public IReadOnlyDictionary<RepairState, int> RepairsByState => Repairs.CountBy(row => row.State).ToDictionary();
}

/// <summary>A kitchen that missed washes in a month.</summary>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Units">Units under a rule.</param>
/// <param name="Due">Washes that were due and could be judged.</param>
/// <param name="OnTime">How many of them were kept in time.</param>
/// <param name="OnTimeShare">The same as a share, with bounds; null when nothing was due.</param>
/// <param name="MainCause">Where most of its overdue hours went; null: there were none.</param>
/// <param name="MainCauseHours">Those hours.</param>
public sealed record MonthKitchen(
    string Site, string SiteName, int Units, int Due, int OnTime, Estimate? OnTimeShare, Cause? MainCause, double MainCauseHours)
{
    /// <summary>Washes that were due and not kept in time.</summary>
    public int Missed => Due - OnTime;
}

/// <summary>A lockout that reached into a month.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="RaisedAt">When it began.</param>
/// <param name="ClearedAt">When it ended; null: it lasted beyond the month.</param>
/// <param name="Hours">How much of it lies in the month.</param>
/// <param name="Codes">Codes of its faults.</param>
/// <param name="Text">What the catalogue says of the first of them.</param>
/// <param name="MostlyWaitedFor">What it waited for longest.</param>
public sealed record MonthLockout(
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    DateTimeOffset RaisedAt,
    DateTimeOffset? ClearedAt,
    double Hours,
    IReadOnlyList<string> Codes,
    string? Text,
    DelayKind MostlyWaitedFor);

/// <summary>A part that was changed in a month.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="At">When.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Its name.</param>
/// <param name="RemovedBecause">failed, found_failed, precaution, upgrade or unit_retired; null: none was taken out.</param>
/// <param name="FailureMode">How it failed, if known.</param>
/// <param name="AgeDays">Days for which the part that was taken out had been in; null: not known.</param>
/// <param name="FittedPartNumber">Part number of the part that was put in; null: not told, or none was.</param>
public sealed record MonthPart(
    string Unit,
    string Site,
    string SiteName,
    string TimeZone,
    DateTimeOffset At,
    string Position,
    string PositionName,
    string? RemovedBecause,
    string? FailureMode,
    double? AgeDays,
    string? FittedPartNumber);

/// <summary>An oven that was not heard from.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Hours">Hours of the month for which it was silent.</param>
public sealed record MonthSilence(string Unit, string Site, string SiteName, double Hours);
