using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Api.Timeline;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Sites;
using Washwear.Dashboard.Timeline;

namespace Washwear.Api.Sites;

/// <summary>Addresses of kitchens: what each has to do, and their list.</summary>
public static class SiteEndpoints
{
    private const int SitesOnAPage = 50;
    private const int RecordsOnThePage = 60;

    /// <summary>Registers kitchens.</summary>
    /// <param name="services">The services.</param>
    public static void AddSites(this IServiceCollection services)
    {
        services.AddPerScope<KitchenReports>();
        services.AddPerScope<SiteListReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapSites(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/sites/{site}/kitchen", KitchenAsync).RequireAbility(Abilities.Read).WithTags("Cleaning")
            .ProducesList<KitchenReport>()
            .WithSummary("What a kitchen has to do about its own units, in plain words")
            .WithDescription(
                "One entry a unit in service, those that need somebody first: what to do, when the next wash is due on the kitchen's own wall clock, "
                + "whom to ask, and the last 14 trading days. As CSV: the units without their days.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/sites", ListPageAsync);
        pages.MapGet(Urls.SiteRoute, PageAsync);
    }

    private static async Task<IResult> KitchenAsync(
        string site, HttpContext context, KitchenReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        await reports.AssembleAsync(site, clock.GetUtcNow(), cancellationToken) is { } report
            ? Formats.Report(context, report, report.Units, null, SiteColumns.Kitchen)
            : Problems.NotFound("site", site);

    private static async Task<IResult> PageAsync(
        string site, HttpContext context, Pages pages, KitchenReports reports, TimelineReports timelines, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return await reports.AssembleAsync(site, now, cancellationToken) is { } report
            ? pages.Of<KitchenPage>(
                context,
                report with { Timeline = await timelines.AssembleAsync(TimelineSubject.Site, site, null, new PageRequest(RecordsOnThePage, null), now, cancellationToken) },
                now)
            : Problems.NotFound("site", site);
    }

    private static async Task<IResult> ListPageAsync(
        HttpContext context, Pages pages, SiteListReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if ((Paging.Read(context.Request, settings, 1, out PageRequest page) ?? Sorting.Read(context.Request, SiteListReports.Columns, ref page)) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        string? search = new Query(context.Request.Query).Text("q");
        bool asFile = Formats.IsFile(context.Request);
        SiteListReport report =
            await reports.AssembleAsync(search, page with { Limit = asFile ? int.MaxValue - 1 : SitesOnAPage }, now, cancellationToken);
        return asFile ? Csv.Result(context.Request, SiteColumns.Listed, report.Rows) : pages.Of<SiteListPage>(context, report, now);
    }
}
