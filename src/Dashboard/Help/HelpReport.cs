using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Help;

/// <summary>What the page of help leads to, for each kind of reader.</summary>
/// <param name="Guides">The guides, that of the reader's own work first.</param>
public sealed record HelpReport(IReadOnlyList<HelpGuide> Guides)
{
    private static readonly HelpGuide[] All =
    [
        new(TodayRole.Technician,
        [
            new("locked_out", Urls.Cleaning(CleaningState.LockedOut)), new("unit", Urls.Units()), new("sheet", null), new("close", null), new("device", Urls.Visits),
        ]),
        new(TodayRole.Service,
        [
            new("failures", Urls.Failures()), new("repeats", Urls.Failures() + "#repeats"), new("approvals", Urls.Approvals()), new("repairs", Urls.Repairs()),
        ]),
        new(TodayRole.Operator,
        [
            new("overdue", Urls.Cleaning(CleaningState.Overdue)), new("kitchen", Urls.Sites()), new("operator", Urls.Operators()), new("worse", Urls.Cleaning() + "#worse"),
        ]),
        new(TodayRole.Planner,
        [
            new("plan", Urls.Plan()), new("age", Urls.PlanParts()), new("stock", Urls.PlanStock()), new("forecast", Urls.PlanForecast()), new("what_if", Urls.WhatIfRoute),
        ]),
    ];

    /// <summary>The guides as a reader needs them.</summary>
    /// <param name="role">The reader's own work.</param>
    public static HelpReport For(ReaderRole role) => new([.. All.OrderByDescending(guide => guide.Role.ToString() == role.ToString())]);
}

/// <summary>How somebody gets to know the pages of their own work.</summary>
/// <param name="Role">Whose work.</param>
/// <param name="Steps">The steps, in order.</param>
public sealed record HelpGuide(TodayRole Role, IReadOnlyList<HelpStep> Steps);

/// <summary>One step.</summary>
/// <param name="Code">Its text in the files of texts.</param>
/// <param name="Href">Where it leads; null: it is a thing to do on the page of the step before.</param>
public sealed record HelpStep(string Code, string? Href);
