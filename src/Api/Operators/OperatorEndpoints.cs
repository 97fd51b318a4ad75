using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Operators;

/// <summary>Addresses of operators of many kitchens: their list, and what each needs to know.</summary>
public static class OperatorEndpoints
{
    private const int OperatorsOnAPage = 50;
    private const int KitchensOnAPage = 15;

    /// <summary>Registers operators.</summary>
    /// <param name="services">The services.</param>
    public static void AddOperators(this IServiceCollection services)
    {
        services.AddPerScope<OperatorReports>();
        services.AddPerScope<OperatorListReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapOperators(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/operators/{operator}/overview", OverviewAsync).RequireAbility(Abilities.Read).WithTags("Operators")
            .ProducesList<OperatorReport>()
            .WithSummary("An operator of many kitchens: which of them need somebody, how washing goes, what waits, what came back, what is planned")
            .WithDescription(
                "The kitchens are those with units in service under a rule, the longest wait first; page with ?limit and ?after. Washing compares the last "
                + "28 days, up to the last full hour, with the 28 before. As CSV: the kitchens.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/operators", ListPageAsync);
        pages.MapGet(Urls.OperatorRoute, PageAsync);
    }

    private static async Task<IResult> OverviewAsync(
        string @operator, HttpContext context, OperatorReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        return await reports.AssembleAsync(@operator, page, clock.GetUtcNow(), cancellationToken) is { } report
            ? Formats.Report(context, report, report.Rows, report.Next, OperatorColumns.Kitchens)
            : Problems.NotFound("operator", @operator);
    }

    private static async Task<IResult> PageAsync(
        string @operator, HttpContext context, Pages pages, OperatorReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        return await reports.AssembleAsync(@operator, page with { Limit = KitchensOnAPage }, now, cancellationToken, onlyWithStep: true) is { } report
            ? pages.Of<OperatorPage>(context, report, now)
            : Problems.NotFound("operator", @operator);
    }

    private static async Task<IResult> ListPageAsync(
        HttpContext context, Pages pages, OperatorListReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        string? search = new Query(context.Request.Query).Text("q");
        return pages.Of<OperatorListPage>(
            context, await reports.AssembleAsync(search, page with { Limit = OperatorsOnAPage }, now, cancellationToken), now);
    }
}
