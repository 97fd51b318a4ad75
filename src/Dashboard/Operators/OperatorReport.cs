using System.Text.Json.Serialization;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;

namespace Washwear.Dashboard.Operators;

/// <summary>One operator of kitchens: what needs somebody, how washing goes, what waits, what came back, what is planned.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Kitchens">How many kitchens have units in service.</param>
/// <param name="KitchensThatWait">How many of them have a unit that waits for somebody.</param>
/// <param name="Units">Units in service.</param>
/// <param name="UnitsByState">How many units are in each state, each counted once, by its most urgent rule.</param>
/// <param name="Washing">How washes were kept in the last 28 days, beside the 28 days before.</param>
/// <param name="Approvals">Repairs that wait for an approval, by what waiting costs; the first five.</param>
/// <param name="Repeats">Repairs that came back.</param>
/// <param name="Plan">The next planned visits; the first five.</param>
/// <param name="Rows">The kitchens of this page: those with the longest wait first, those that need nobody last, by name.</param>
/// <param name="Next">Opaque cursor of the next page of kitchens; null on the last.</param>
public sealed record OperatorReport(
    Basis Basis,
    string Operator,
    string OperatorName,
    string Sentence,
    int Kitchens,
    int KitchensThatWait,
    int Units,
    IReadOnlyDictionary<CleaningState, int> UnitsByState,
    WashingChange Washing,
    ApprovalsReport Approvals,
    OperatorRepeats Repeats,
    VisitPlanReport Plan,
    IReadOnlyList<OperatorKitchen> Rows,
    string? Next)
{
    /// <summary>The latest days of its timeline, for the page alone; null: it was not asked for.</summary>
    [JsonIgnore]
    public TimelineReport? Timeline { get; init; }
}

/// <summary>One kitchen of an operator, by the unit that needs somebody most.</summary>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Region">Region, if any.</param>
/// <param name="Units">Units in service under a cleaning rule.</param>
/// <param name="UnitsThatWait">How many of them wait for somebody.</param>
/// <param name="UnitsByState">How many of them are in each state.</param>
/// <param name="Worst">The unit that needs somebody most, and why; null where no unit is under a rule.</param>
/// <param name="NextStep">The one thing to do about it, in a few words; null: nothing.</param>
public sealed record OperatorKitchen(
    string Site,
    string SiteName,
    string? Region,
    int Units,
    int UnitsThatWait,
    IReadOnlyDictionary<CleaningState, int> UnitsByState,
    UnitCleaning? Worst,
    string? NextStep);

/// <summary>Which two stretches of time are compared.</summary>
public enum WashingCompared
{
    /// <summary>The last 28 days and the 28 before.</summary>
    Days,

    /// <summary>A month and the one before.</summary>
    Month,

    /// <summary>A month that is not over and the one before.</summary>
    MonthSoFar,
}

/// <summary>How washes were kept in two stretches of time that follow each other.</summary>
/// <param name="Sentence">What changed, and whether by more than chance, in one sentence.</param>
/// <param name="Before">The earlier stretch.</param>
/// <param name="Now">The later stretch.</param>
/// <param name="Change">On-time share of the later stretch less that of the earlier, with bounds that allow for units differing and being the
/// same ones in both; null where it cannot be told.</param>
/// <param name="Causes">Where the overdue and silent hours went, most in the later stretch first.</param>
public sealed record WashingChange(string Sentence, WashingStretch Before, WashingStretch Now, Estimate? Change, IReadOnlyList<CauseChange> Causes);

/// <summary>How washes were kept in one stretch of time.</summary>
/// <param name="From">Its begin, inclusive.</param>
/// <param name="To">Its end, exclusive.</param>
/// <param name="Units">Units with a wash that was due in it and could be judged.</param>
/// <param name="Due">Washes whose deadline fell in it, without those unknown (silence) and excused (out of service).</param>
/// <param name="OnTime">How many of them were kept by their deadline.</param>
/// <param name="OnTimeShare">On time by due, with bounds that allow for units differing; null when nothing was due.</param>
/// <param name="TimeWithinShare">Share of the time in service, open and heard in which no wash was overdue; null when there was none.</param>
/// <param name="WindowHours">Unit-and-rule hours in it.</param>
public sealed record WashingStretch(
    DateTimeOffset From, DateTimeOffset To, int Units, int Due, int OnTime, Estimate? OnTimeShare, double? TimeWithinShare, double WindowHours);

/// <summary>Hours of one cause in two stretches of time.</summary>
/// <param name="Cause">The cause.</param>
/// <param name="HoursBefore">Hours in the earlier stretch.</param>
/// <param name="Hours">Hours in the later stretch.</param>
/// <param name="Share">The same as a share of the later stretch's unit-and-rule hours; null where there are none.</param>
public sealed record CauseChange(Cause Cause, double HoursBefore, double Hours, double? Share);

/// <summary>Repairs of an operator that came back.</summary>
/// <param name="Days">Days that were looked back.</param>
/// <param name="Count">How many came back in them.</param>
/// <param name="Sentence">The same against the number of repairs, in words.</param>
/// <param name="Rows">Newest first; at most five.</param>
public sealed record OperatorRepeats(int Days, int Count, string Sentence, IReadOnlyList<RepeatRow> Rows);

/// <summary>The operators, found by a simple search.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Search">What was searched for in name and code; null: nothing, so all operators.</param>
/// <param name="Rows">The operators of this page, by name.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record OperatorListReport(Basis Basis, string Sentence, string? Search, IReadOnlyList<OperatorListRow> Rows, string? Next);

/// <summary>One operator in the list.</summary>
/// <param name="Operator">Code.</param>
/// <param name="OperatorName">Name.</param>
/// <param name="Kitchens">Kitchens with a unit in service under a rule.</param>
/// <param name="Units">Units in service under a cleaning rule.</param>
/// <param name="UnitsThatWait">How many of them are overdue, locked out or silent.</param>
/// <param name="UnitsByState">How many of them are in each state.</param>
/// <param name="OnTimeShare">Washes of the last 28 days on time by those due, with bounds; null when nothing was due.</param>
public sealed record OperatorListRow(
    string Operator,
    string OperatorName,
    int Kitchens,
    int Units,
    int UnitsThatWait,
    IReadOnlyDictionary<CleaningState, int> UnitsByState,
    Estimate? OnTimeShare);
