using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Webhooks;

/// <summary>Addresses of webhooks.</summary>
public static class WebhookEndpoints
{
    private static readonly CsvColumn<Webhook>[] Columns =
    [
        new("webhook", row => row.Code),
        new("url", row => row.Url),
        new("kinds", row => row.Kinds is null ? null : string.Join(' ', row.Kinds.Select(kind => Json.Name(kind.ToString())))),
        new("operator", row => row.Operator),
        new("enabled", row => row.Enabled),
        new("disabled_because", row => row.DisabledBecause),
        new("made_at", row => row.MadeAt),
        new("old_secret_until", row => row.OldSecretUntil),
        new("waiting", row => row.Waiting),
        new("dead", row => row.Dead),
    ];

    /// <summary>Registers webhooks and the worker that sends their messages.</summary>
    /// <param name="services">The services.</param>
    public static void AddWebhooks(this IServiceCollection services)
    {
        services.AddSingleton<WebhookQueries>();
        services.AddSingleton<MessageQueries>();
        services.AddSingleton<OutboxQueries>();
        services.AddSingleton<WebhookClient>();
        services.AddSingleton<WebhookSender>();
        services.AddHostedService<WebhookWorker>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapWebhooks(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder manage = routes.MapGroup("/v1/webhooks").RequireAbility(Abilities.Manage).WithTags("Webhooks");
        manage.MapGet(string.Empty, ListAsync)
            .ProducesList<PageOf<Webhook>>()
            .WithSummary("List webhooks")
            .WithDescription("In the order of their codes, with how many messages wait and how many were given up. Secrets are never listed.");
        manage.MapGet("/{webhook}", GetAsync)
            .Produces<Webhook>()
            .WithSummary("One webhook")
            .WithDescription("Without its secret.");
        manage.MapPut("/{webhook}", PutAsync)
            .Audited("webhook.put")
            .Accepts<WebhookResource>("application/json")
            .Produces<Webhook>()
            .Produces<Webhook>(StatusCodes.Status201Created)
            .WithSummary("Put one webhook")
            .WithDescription(
                "Creates the webhook (201) and shows its secret this once, or replaces what is said of it (200) and keeps its secret. From then on a "
                + "message is sent for each alert that opens or closes (alert.opened, alert.closed) and each approval that is asked for or decided "
                + "(approval.asked, approval.decided), at least once, signed as Standard Webhooks 1.0.0 has it. kinds narrows that down.");
        manage.MapDelete("/{webhook}", DeleteAsync)
            .Audited("webhook.delete")
            .Produces(StatusCodes.Status204NoContent)
            .WithSummary("Delete a webhook")
            .WithDescription("With all its messages, those that wait included.");
        manage.MapPost("/{webhook}/secret", RotateAsync)
            .Audited("webhook.make_secret")
            .Produces<Webhook>()
            .WithSummary("Make a new secret")
            .WithDescription("Shown this once. For 24 hours messages carry a signature by the secret before as well; the one before that ends at once.");
        MessageEndpoints.Map(manage);
    }

    /// <summary>The answer where a webhook is not there.</summary>
    /// <param name="code">The code asked for.</param>
    internal static ProblemResult NoWebhook(string code) => Problems.NotFound("webhook", code);

    private static async Task<IResult> ListAsync(
        HttpContext context, WebhookQueries queries, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        IReadOnlyList<Webhook> rows = await queries.PageAsync(page.After?[0], page.Limit + 1, clock.GetUtcNow(), cancellationToken);
        return Formats.List(context, Paging.Trim(rows, row => [Codes.Key(row.Code)], page), Columns);
    }

    private static async Task<IResult> GetAsync(string webhook, WebhookQueries queries, TimeProvider clock, CancellationToken cancellationToken) =>
        await queries.OneAsync(webhook, clock.GetUtcNow(), cancellationToken) is { } found ? TypedResults.Ok(found) : NoWebhook(webhook);

    private static async Task<IResult> PutAsync(
        string webhook,
        HttpContext context,
        WebhookQueries queries,
        RegistryCache cache,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        (WebhookResource? resource, ProblemResult? unreadable) =
            await JsonBody.ReadAsync<WebhookResource>(context.Request, ("webhook", webhook), cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        if (Codes.Key(resource.Webhook) != Codes.Key(webhook))
        {
            return Problems.Invalid(
                "webhook",
                "same_as_address",
                $"The body says '{resource.Webhook}', the address says '{webhook}'.",
                "Make them the same, or leave the field out of the body.");
        }

        IReadOnlyList<FieldProblem> problems =
            WebhookRules.Check(resource, await cache.CurrentAsync(cancellationToken), settings.WebhookInternalAddresses);
        if (problems.Count > 0)
        {
            return Problems.Invalid(problems);
        }

        Webhook put = await queries.PutAsync(resource, clock.GetUtcNow(), cancellationToken);
        context.Response.Headers.CacheControl = "no-store";
        return put.Secret is null ? TypedResults.Ok(put) : TypedResults.Created($"/v1/webhooks/{Uri.EscapeDataString(put.Code)}", put);
    }

    private static async Task<IResult> DeleteAsync(string webhook, WebhookQueries queries, CancellationToken cancellationToken) =>
        await queries.DeleteAsync(webhook, cancellationToken) ? TypedResults.NoContent() : NoWebhook(webhook);

    private static async Task<IResult> RotateAsync(
        string webhook, HttpContext context, WebhookQueries queries, TimeProvider clock, CancellationToken cancellationToken)
    {
        context.Response.Headers.CacheControl = "no-store";
        return await queries.RotateAsync(webhook, clock.GetUtcNow(), cancellationToken) is { } rotated ? TypedResults.Ok(rotated) : NoWebhook(webhook);
    }
}
