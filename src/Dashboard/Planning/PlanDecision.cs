using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What can be decided about a planned job.</summary>
public enum PlanDecisionWord
{
    /// <summary>It is done on the day that is told.</summary>
    Accepted,

    /// <summary>Not before the day that is told.</summary>
    Postponed,

    /// <summary>Never, until somebody revokes this or the part changes.</summary>
    Rejected,

    /// <summary>What was decided before holds no longer.</summary>
    Revoked,
}

/// <summary>A decision about a planned job.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="Decision">accepted, postponed, rejected or revoked.</param>
/// <param name="By">Who decides.</param>
/// <param name="Date">accepted: the day of the job, left out: the day that the plan has for it; postponed: not before this day; else left out.</param>
/// <param name="Reason">Why; asked for where a job is postponed or rejected.</param>
public sealed record PlanDecisionResource(
    string Unit, string Position, PlanDecisionWord Decision, string By, DateOnly? Date = null, string? Reason = null);

/// <summary>A decision that was taken.</summary>
/// <param name="Id">Number of the decision.</param>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of its site.</param>
/// <param name="SiteName">Name of its site.</param>
/// <param name="Operator">Code of its operator.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="Decision">What was decided.</param>
/// <param name="Date">accepted: the day of the job; postponed: not before this day; null: none.</param>
/// <param name="Reason">Why.</param>
/// <param name="By">Who decided.</param>
/// <param name="EnteredBy">Name of the key with which it was entered.</param>
/// <param name="At">When.</param>
/// <param name="InForce">Whether it holds: nothing was decided since, and the part is still the one that it was about.</param>
/// <param name="Sentence">What it means for the plan, in a sentence.</param>
public sealed record PlanDecisionRow(
    long Id,
    string Unit,
    string Site,
    string SiteName,
    string Operator,
    string Position,
    string PositionName,
    PlanDecisionWord Decision,
    DateOnly? Date,
    string? Reason,
    string By,
    string EnteredBy,
    DateTimeOffset At,
    bool InForce,
    string Sentence);

/// <summary>Decisions about planned jobs, newest first.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="InForce">How many of those asked for hold.</param>
/// <param name="Rows">The decisions of this page.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record PlanDecisionsReport(Basis Basis, string Sentence, int InForce, IReadOnlyList<PlanDecisionRow> Rows, string? Next);

/// <summary>Which part of the plan is asked for.</summary>
/// <param name="Operator">Only units of this operator; null: all.</param>
/// <param name="Site">Only units at this site; null: all.</param>
/// <param name="Unit">Only the unit with this asset tag; null: all.</param>
/// <param name="Position">Only this position; null: all.</param>
/// <param name="StockPoint">Only sites that this stock point serves; null: all.</param>
public sealed record PlanFilter(
    string? Operator = null, string? Site = null, string? Unit = null, string? Position = null, string? StockPoint = null)
{
    /// <summary>Everything.</summary>
    public static PlanFilter All { get; } = new();
}
