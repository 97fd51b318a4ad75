using System.Security.Cryptography;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Upkeep;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Webhooks;

/// <summary>What is told, and to whom.</summary>
internal static class WebhookMessages
{
    // Receivers need not read more than 20 kB (Standard Webhooks 1.0.0); what people wrote is cut far below it.
    private const int LongestText = 800;
    private const int CodeBytes = 16;

    /// <summary>Writes a message for each alert and each webhook that asks for it, in the transaction that changed the alerts.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="changed">Alerts that opened or closed.</param>
    /// <param name="registry">The registry, for the operator of a site.</param>
    /// <param name="now">When they changed.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public static async Task WriteAsync(
        WriteSession session, IReadOnlyList<Alert> changed, RegistrySnapshot registry, DateTimeOffset now, CancellationToken cancellationToken)
    {
        if (changed.Count == 0)
        {
            return;
        }

        foreach (WebhookRow webhook in await OutboxQueries.EnabledAsync(session, cancellationToken))
        {
            foreach (Alert alert in changed.Where(alert => Asks(webhook, KindOf(alert.Kind), alert.Site, registry)))
            {
                await OutboxQueries.AddAsync(session, webhook.Id, Of(alert, now), now, cancellationToken);
            }
        }
    }

    /// <summary>A message that tells of nothing.</summary>
    /// <param name="now">When it is made.</param>
    public static NewMessage Test(DateTimeOffset now) =>
        Make("webhook.test", null, now, new { sentence = "This is a test: no alert opened or closed." });

    /// <summary>Writes a message for each approval and each webhook that asks for it, in the transaction that took the approvals in.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="news">The approvals that are news.</param>
    /// <param name="registry">The registry.</param>
    /// <param name="now">When they were taken in.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public static async Task WriteAsync(
        WriteSession session, IReadOnlyList<ApprovalNews> news, RegistrySnapshot registry, DateTimeOffset now, CancellationToken cancellationToken)
    {
        if (news.Count == 0)
        {
            return;
        }

        foreach (WebhookRow webhook in await OutboxQueries.EnabledAsync(session, cancellationToken))
        {
            foreach (ApprovalNews one in news.Where(one => Asks(webhook, WebhookKind.Approval, one.Site, registry)))
            {
                ApprovalNews told = one.With(Cut);
                NewMessage message = Make(one.Decision is null ? "approval.asked" : "approval.decided", null, now, told);
                await OutboxQueries.AddAsync(session, webhook.Id, message, now, cancellationToken);
            }
        }
    }

    /// <summary>Writes a message for each webhook that asks how the installation is kept, in the transaction that notes how a task went.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="row">The task that failed, or goes well again.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public static async Task WriteAsync(WriteSession session, UpkeepRow row, DateTimeOffset now, CancellationToken cancellationToken)
    {
        foreach (WebhookRow webhook in await OutboxQueries.EnabledAsync(session, cancellationToken))
        {
            if (webhook.Operator is null && (webhook.KindList?.Contains(WebhookKind.Upkeep) ?? true))
            {
                NewMessage message = Make(
                    row.LastSucceeded == true ? "upkeep.recovered" : "upkeep.failed", null, now, row with { Sentence = Cut(row.Sentence) });
                await OutboxQueries.AddAsync(session, webhook.Id, message, now, cancellationToken);
            }
        }
    }

    private static WebhookKind KindOf(AlertKind kind) => kind switch
    {
        AlertKind.Overdue => WebhookKind.Overdue,
        AlertKind.LockedOut => WebhookKind.LockedOut,
        AlertKind.Silent => WebhookKind.Silent,
        AlertKind.EarlySign => WebhookKind.EarlySign,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of alert."),
    };

    private static bool Asks(WebhookRow webhook, WebhookKind kind, string siteCode, RegistrySnapshot registry) =>
        (webhook.KindList is not { } kinds || kinds.Contains(kind))
        && (webhook.Operator is not { } code
            || (registry.Sites.TryGetValue(siteCode, out SiteEntry? site)
                && string.Equals(site.Operator.Resource.Operator, code, StringComparison.OrdinalIgnoreCase)));

    private static NewMessage Of(Alert alert, DateTimeOffset now)
    {
        Alert told = alert with { SiteName = Cut(alert.SiteName), Sentence = Cut(alert.Sentence), ClosedBecause = alert.ClosedBecause is { } why ? Cut(why) : null };
        return Make(alert.ClosedAt is null ? "alert.opened" : "alert.closed", alert.Id, now, told);
    }

    private static NewMessage Make(string type, long? alert, DateTimeOffset now, object data) => new(
        "msg_" + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(CodeBytes)),
        type,
        alert,
        JsonSerializer.Serialize(new { type, timestamp = now, data }, Json.Options));

    private static string Cut(string text) => text.Length <= LongestText ? text : text[..(LongestText - (char.IsHighSurrogate(text[LongestText - 2]) ? 2 : 1))] + "…";
}
