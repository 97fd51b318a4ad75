using System.Security.Cryptography;
using System.Text;
using Microsoft.Net.Http.Headers;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Addresses of planning.</summary>
public static class PlanningEndpoints
{
    private const int UsualDays = 90;
    private const int MostDays = 730;

    private const string Narrow = " Narrow with ?operator, ?site, ?unit, ?position, ?stock_point; page with ?limit and ?after.";

    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddPlanning(this IServiceCollection services)
    {
        services.AddPerScope<PlanDecisionQueries>();
        services.AddPerScope<FleetPlan>();
        services.AddPerScope<CompanionAges>();
        services.AddPerScope<PlanDecisions>();
        services.AddPerScope<PlanReports>();
        services.AddPerScope<PartReports>();
        services.AddPerScope<ForecastReports>();
        services.AddPerScope<ReplacementReports>();
        services.AddPerScope<VisitPlanReports>();
        services.AddPerScope<StockReports>();
        services.AddPerScope<CompanionReports>();
        services.AddPerScope<WhatIfReports>();
        services.AddPerScope<PlanCalendars>();
        services.AddPerScope<KeptForecastQueries>();
        services.AddSingleton<KeptForecasts>();
        services.AddPerScope<CalibrationReports>();
        services.AddHostedService<ForecastWorker>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapPlanning(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder read = routes.MapGroup("/v1/plan").RequireAbility(Abilities.Read).WithTags("Planning");
        read.MapGet("/failures", FailuresAsync)
            .ProducesList<FailureForecastReport>()
            .WithSummary("Failures to be expected")
            .WithDescription(
                "How many of the parts fitted now will fail within ?days (90), with 90 % prediction intervals, ?by part_number, site, stock_point or month."
                + Narrow);
        read.MapGet("/replacements", ReplacementsAsync)
            .ProducesList<ReplacementsReport>()
            .WithSummary("When parts are best replaced")
            .WithDescription(
                "By model, position and part number: replace at an age or let it run until it fails, the range in which the cheapest age lies, the ages "
                + "that cost about the same, what other costs would change, the cost curve. Seen by themselves; /v1/plan/visits shares visits." + Narrow);
        read.MapGet("/companions", CompanionsAsync)
            .ProducesList<CompanionsReport>()
            .WithSummary("What to swap together")
            .WithDescription(
                "For each pair of positions that a model calls companions: the age past which swapping the one along is cheaper while the unit is open "
                + "for the other, and what that saves over five years, in money and in days without a wash." + Narrow);
        read.MapGet("/calendar.ics", CalendarAsync)
            .Produces<string>(StatusCodes.Status200OK, "text/calendar")
            .WithSummary("The dated plan as an iCalendar document")
            .WithDescription(
                "One event of a whole day a visit, with the address of its plan. A visit that moves or changes keeps its uid and counts its sequence on; one that the "
                + "plan drops after it was given out stays as cancelled. Narrow with ?operator, ?site, ?stock_point. ETag and If-None-Match as usual.");
        routes.MapGet(Urls.SharedCalendarRoute, CalendarAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
        read.MapPost("/what-if", WhatIfAsync)
            .NotAudited("It tries figures out and changes nothing.")
            .Accepts<WhatIfResource>("application/json")
            .Produces<WhatIfReport>()
            .WithSummary("Try other costs, lead times or intervals")
            .WithDescription("Gives visits, failures, days without a wash and money as things are and as they would be. Nothing is saved.");
        read.MapGet("/calibration", CalibrationAsync)
            .ProducesList<CalibrationReport>()
            .WithSummary("How good kept forecasts were")
            .WithDescription(
                "The forecast of each calendar quarter is kept and held against the failures that came; one that was made afterwards, from what had "
                + "happened by the quarter's begin, says so. Page with ?limit and ?after.");
        read.MapGet("/visits", VisitsAsync)
            .ProducesList<VisitPlanReport>()
            .WithSummary("The dated plan")
            .WithDescription(
                "Visits by day and site over the horizon of the plan terms: on trading days, within crew minutes, not before parts can be there, as was "
                + "decided. gap_share says how much dearer it may be than the cheapest plan. left_out lists at most 200 jobs." + Narrow);
        read.MapGet("/stock", StockAsync)
            .ProducesList<StockReport>()
            .WithSummary("What to stock, and what to order now")
            .WithDescription("By stock point and part number, over the supplier's longest lead time. Part numbers without one say so." + Narrow);
        read.MapGet("/failures/parts", PartsAsync)
            .ProducesList<PlannedPartsReport>()
            .WithSummary("Every fitted part and what is ahead of it")
            .WithDescription(
                "By asset tag and position: age, chance to fail within 30, 90 and 180 days with bounds, what is best done with it by itself, when it is "
                + "due, what a week past that costs, what was decided. Parts without a life model, a known age or a price say so." + Narrow);
        read.MapGet("/decisions", DecisionsAsync)
            .ProducesList<PlanDecisionsReport>()
            .WithSummary("What was decided about planned jobs")
            .WithDescription("Newest first, with whether each still holds." + Narrow);
        routes.MapPost("/v1/plan/decisions", DecideAsync)
            .Audited("plan.decide")
            .RequireAbility(Abilities.Plan)
            .WithTags("Planning")
            .Accepts<PlanDecisionResource>("application/json")
            .Produces<PlanDecisionRow>()
            .WithSummary("Accept, postpone, reject or revoke a planned job")
            .WithDescription(
                "A job is the replacement of the part fitted at a position of a unit. accepted fixes its day (the plan's own if no date is given), "
                + "postponed means not before a day, rejected never, each until the part changes or somebody decides otherwise; revoked takes the last "
                + "decision back. Decisions are added, never changed: who decided what and when stays readable. 409 where there is nothing to revoke.");
    }

    private static async Task<IResult> FailuresAsync(
        HttpContext context, ForecastReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        int days = query.Whole("days", UsualDays, 1, MostDays);
        ForecastBy by = query.Word<ForecastBy>("by") ?? ForecastBy.PartNumber;
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page)) is { } problem)
        {
            return problem;
        }

