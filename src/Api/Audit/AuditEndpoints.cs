using System.Globalization;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Audit;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Audit;

/// <summary>Addresses of the audit.</summary>
public static class AuditEndpoints
{
    private static readonly CsvColumn<AuditRow>[] Columns =
    [
        new("id", row => row.Id),
        new("at", row => row.At),
        new("caller_kind", row => row.CallerKind),
        new("caller_number", row => row.CallerNumber),
        new("caller", row => row.Caller),
        new("action", row => row.Action),
        new("method", row => row.Method),
        new("route", row => row.Route),
        new("about_kind", row => row.AboutKind),
        new("about", row => row.About),
        new("about_name", row => row.AboutName),
        new("status", row => row.Status),
        new("address", row => row.Address),
        new("trace_id", row => row.TraceId),
        new("detail", row => row.Detail),
    ];

    /// <summary>Registers the audit.</summary>
    /// <param name="services">The services.</param>
    public static void AddAudit(this IServiceCollection services)
    {
        services.AddSingleton<AuditLog>();
        services.AddSingleton<AuditQueries>();
        services.AddHostedService<AuditWorker>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapAudit(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/audit", ListAsync)
            .RequireAbility(Abilities.Administer)
            .WithTags("Audit")
            .ProducesList<PageOf<AuditRow>>()
            .WithSummary("Who did what, when and from where")
            .WithDescription(
                "Newest first: changes, decisions, sign-ins and attempts at them, commands. Records that are sent are not listed: each tells its source and "
                + "when it came. Narrow with ?from and ?to (instants, or dates in UTC), ?caller (name), ?action (such as approval.decide, or approval for all of them), "
                + "?about (code, key, number or name); page with ?limit and ?after.");
        routes.MapGet(Urls.AuditRoute, PageAsync).RequireAbility(Abilities.Administer).ExcludeFromDescription();
    }

    private static async Task<IResult> ListAsync(
        HttpContext context, AuditQueries queries, Settings settings, CancellationToken cancellationToken)
    {
        (_, PageOf<AuditRow>? page, ProblemResult? problem) = await ReadAsync(context, queries, settings, int.MaxValue, cancellationToken);
        return page is null ? problem! : Formats.List(context, page, Columns);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, AuditQueries queries, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        (AuditFilter filter, PageOf<AuditRow>? page, ProblemResult? problem) =
            await ReadAsync(context, queries, settings, Sorting.MostRowsOnAPage, cancellationToken);
        if (page is null)
        {
            return problem!;
        }

        DateTimeOffset now = clock.GetUtcNow();
        var basis = new Basis(
            now, filter.From, filter.To, AuditWords.Method,
            null, page.Items.Count, null, new Dictionary<string, int>(), []);
        string sentence = AuditWords.Sentence(filter, page.Items, page.Next is null && context.Request.Query["after"].Count == 0, "Etc/UTC");
        return pages.Of<AuditPage>(context, new AuditPageReport(basis, sentence, page.Items, page.Next, filter), now);
    }

    private static async Task<(AuditFilter Filter, PageOf<AuditRow>? Page, ProblemResult? Problem)> ReadAsync(
        HttpContext context, AuditQueries queries, Settings settings, int mostRows, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        var filter = new AuditFilter(Instant(query, "from"), Instant(query, "to"), query.Text("caller"), query.Text("action"), query.Text("about"));
        PageRequest page = new(settings.PageRows, null);
        ProblemResult? problem = query.Problem ?? Paging.Read(context.Request, settings, 1, out page);
        long before = 0;
        if (problem is null && page.After is { } cursor && !long.TryParse(cursor[0], NumberStyles.None, CultureInfo.InvariantCulture, out before))
        {
            query.Refuse("after", "cursor", "This is no cursor of this list.", "Send the cursor that the page before gave, or leave after out.");
        }

        if ((problem ?? query.Problem) is { } wrong)
        {
            return (filter, null, wrong);
        }

        page = page with { Limit = Math.Min(page.Limit, mostRows) };
        IReadOnlyList<AuditRow> rows = await queries.PageAsync(filter, page.After is null ? null : before, page.Limit + 1, cancellationToken);
        return (filter, Paging.Trim(rows, row => [row.Id.ToString(CultureInfo.InvariantCulture)], page), null);
    }

    // A date, as a form sends it, is its begin in UTC.
    private static DateTimeOffset? Instant(Query query, string name) =>
        DateOnly.TryParseExact(query.Text(name), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) && day.Year is >= 1900 and < 2200
            ? new DateTimeOffset(day, TimeOnly.MinValue, TimeSpan.Zero)
            : query.Instant(name);
}
