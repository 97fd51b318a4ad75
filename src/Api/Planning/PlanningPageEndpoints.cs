using Washwear.Api.Http;
using Washwear.Api.Registry;
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
        HttpContext context, Pages pages, ReplacementReports replacements, CompanionReports companions, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PlanFilter filter = PlanningEndpoints.Filter(query);
        DateTimeOffset now = clock.GetUtcNow();
        var page = new PageRequest(RowsOnAPage, null);
        ReplacementsReport report = await replacements.AssembleAsync(filter, page, now, cancellationToken);
        return pages.Of<PlanPartsPage>(
            context,
            new PlanPartsPageReport(
                report,
                Chosen(report, query.Text("model"), query.Text("part_number")),
                await companions.AssembleAsync(filter, page, now, cancellationToken),
                filter),
            now);
    }

    private static async Task<IResult> StockAsync(
        HttpContext context, Pages pages, StockReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        PlanFilter filter = PlanningEndpoints.Filter(new Query(context.Request.Query));
        DateTimeOffset now = clock.GetUtcNow();
        return Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem
            ? problem
            : pages.Of<PlanStockPage>(
                context, new PlanStockPageReport(await reports.AssembleAsync(filter, page with { Limit = RowsOnAPage }, now, cancellationToken), filter), now);
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
        ReplacementsReport report = await reports.AssembleAsync(
            PlanningEndpoints.Filter(query), new PageRequest(RowsOnAPage, null), clock.GetUtcNow(), cancellationToken);
        return Chosen(report, query.Text("model"), query.Text("part_number")) is { } row
            ? Pages.Picture(CostChart.Of(row, report.Currency), format)
            : Problems.NotFound("cost curve", query.Text("position") ?? "any position");
    }

    // The row that was asked for; else the first that is cheaper replaced in time, else the first with a curve.
    private static ReplacementRow? Chosen(ReplacementsReport report, string? model, string? partNumber)
    {
        ReplacementRow[] drawn = [.. report.Rows.Where(row => row.CostCurve.Count > 0)];
        return Array.Find(drawn, row => (model is not null || partNumber is not null) && Is(row.Model, model) && Is(row.PartNumber, partNumber))
            ?? Array.Find(drawn, row => row.Verdict == PlanVerdict.ReplaceAtAge) ?? drawn.FirstOrDefault();
    }

    private static bool Is(string? code, string? asked) => asked is null || (code is not null && Codes.Key(code) == Codes.Key(asked));
}
