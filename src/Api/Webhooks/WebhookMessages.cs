using System.Security.Cryptography;
using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Alerts;

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
            foreach (Alert alert in changed.Where(alert => Asks(webhook, alert, registry)))
            {
                await OutboxQueries.AddAsync(session, webhook.Id, Of(alert, now), now, cancellationToken);
            }
        }
    }

    /// <summary>A message that tells of nothing.</summary>
    /// <param name="now">When it is made.</param>
    public static NewMessage Test(DateTimeOffset now) =>
        Make("webhook.test", null, now, new { sentence = "This is a test: no alert opened or closed." });

    private static bool Asks(WebhookRow webhook, Alert alert, RegistrySnapshot registry) =>
        (webhook.KindList is not { } kinds || kinds.Contains(alert.Kind))
        && (webhook.Operator is not { } code
            || (registry.Sites.TryGetValue(alert.Site, out SiteEntry? site)
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
