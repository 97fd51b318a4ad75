using System.Globalization;
using Washwear.Dashboard.Planning;

namespace Washwear.Dashboard.Shell;

/// <content>Links of the dated plan.</content>
public static partial class Urls
{
    /// <summary>Route of the dated plan.</summary>
    public const string PlanRoute = "/planning";

    /// <summary>Where a form decides about planned jobs (POST).</summary>
    public const string PlanDecisionRoute = "/planning/decisions";

    /// <summary>Route of the page that tries other costs, lead times and intervals.</summary>
    public const string WhatIfRoute = "/planning/what-if";

    /// <summary>The dated plan as iCalendar.</summary>
    public const string PlanCalendarRoute = "/v1/plan/calendar.ics";

    /// <summary>The dated plan.</summary>
    /// <param name="filter">Which part of it; null: all.</param>
    /// <param name="after">Cursor of the page wanted; null: the first.</param>
    /// <param name="done">Number of a decision that was taken a moment ago; null: none.</param>
    /// <param name="all">Whether as many visits as the service gives at once are wanted, such as to print them.</param>
    /// <returns>The address.</returns>
    public static string Plan(PlanFilter? filter = null, string? after = null, long? done = null, bool all = false) => Query(
        PlanRoute,
        [
            .. PlanPairs(filter), ("after", after), ("done", done?.ToString(CultureInfo.InvariantCulture)), ("all", all ? "yes" : null),
        ]);

    /// <summary>The dated plan as comma-separated values.</summary>
    /// <param name="filter">Which part of it.</param>
    /// <returns>The address.</returns>
    public static string PlanCsv(PlanFilter? filter) => Query("/v1/plan/visits", [.. PlanPairs(filter), ("format", "csv")]);

    /// <summary>Decisions about planned jobs as comma-separated values.</summary>
    /// <param name="filter">Whose.</param>
    /// <returns>The address.</returns>
    public static string PlanDecisionsCsv(PlanFilter? filter) => Query("/v1/plan/decisions", [.. PlanPairs(filter), ("format", "csv")]);

    /// <summary>The dated plan as a calendar file.</summary>
    /// <param name="filter">Which part of it; unit and position do not narrow a calendar.</param>
    /// <returns>The address.</returns>
    public static string PlanCalendar(PlanFilter? filter) =>
        Query(PlanCalendarRoute, ("operator", filter?.Operator), ("site", filter?.Site), ("stock_point", filter?.StockPoint));

    private static (string Name, string? Value)[] PlanPairs(PlanFilter? filter) =>
    [
        ("operator", filter?.Operator), ("site", filter?.Site), ("unit", filter?.Unit), ("position", filter?.Position),
        ("stock_point", filter?.StockPoint),
    ];
}
