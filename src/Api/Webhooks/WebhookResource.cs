using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Webhooks;

/// <summary>A webhook as it is put.</summary>
/// <param name="Webhook">Code, 1 to 64 printable characters, compared without case.</param>
/// <param name="Url">Where to send; https, without user name and password, at most 2000 characters.</param>
/// <param name="Kinds">What to tell of: kinds of alerts, or approval; left out: everything.</param>
/// <param name="Operator">Code of the operator whose units are told of; left out: all.</param>
/// <param name="Enabled">Whether messages are made and sent; left out: yes.</param>
public sealed record WebhookResource(
    string Webhook, string Url, IReadOnlyList<WebhookKind>? Kinds = null, string? Operator = null, bool? Enabled = null);

/// <summary>What a webhook must be; no name is resolved here, that is done at each attempt.</summary>
internal static class WebhookRules
{
    private const int LongestUrl = 2000;

    /// <summary>What is wrong with a webhook.</summary>
    /// <param name="webhook">The webhook.</param>
    /// <param name="registry">The registry, for the operator.</param>
    /// <param name="internalAllowed">Whether internal addresses may be called.</param>
    public static IReadOnlyList<FieldProblem> Check(WebhookResource webhook, RegistrySnapshot registry, bool internalAllowed)
    {
        var problems = new List<FieldProblem>();
        if (!Codes.IsValid(webhook.Webhook))
        {
            problems.Add(new("webhook", "code", "This is no code.", "Use 1 to 64 printable characters without a space at either end."));
        }

        if (UrlProblem(webhook.Url, internalAllowed) is { } url)
        {
            problems.Add(url);
        }

        if (webhook.Kinds is { Count: 0 })
        {
            problems.Add(new("kinds", "empty", "A webhook for no kind tells nothing.", "Name kinds, or leave the field out for all."));
        }

        if (webhook.Operator is { } code && !registry.Operators.ContainsKey(code))
        {
            problems.Add(new("operator", "known", $"There is no operator '{code}'.", "Put the operator first, or leave the field out for all."));
        }

        return problems;
    }

    // The address may hold a token of the receiver: it is not said again.
    private static FieldProblem? UrlProblem(string text, bool internalAllowed)
    {
        if (text.Length > LongestUrl || !Uri.TryCreate(text, UriKind.Absolute, out Uri? url) || url.Host.Length == 0
            || (url.Scheme != Uri.UriSchemeHttps && url.Scheme != Uri.UriSchemeHttp))
        {
            return new("url", "url", "This is no web address.", "Write it like https://hooks.example/washwear, at most 2000 characters.");
        }

        if (url.UserInfo.Length > 0)
        {
            return new("url", "credentials", "The address holds a user name or password.", "Leave it out; messages are signed.");
        }

        if (internalAllowed)
        {
            return null;
        }

        if (url.Scheme != Uri.UriSchemeHttps)
        {
            return new("url", "https", "The address is not https.", "Use https; http goes only with the setting webhook_internal_addresses.");
        }

        bool isAddress = System.Net.IPAddress.TryParse(url.Host.Trim('[', ']'), out System.Net.IPAddress? address);
        return (isAddress && InternalAddresses.Contains(address!)) || url.IsLoopback
            ? new("url", "internal", "The address is internal.", "Use a public one, or set webhook_internal_addresses to yes.")
            : null;
    }
}