        FailureForecastReport report = await reports.AssembleAsync(Filter(query), days, by, page, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Failures);
    }

    private static Task<IResult> ReplacementsAsync(
        HttpContext context, ReplacementReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, settings, clock, async (filter, page, now) =>
        {
            ReplacementsReport report = await reports.AssembleAsync(filter, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Replacements);
        });

    private static Task<IResult> VisitsAsync(
        HttpContext context, VisitPlanReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, settings, clock, async (filter, page, now) =>
        {
            VisitPlanReport report = await reports.AssembleAsync(filter, page, now, cancellationToken);
            return Formats.Report(
                context, report, report.Rows.SelectMany(visit => visit.Jobs.Select(job => (visit, job))), report.Next, PlanColumns.Visits);
        });

    private static Task<IResult> CompanionsAsync(
        HttpContext context, CompanionReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, settings, clock, async (filter, page, now) =>
        {
            CompanionsReport report = await reports.AssembleAsync(filter, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Companions);
        });

    private static async Task<IResult> CalibrationAsync(
        HttpContext context, CalibrationReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        CalibrationReport report = await reports.AssembleAsync(page, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Calibration);
    }

    private static async Task<IResult> CalendarAsync(
        HttpContext context, PlanCalendars calendars, TimeProvider clock, CancellationToken cancellationToken)
    {
        PlanFilter filter = Filter(new Query(context.Request.Query));
        byte[] text = Encoding.UTF8.GetBytes(await calendars.AssembleAsync(filter, clock.GetUtcNow(), cancellationToken));
        var mark = new EntityTagHeaderValue("\"" + Convert.ToHexStringLower(SHA256.HashData(text).AsSpan(0, 16)) + "\"");
        return Results.File(text, CalendarText.ContentType, entityTag: mark);
    }

    private static async Task<IResult> WhatIfAsync(
        HttpContext context, WhatIfReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (WhatIfResource? asked, ProblemResult? unreadable) = await JsonBody.ReadAsync<WhatIfResource>(context.Request, null, cancellationToken);
        if (asked is null)
        {
            return unreadable!;
        }

        (WhatIfReport? report, IReadOnlyList<FieldProblem> problems) = await reports.AssembleAsync(asked, clock.GetUtcNow(), cancellationToken);
        return report is null ? Problems.Invalid(problems) : TypedResults.Ok(report);
    }

    private static Task<IResult> StockAsync(
        HttpContext context, StockReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, settings, clock, async (filter, page, now) =>
        {
            StockReport report = await reports.AssembleAsync(filter, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Stock);
        });

    private static Task<IResult> PartsAsync(
        HttpContext context, PartReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, settings, clock, async (filter, page, now) =>
        {
            PlannedPartsReport report = await reports.AssembleAsync(filter, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Parts);
        });

    private static Task<IResult> DecisionsAsync(
        HttpContext context, PlanReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, settings, clock, async (filter, page, now) =>
        {
            PlanDecisionsReport report = await reports.AssembleDecisionsAsync(filter, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, PlanColumns.Decisions);
        });

    private static async Task<IResult> DecideAsync(
        HttpContext context, PlanDecisions decisions, PlanReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (PlanDecisionResource? decision, ProblemResult? unreadable) =
            await JsonBody.ReadAsync<PlanDecisionResource>(context.Request, null, cancellationToken);
        if (decision is null)
        {
            return unreadable!;
        }

        (long? id, ProblemResult? problem) = await decisions.DecideAsync(
            decision, context.User.Identity?.Name ?? "unknown", cancellationToken);
        return problem is not null ? problem : TypedResults.Ok(await reports.AssembleDecisionAsync(id!.Value, clock.GetUtcNow(), cancellationToken));
    }

    private static async Task<IResult> PagedAsync(
        HttpContext context, Settings settings, TimeProvider clock, Func<PlanFilter, PageRequest, DateTimeOffset, Task<IResult>> answer) =>
        Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem
            ? problem
            : await answer(Filter(new Query(context.Request.Query)), page, clock.GetUtcNow());

    /// <summary>The part of the plan that a query asks for.</summary>
    /// <param name="query">The query.</param>
    internal static PlanFilter Filter(Query query) =>
        new(query.Text("operator"), query.Text("site"), query.Text("unit"), query.Text("position"), query.Text("stock_point"));
}
