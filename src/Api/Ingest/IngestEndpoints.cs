using System.Globalization;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.OpenApi;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Ledger;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;

namespace Washwear.Api.Ingest;

/// <summary>Addresses of records: the one way in, what was taken in, what was refused.</summary>
public static class IngestEndpoints
{
    private const string Route = "/records";
    private const int LongestSource = 64;

    /// <summary>Registers ingest.</summary>
    /// <param name="services">The services.</param>
    public static void AddIngest(this IServiceCollection services)
    {
        services.AddSingleton<IngestService>();
        services.AddSingleton<RequestKeyQueries>();
        services.AddSingleton<KeyedRequests>();
        services.AddHostedService<RequestKeyWorker>();
        services.AddPerScope<LedgerQueries>();
        services.AddSingleton<IRegistryWatcher, ProjectionWatcher>();
        services.Configure<OpenApiOptions>(Contract.Name, options => options.AddOperationTransformer(RecordContract.DescribeAsync));
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapIngest(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder ingest = routes.MapGroup("/v1").RequireAbility(Abilities.Ingest).WithTags("Records");
        ingest.MapPost(Route, TakeInAsync)
            .NotAudited("Each record tells its source and when it came; that is the ledger's own account, and nothing is changed but by adding to it.")
            .WithMetadata(new AcceptsMetadata([.. RecordsBody.FormatByMediaType.Keys], typeof(object), isOptional: false))
            .Produces<IngestAnswer>()
            .WithSummary("Send records")
            .WithDescription(
                "One JSON object, an array, NDJSON, or CSV of one type (?type=wash; nested fields dotted, such as removed.reason; lists as "
                + "JSON in their cell), or CloudEvents 1.0 in structured, batched or binary mode, whose data is the record and whose id, source, type "
                + "and time stand in for its key, source, type (last segment, as in com.example.wash) and at. Content-Encoding may be gzip or br. Types: wash, fault, fault_cleared, part_change, meter, heartbeat, visit, approval, condition, void. A "
                + "visit that was asked for, and later made, is sent again under a new key with replaces; so is an approval. Safe to send again: the same source and key with the same content "
                + "is a duplicate, with another content it is refused. Each row has its own outcome; refused rows are kept and can be listed. "
                + "?source names the sender (else the key's name), ?rows=all lists every row, ?all_or_nothing=true takes all rows or none.");
        ingest.MapPost(Route + "/refused/{id:long}/discard", DiscardAsync)
            .Audited("refused.discard")
            .Produces(StatusCodes.Status204NoContent)
            .WithSummary("Discard a refused row")
            .WithDescription("A refused row also goes by itself when a record of its source and key is taken in.");
        RouteGroupBuilder read = routes.MapGroup("/v1").RequireAbility(Abilities.Read).WithTags("Records");
        read.MapGet(Route, ListAsync)
            .ProducesList<PageOf<TakenRecord>>()
            .WithSummary("What was taken in")
            .WithDescription("In the order of acceptance. Narrow with ?unit, ?type; page with ?limit and ?after.");
        read.MapGet(Route + "/refused", ListRefusedAsync)
            .ProducesList<PageOf<RefusedRecord>>()
            .WithSummary("What was refused and not yet mended")
            .WithDescription("Each row as it came, with the field, the rule and how to mend it. Narrow with ?source; page with ?limit and ?after.");
    }

    private static async Task<IResult> TakeInAsync(
        HttpContext context, IngestService service, KeyedRequests keyed, Settings settings, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        string? type = query.OneOf("type", RecordFields.Types);
        string? named = query.Text("source");
        string source = named ?? context.User.Identity?.Name ?? "unknown";
        bool allRows = query.OneOf("rows", ["all", "problems"]) == "all";
        bool allOrNothing = query.OneOf("all_or_nothing", ["true", "false"]) == "true";
        if (source.Length > LongestSource || source.Any(char.IsControl))
        {
            query.Refuse("source", "length", "A source has 1 to 64 printable characters.", "Name the sender more shortly.");
        }

        if (query.Problem is { } problem)
        {
            return problem;
        }

        if (RequestKey.Read(context.Request.Headers[RequestKey.Header], Authentication.KeyIdOf(context.User), out string? key) is { } badKey)
        {
            return badKey;
        }

        KeyedRequest? request = key is null ? null : KeyedRequest.Of(context, key, settings.IdempotencyKeyLasts);
        if (RecordsBody.Open(context, settings.ExpandedLimitBytes, out problem) is not { } body)
        {
            return problem!;
        }

        var reader = new BodyReader(body.Format, type, source, settings.RowLimitBytes) { SourceIsNamed = named is not null, Event = body.Event };
        Task<IngestAnswer> TakeInAsync() => service.TakeInAsync(
            reader.ReadAsync(body.Content, cancellationToken),
            new IngestOptions(allRows, allOrNothing, RefuseWhenFull: true, Bounds: SenderBounds.Of(context.User)),
            cancellationToken,
            request);
        try
        {
            return request is null
                ? TypedResults.Ok(await TakeInAsync())
                : await keyed.AnswerAsync(context, request, service.RetryAfterSeconds, TakeInAsync, cancellationToken);
        }
        catch (UnreadableBodyException unreadable)
        {
            return Problems.Invalid("body", unreadable.Rule, unreadable.Message, unreadable.Mend);
        }
        catch (IngestFullException)
        {
            return TooMuchWaits(context, service.RetryAfterSeconds);
        }
    }

    private static ProblemResult TooMuchWaits(HttpContext context, int seconds)
    {
        context.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        return Problems.Status(
            StatusCodes.Status429TooManyRequests,
            "More is being sent than can be written. Nothing of this request was taken in; wait as long as Retry-After says and send it again.");
    }

    private static async Task<IResult> ListAsync(
        HttpContext context, LedgerQueries ledger, RegistryCache registry, Settings settings, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        string? type = query.OneOf("type", RecordFields.Types);
        if ((ReadPage(context, settings, out PageRequest page) ?? query.Problem) is { } problem)
        {
            return problem;
        }

        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        UnitEntry? unit = null;
        if (query.Text("unit") is { } code && !snapshot.Units.TryGetValue(code, out unit))
        {
            return Problems.NotFound("unit", code);
        }

        return Formats.List(context, await ledger.TakenAsync(snapshot, unit, type, page, cancellationToken), IngestColumns.Taken);
    }

    private static async Task<IResult> ListRefusedAsync(
        HttpContext context, LedgerQueries ledger, Settings settings, CancellationToken cancellationToken)
    {
        string? source = new Query(context.Request.Query).Text("source");
        return ReadPage(context, settings, out PageRequest page) is { } problem
            ? problem
            : Formats.List(context, await ledger.RefusedAsync(source, page, cancellationToken), IngestColumns.Refused);
    }

    private static async Task<IResult> DiscardAsync(long id, LedgerQueries ledger, CancellationToken cancellationToken) =>
        await ledger.DiscardAsync(id, cancellationToken)
            ? TypedResults.NoContent()
            : Problems.NotFound("refused row", id.ToString(CultureInfo.InvariantCulture));

    private static ProblemResult? ReadPage(HttpContext context, Settings settings, out PageRequest page) =>
        Paging.Read(context.Request, settings, 1, out page)
        ?? (page.After is { } after && !long.TryParse(after[0], NumberStyles.None, CultureInfo.InvariantCulture, out _)
            ? Problems.Invalid(
                "after", "cursor", "This is no cursor of this list.", "Send the cursor that the page before gave, or leave after out.")
            : null);
}
