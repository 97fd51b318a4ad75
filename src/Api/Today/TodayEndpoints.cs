using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Today;

namespace Washwear.Api.Today;

/// <summary>Addresses of what needs somebody today.</summary>
public static class TodayEndpoints
{
    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddToday(this IServiceCollection services)
    {
        services.AddPerScope<TodayQueries>();
        services.AddPerScope<TodayReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapToday(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/today", ReportAsync)
            .RequireAbility(Abilities.Read)
            .WithTags("Today")
            .Produces<TodayReport>()
            .WithSummary("What needs somebody today")
            .WithDescription("Units that cannot wash, are overdue or silent, fitted parts likely to fail within 90 days, and rows refused at the door.");
        routes.MapGet(Urls.Today, PageAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static async Task<IResult> ReportAsync(TodayReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        TypedResults.Ok(await reports.AssembleAsync(clock.GetUtcNow(), cancellationToken));

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, TodayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return pages.Of<TodayPage>(context, await reports.AssembleAsync(now, cancellationToken), now);
    }
}
