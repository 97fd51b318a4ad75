using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Alerts;

/// <summary>Addresses of alerts and of the digest.</summary>
public static class AlertEndpoints
{
    private const int AlertsOnAPage = 25;

    private static readonly CsvColumn<Alert>[] Columns =
    [
        new("id", row => row.Id),
        new("kind", row => row.Kind),
        new("state", row => row.State),
        new("unit", row => row.Unit),
        new("site", row => row.Site),
        new("site_name", row => row.SiteName),
        new("time_zone", row => row.TimeZone),
        new("rule", row => row.Rule),
        new("opened_at", row => row.OpenedAt),
        new("since", row => row.Since),
        new("sentence", row => row.Sentence),
        new("seen_at", row => row.SeenAt),
        new("seen_by", row => row.SeenBy),
        new("closed_at", row => row.ClosedAt),
        new("closed_because", row => row.ClosedBecause),
    ];

    /// <summary>Registers alerts and the worker that checks for them.</summary>
    /// <param name="services">The services.</param>
    public static void AddAlerts(this IServiceCollection services)
    {
        services.AddPerScope<AlertQueries>();
        services.AddSingleton<AlertChecks>();
        services.AddPerScope<AlertReports>();
        services.AddHostedService<AlertWorker>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapAlerts(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder read = routes.MapGroup("/v1").RequireAbility(Abilities.Read).WithTags("Alerts");
        read.MapGet("/alerts", ListAsync)
            .ProducesList<AlertsReport>()
            .WithSummary("Alerts: overdue past the set time, locked out, silent")
            .WithDescription(
                "Newest first. An alert has one life a unit, kind and rule: open, then seen, then closed; it closes by itself when its state "
                + "ends, with when and why. Narrow with ?state; page with ?limit and ?after.");
        read.MapGet("/digest", DigestAsync)
            .Produces<DigestReport>()
            .WithSummary("What changed in the last 24 hours")
            .WithDescription("Alerts that opened, alerts that closed, and those open longest.");
        routes.MapPost("/v1/alerts/{id:long}/seen", SeeAsync)
            .Audited("alert.see")
            .RequireAbility(Abilities.Work)
            .WithTags("Alerts")
            .Produces<Alert>()
            .WithSummary("Mark an alert as seen")
            .WithDescription("Who was first stays on record; marking again, or marking what has closed, changes nothing.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/alerts", PageAsync);
        pages.MapGet(Urls.Digest, DigestPageAsync);
        routes.MapPost(Urls.AlertSeenRoute, SeeByFormAsync).Audited("alert.see").RequireAbility(Abilities.Work).ExcludeFromDescription();
    }

    private static async Task<IResult> ListAsync(
        HttpContext context, AlertReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        (AlertState? state, long? after, int limit, ProblemResult? problem) = Asked(context, settings);
        if (problem is not null)
        {
            return problem;
        }

        AlertsReport report = await reports.AssembleAsync(state, after, limit, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, report.Next, Columns);
    }

    private static async Task<IResult> DigestAsync(AlertReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        TypedResults.Ok(await reports.AssembleDigestAsync(clock.GetUtcNow(), cancellationToken));

    private static async Task<IResult> SeeAsync(
        long id, HttpContext context, AlertQueries queries, TimeProvider clock, CancellationToken cancellationToken) =>
        await queries.SeeAsync(id, Reader(context), clock.GetUtcNow(), cancellationToken) is { } alert ? TypedResults.Ok(alert) : NoAlert(id);

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, AlertReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        (AlertState? state, long? after, int limit, ProblemResult? problem) = Asked(context, settings);
        if (problem is not null)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        bool mayMark = context.User.May(Abilities.Work);
        AlertsReport report = await reports.AssembleAsync(state, after, context.Request.Query.ContainsKey("limit") ? Math.Min(limit, Sorting.MostRowsOnAPage) : AlertsOnAPage, now, cancellationToken);
        return pages.Of<AlertsPage>(context, new AlertsPageReport(report, state, mayMark), now);
    }

    private static async Task<IResult> DigestPageAsync(
        HttpContext context, Pages pages, AlertReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return pages.Of<DigestPage>(context, await reports.AssembleDigestAsync(now, cancellationToken), now);
    }

    // 303: the browser goes on to the list by GET.
    private static async Task<IResult> SeeByFormAsync(
        long id, HttpContext context, IAntiforgery forms, AlertQueries queries, TimeProvider clock, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        if (await queries.SeeAsync(id, Reader(context), clock.GetUtcNow(), cancellationToken) is null)
        {
            return NoAlert(id);
        }

        context.Response.Headers.Location = Urls.Alerts();
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }

    private static (AlertState? State, long? After, int Limit, ProblemResult? Problem) Asked(HttpContext context, Settings settings)
    {
        var query = new Query(context.Request.Query);
        AlertState? state = query.Word<AlertState>("state");
        PageRequest page = new(settings.PageRows, null);
        ProblemResult? problem = query.Problem ?? Paging.Read(context.Request, settings, 1, out page);
        long after = 0;
        if (problem is null && page.After is { } cursor && !long.TryParse(cursor[0], NumberStyles.None, CultureInfo.InvariantCulture, out after))
        {
            query.Refuse("after", "cursor", "This is no cursor of this list.", "Send the cursor that the page before gave, or leave after out.");
        }

        return (state, page.After is null ? null : after, page.Limit, problem ?? query.Problem);
    }

    private static string Reader(HttpContext context) => context.User.Identity?.Name ?? "unknown";

    private static ProblemResult NoAlert(long id) => Problems.NotFound("alert", id.ToString(CultureInfo.InvariantCulture));
}
