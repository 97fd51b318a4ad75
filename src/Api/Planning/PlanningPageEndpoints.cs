using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Pages on what lies behind the plan, and their charts.</summary>
public static class PlanningPageEndpoints
{
    private const int UsualDays = 90;
    private const int MostDays = 730;
    private const int RowsOnAPage = 60;
    private const int PartsOnAPage = 20;
    private const int PairsBelowParts = 5;
    private const int StocksOnAPage = 25;
    private const int KeptOnAPage = 30;

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapPlanningPages(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet(Urls.PlanPartsRoute, PartsAsync);
        pages.MapGet(Urls.PlanStockRoute, StockAsync);
        pages.MapGet(Urls.PlanForecastRoute, ForecastAsync);
        pages.MapGet(Urls.CostChartRoute, CostChartAsync);
        pages.MapGet(Urls.ForecastChartRoute, ForecastChartAsync);
    }

    private static async Task<IResult> PartsAsync(
        HttpContext context, Pages pages, ReplacementReports replacements, CompanionReports companions, Settings settings, TimeProvider clock,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PlanFilter filter = PlanningEndpoints.Filter(query);
        PlanPartsList list = query.Word<PlanPartsList>("list") ?? PlanPartsList.Parts;
        if (query.Problem is { } unknown)
        {
            return unknown;
        }

        if ((Paging.Read(context.Request, settings, 1, out PageRequest page)
            ?? (list == PlanPartsList.Parts
                ? Sorting.Read(context.Request, ReplacementReports.Columns, ref page)
                : Sorting.Read(context.Request, CompanionReports.Columns, ref page))) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        PageRequest parts = page with { Limit = PartsOnAPage };
        PageRequest pairs = page with { Limit = list == PlanPartsList.Together ? RowsOnAPage : PairsBelowParts };
        var report = new PlanPartsPageReport(
            await replacements.AssembleAsync(filter, list == PlanPartsList.Parts ? Usually(parts, ReplacementReports.Usual) : Usually(First(parts), ReplacementReports.Usual), now, cancellationToken),
            await replacements.ChosenAsync(filter, query.Text("model"), query.Text("part_number"), now, cancellationToken),
            await companions.AssembleAsync(filter, list == PlanPartsList.Together ? Usually(pairs, CompanionReports.Usual) : Usually(First(pairs), CompanionReports.Usual), now, cancellationToken),
            filter,
            list);
        return pages.Of<PlanPartsPage>(context, report, now);
    }

    private static PageRequest First(PageRequest page) => new(page.Limit, null);

    private static PageRequest Usually(PageRequest page, string column) => page.SortBy is null ? page with { SortBy = column, Descending = true } : page;

    private static async Task<IResult> StockAsync(
        HttpContext context, Pages pages, StockReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        PlanFilter filter = PlanningEndpoints.Filter(new Query(context.Request.Query));
        DateTimeOffset now = clock.GetUtcNow();
        return (Paging.Read(context.Request, settings, 1, out PageRequest page) ?? Sorting.Read(context.Request, StockReports.Columns, ref page)) is { } problem
            ? problem
            : pages.Of<PlanStockPage>(
                context,
                new PlanStockPageReport(
                    await reports.AssembleAsync(filter, page with { Limit = StocksOnAPage }, now, cancellationToken),
                    await reports.ShortAsync(filter, RowsOnAPage, now, cancellationToken),
                    filter),
                now);
    }

    private static async Task<IResult> ForecastAsync(
        HttpContext context, Pages pages, ForecastReports forecasts, CalibrationReports kept, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PlanFilter filter = PlanningEndpoints.Filter(query);
        int days = query.Whole("days", UsualDays, 1, MostDays);
        ForecastBy by = query.Word<ForecastBy>("by") ?? ForecastBy.PartNumber;
        if (query.Problem is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        var page = new PageRequest(RowsOnAPage, null);
        return pages.Of<PlanForecastPage>(
            context,
            new PlanForecastPageReport(
                await forecasts.AssembleAsync(filter, days, by, page, now, cancellationToken),
                await forecasts.AssembleAsync(filter, days, ForecastBy.Month, page, now, cancellationToken),
                await kept.AssembleAsync(new PageRequest(KeptOnAPage, null), now, cancellationToken),
                filter),
            now);
    }

    private static async Task<IResult> ForecastChartAsync(
        string format, HttpContext context, ForecastReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        int days = query.Whole("days", UsualDays, 1, MostDays);
        ForecastBy by = query.Word<ForecastBy>("by") ?? ForecastBy.PartNumber;
        if (query.Problem is { } problem)
        {
            return problem;
        }

        FailureForecastReport report = await reports.AssembleAsync(
            PlanningEndpoints.Filter(query), days, by, new PageRequest(RowsOnAPage, null), clock.GetUtcNow(), cancellationToken);
        return Pages.Picture(ForecastChart.Of(report), format);
    }

    private static async Task<IResult> CostChartAsync(
        string format, HttpContext context, ReplacementReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PlanFilter filter = PlanningEndpoints.Filter(query);
        DateTimeOffset now = clock.GetUtcNow();
        return await reports.ChosenAsync(filter, query.Text("model"), query.Text("part_number"), now, cancellationToken) is { } row
            ? Pages.Picture(CostChart.Of(row, (await reports.AssembleAsync(filter, new PageRequest(1, null), now, cancellationToken)).Currency), format)
            : Problems.NotFound("cost curve", query.Text("position") ?? "any position");
    }
}
