using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Api.Timeline;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Addresses of units: report, timeline, pages, calendar.</summary>
public static class UnitEndpoints
{
    private const int UnitsOnAPage = 50;
    private const int RecordsOnThePage = 60;

    /// <summary>Registers units.</summary>
    /// <param name="services">The services.</param>
    public static void AddUnits(this IServiceCollection services)
    {
        services.AddPerScope<UnitQueries>();
        services.AddPerScope<UnitReports>();
        services.AddPerScope<UnitListReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapUnits(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/units/{unit}").RequireAbility(Abilities.Read).WithTags("Units");
        api.MapGet(string.Empty, ReportAsync)
            .ProducesList<UnitReport>()
            .WithSummary("One unit: its state now, what is fitted and how old, its washes and latest history")
            .WithDescription("As CSV: the parts fitted now.");
        api.MapGet("/history", HistoryAsync)
            .ProducesList<UnitHistoryReport>()
            .WithSummary("A unit's timeline, newest first")
            .WithDescription("Every record, also those that a later one voids or replaces. Page with ?limit and ?after.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/units", ListPageAsync);
        pages.MapGet(Urls.UnitRoute, PageAsync);
        pages.MapGet(Urls.WashCalendarRoute, CalendarAsync);
    }

    private static async Task<IResult> ReportAsync(
        string unit, HttpContext context, UnitReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        await reports.AssembleAsync(unit, clock.GetUtcNow(), cancellationToken) is { } report
            ? Formats.Report(context, report, report.Parts, null, UnitColumns.Parts)
            : Problems.NotFound("unit", unit);

    private static async Task<IResult> HistoryAsync(
        string unit, HttpContext context, UnitReports reports, Settings settings, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 2, out PageRequest page) is { } problem)
        {
            return problem;
        }

        return await reports.AssembleHistoryAsync(unit, page, cancellationToken) is { } report
            ? Formats.Report(context, report, report.Items, report.Next, UnitColumns.History)
            : Problems.NotFound("unit", unit);
    }

    private static async Task<IResult> PageAsync(
        string unit, HttpContext context, Pages pages, UnitReports reports, TimelineReports timelines, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return await reports.AssembleAsync(unit, now, cancellationToken) is { } report
            ? pages.Of<UnitPage>(
                context,
                report with { Timeline = await timelines.AssembleAsync(TimelineSubject.Unit, unit, null, new PageRequest(RecordsOnThePage, null), now, cancellationToken) },
                now)
            : Problems.NotFound("unit", unit);
    }

    private static async Task<IResult> ListPageAsync(
        HttpContext context, Pages pages, UnitListReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if ((Paging.Read(context.Request, settings, 1, out PageRequest page) ?? Sorting.Read(context.Request, UnitListReports.Columns, ref page)) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        string? search = new Query(context.Request.Query).Text("q");
        bool asFile = Formats.IsFile(context.Request);
        UnitListReport report =
            await reports.AssembleAsync(search, page with { Limit = asFile ? int.MaxValue - 1 : UnitsOnAPage }, now, cancellationToken);
        return asFile ? Csv.Result(context.Request, UnitColumns.Listed, report.Rows) : pages.Of<UnitListPage>(context, report, now);
    }

    private static async Task<IResult> CalendarAsync(
        string unit, string format, UnitReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        await reports.AssembleCalendarAsync(unit, clock.GetUtcNow(), cancellationToken) is { } calendar
            ? Pages.Picture(WashCalendar.Of(calendar.Unit, calendar.Days), format)
            : Problems.NotFound("unit", unit);
}
