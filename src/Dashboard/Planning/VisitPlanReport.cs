using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>A job of a planned visit: one part to be replaced.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="PartNumber">Part number to bring; null: not known.</param>
/// <param name="OnHand">Whether the stock point has one for this job; null: nobody told what lies there.</param>
/// <param name="Minutes">Minutes to replace it.</param>
/// <param name="PartPrice">Price of the part.</param>
/// <param name="DueOn">Day on which it reaches the cheapest age, as seen by itself.</param>
/// <param name="NotBefore">First day on which it can be done, for want of the part or by a decision; null: none.</param>
/// <param name="Chance90Days">Chance to fail within 90 days.</param>
/// <param name="Decision">What was decided about it: accepted or postponed; null: nothing.</param>
/// <param name="Why">Why it is done at this visit, in words.</param>
public sealed record VisitJob(
    string Unit,
    string Position,
    string PositionName,
    string? PartNumber,
    bool? OnHand,
    double Minutes,
    double? PartPrice,
    DateOnly? DueOn,
    DateOnly? NotBefore,
    double? Chance90Days,
    PlanDecisionWord? Decision,
    string Why);

/// <summary>A planned visit to a site.</summary>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="StockPoint">Stock point that serves the site.</param>
/// <param name="WeekFrom">Monday of its week.</param>
/// <param name="Date">Its day, a trading day of the site.</param>
/// <param name="Minutes">Minutes of work.</param>
/// <param name="Cost">Cost of the visit with its parts.</param>
/// <param name="ExtraCost">What its jobs cost more than if each were done on its own best day.</param>
/// <param name="Sentence">What is done, in a sentence.</param>
/// <param name="Jobs">What is done, by unit and position.</param>
public sealed record PlannedVisit(
    string Site,
    string SiteName,
    string Operator,
    string? StockPoint,
    DateOnly WeekFrom,
    DateOnly Date,
    double Minutes,
    double Cost,
    double ExtraCost,
    string Sentence,
    IReadOnlyList<VisitJob> Jobs);

/// <summary>A job that the plan leaves out, and why.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Position">Code of the position.</param>
/// <param name="PositionName">Name of the position.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="Why">Why.</param>
public sealed record LeftOutJob(string Unit, string Position, string PositionName, string Site, string Why);

/// <summary>The dated plan.</summary>
/// <param name="Basis">What the answer rests on.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Currency">Currency of all money; null: not told.</param>
/// <param name="HorizonWeeks">How far ahead visits are planned, weeks.</param>
/// <param name="Visits">Visits in the whole plan of those asked for.</param>
/// <param name="Jobs">Jobs in them.</param>
/// <param name="Minutes">Minutes of work in them.</param>
/// <param name="Cost">Their cost, parts included.</param>
/// <param name="GapShare">How much dearer the whole plan may be than the cheapest one that there is, as a share; null: not known.</param>
/// <param name="LeftOut">Jobs that are due within the horizon but left out.</param>
/// <param name="Rows">The visits of this page, by day and site.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record VisitPlanReport(
    Basis Basis,
    string Sentence,
    string? Currency,
    int HorizonWeeks,
    int Visits,
    int Jobs,
    double Minutes,
    double Cost,
    double? GapShare,
    IReadOnlyList<LeftOutJob> LeftOut,
    IReadOnlyList<PlannedVisit> Rows,
    string? Next);
