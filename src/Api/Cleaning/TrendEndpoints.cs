using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Addresses of the trend of cleaning by week.</summary>
public static class TrendEndpoints
{
    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapTrend(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/cleaning/trend", TrendAsync).RequireAbility(Abilities.Read).WithTags("Cleaning")
            .ProducesList<TrendReport>()
            .WithSummary("How the washes that were due were kept, week by week, and whether that changes by more than chance")
            .WithDescription(
                "Whole ISO weeks that begin on Monday at 00:00 UTC, whatever the site, up to the last one that is over; ?weeks (13), at most 104. "
                + "The change is that of a straight line through all due washes, with bounds that take units as clusters; the sentence names a rise "
                + "or fall only where the bounds exclude none.");
        routes.MapGet(Urls.TrendChartRoute, ChartAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static async Task<IResult> TrendAsync(HttpContext context, TrendReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = CleaningEndpoints.Filter(query);
        int weeks = Weeks(query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        TrendReport report = await reports.AssembleAsync(filter, weeks, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Weeks, null, CleaningColumns.Trend);
    }

    private static async Task<IResult> ChartAsync(
        string format, HttpContext context, TrendReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = CleaningEndpoints.Filter(query);
        int weeks = Weeks(query);
        return query.Problem is { } problem
            ? problem
            : Pages.Picture(TrendChart.Of(await reports.AssembleAsync(filter, weeks, clock.GetUtcNow(), cancellationToken)), format);
    }

    private static int Weeks(Query query) => query.Whole("weeks", TrendReports.UsualWeeks, 2, TrendReports.MostWeeks);
}
