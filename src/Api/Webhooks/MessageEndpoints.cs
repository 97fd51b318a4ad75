using System.Globalization;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Webhooks;

/// <summary>Addresses of the messages of a webhook.</summary>
internal static class MessageEndpoints
{
    private static readonly CsvColumn<WebhookMessage>[] Columns =
    [
        new("id", row => row.Id),
        new("webhook_id", row => row.WebhookId),
        new("type", row => row.Type),
        new("alert", row => row.Alert),
        new("state", row => row.State),
        new("made_at", row => row.MadeAt),
        new("due_at", row => row.DueAt),
        new("ended_at", row => row.EndedAt),
        new("attempts", row => row.Attempts.Count),
        new("last_status", row => row.Attempts.Count == 0 ? null : row.Attempts[^1].Status),
        new("last_problem", row => row.Attempts.Count == 0 ? null : row.Attempts[^1].Problem),
    ];

    /// <summary>Maps the routes.</summary>
    /// <param name="manage">The group of webhooks.</param>
    public static void Map(RouteGroupBuilder manage)
    {
        manage.MapGet("/{webhook}/messages", ListAsync)
            .ProducesList<PageOf<WebhookMessage>>()
            .WithSummary("Messages of a webhook, with what was tried")
            .WithDescription(
                "Newest first. Narrow with ?state: waiting, sent, or dead (given up after ten attempts over some three days, or answered with 410); "
                + "page with ?limit and ?after. Sent messages are forgotten after webhook_keep_days; the others stay.");
        manage.MapPost("/{webhook}/messages/{id:long}/resend", ResendAsync)
            .Audited("webhook.resend")
            .Produces<WebhookMessage>()
            .WithSummary("Send a message again")
            .WithDescription("Whatever its state, it becomes due at once, with the same webhook-id and body and all ten attempts before it.");
        manage.MapPost("/{webhook}/test", TestAsync)
            .Audited("webhook.test")
            .Produces<WebhookMessage>()
            .WithSummary("Send a test message")
            .WithDescription("Of type webhook.test; its way shows in the list of messages.");
    }

    private static async Task<IResult> ListAsync(
        string webhook,
        HttpContext context,
        WebhookQueries webhooks,
        MessageQueries queries,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        MessageState? state = query.Word<MessageState>("state");
        PageRequest page = new(settings.PageRows, null);
        ProblemResult? problem = query.Problem ?? Paging.Read(context.Request, settings, 1, out page);
        long after = 0;
        if (problem is null && page.After is { } cursor && !long.TryParse(cursor[0], NumberStyles.None, CultureInfo.InvariantCulture, out after))
        {
            query.Refuse("after", "cursor", "This is no cursor of this list.", "Send the cursor that the page before gave, or leave after out.");
        }

        if ((problem ?? query.Problem) is { } wrong)
        {
            return wrong;
        }

        if (await webhooks.OneAsync(webhook, clock.GetUtcNow(), cancellationToken) is null)
        {
            return WebhookEndpoints.NoWebhook(webhook);
        }

        IReadOnlyList<WebhookMessage> rows =
            await queries.PageAsync(webhook, state, page.After is null ? null : after, page.Limit + 1, cancellationToken);
        return Formats.List(context, Paging.Trim(rows, row => [row.Id.ToString(CultureInfo.InvariantCulture)], page), Columns);
    }

    private static async Task<IResult> ResendAsync(
        string webhook, long id, WebhookQueries webhooks, MessageQueries queries, TimeProvider clock, CancellationToken cancellationToken) =>
        await RefusedAsync(webhook, webhooks, clock, cancellationToken) is { } refused ? refused
            : await queries.AgainAsync(webhook, id, clock.GetUtcNow(), cancellationToken) is { } message ? TypedResults.Ok(message)
            : Problems.NotFound("message", id.ToString(CultureInfo.InvariantCulture));

    private static async Task<IResult> TestAsync(
        string webhook, WebhookQueries webhooks, MessageQueries queries, TimeProvider clock, CancellationToken cancellationToken) =>
        await RefusedAsync(webhook, webhooks, clock, cancellationToken) is { } refused ? refused
            : await queries.TestAsync(webhook, clock.GetUtcNow(), cancellationToken) is { } message ? TypedResults.Ok(message)
            : NotEnabled();

    private static async Task<ProblemResult?> RefusedAsync(
        string code, WebhookQueries webhooks, TimeProvider clock, CancellationToken cancellationToken) =>
        await webhooks.OneAsync(code, clock.GetUtcNow(), cancellationToken) switch
        {
            null => WebhookEndpoints.NoWebhook(code),
            { Enabled: false } => NotEnabled(),
            _ => null,
        };

    private static ProblemResult NotEnabled() =>
        Problems.Status(StatusCodes.Status409Conflict, "The webhook is not enabled, so nothing is sent. Put it with enabled true first.");
}
