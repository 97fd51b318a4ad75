namespace Washwear.Dashboard.Planning;

/// <summary>What the page of the dated plan shows.</summary>
/// <param name="Plan">The visits.</param>
/// <param name="Failures">Failures to be expected within 90 days.</param>
/// <param name="ToOrder">Part numbers that are short; null: not asked, because the page is narrowed to a unit or position.</param>
/// <param name="Decisions">What was decided last.</param>
/// <param name="Filter">Which part of the plan.</param>
/// <param name="MayDecide">Whether the reader may decide.</param>
/// <param name="JustDone">What was decided a moment ago, in a sentence; null: nothing.</param>
public sealed record PlanPageReport(
    VisitPlanReport Plan,
    FailureForecastReport Failures,
    int? ToOrder,
    PlanDecisionsReport Decisions,
    PlanFilter Filter,
    bool MayDecide,
    string? JustDone);
