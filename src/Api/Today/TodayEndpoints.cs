using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Today;

namespace Washwear.Api.Today;

/// <summary>Addresses of what needs somebody today.</summary>
public static class TodayEndpoints
{
    private const string Everybody = "all";

    /// <summary>Roles as addresses spell them.</summary>
    internal static IEnumerable<string> RoleWords => Enum.GetValues<TodayRole>().Select(Urls.RoleCode);

    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddToday(this IServiceCollection services)
    {
        services.AddPerScope<TodayQueries>();
        services.AddPerScope<TodayLines>();
        services.AddPerScope<TodayReports>();
        services.AddHostedService<FirstLook>();
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
            .WithDescription(
                "lines: what needs whom, each with its reason, since when, and the address of its one next step; things with one same reason share a line. "
                + "Beside them: units that cannot wash, are overdue or silent, fitted parts likely to fail within 90 days, and rows refused at the door.");
        routes.MapGet(Urls.Today, PageAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static async Task<IResult> ReportAsync(
        HttpContext context, TodayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        TodayRole? role = RoleOf(query);
        return query.Problem is { } problem ? problem : TypedResults.Ok(await reports.AssembleAsync(role, clock.GetUtcNow(), cancellationToken));
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, TodayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        var query = new Query(context.Request.Query);
        TodayRole? role = query.Text("for") is null ? PreferredRole() : RoleOf(query);
        return query.Problem is { } problem ? problem : pages.Of<TodayPage>(context, await reports.AssembleAsync(role, now, cancellationToken), now);
    }

    private static TodayRole? RoleOf(Query query) =>
        query.OneOf("for", [.. RoleWords, Everybody]) is { } word && word != Everybody
            ? Enum.GetValues<TodayRole>().Single(role => Urls.RoleCode(role) == word)
            : null;

    private static TodayRole? PreferredRole() => ReaderPreferences.Current.Role switch
    {
        ReaderRole.All => null,
        ReaderRole.Technician => TodayRole.Technician,
        ReaderRole.Service => TodayRole.Service,
        ReaderRole.Operator => TodayRole.Operator,
        ReaderRole.Planner => TodayRole.Planner,
        var other => throw new InvalidOperationException("A role that the page of today does not know: " + other),
    };
}
