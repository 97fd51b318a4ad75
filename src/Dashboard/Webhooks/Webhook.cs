using System.Text.Json.Serialization;

namespace Washwear.Dashboard.Webhooks;

/// <summary>What a receiver can ask to be told of.</summary>
public enum WebhookKind
{
    /// <summary>Alerts: a unit is past the deadline for longer than the set time.</summary>
    Overdue,

    /// <summary>Alerts: a unit cannot wash.</summary>
    LockedOut,

    /// <summary>Alerts: nothing is heard from a unit.</summary>
    Silent,

    /// <summary>Alerts: a unit's washes are getting worse.</summary>
    EarlySign,

    /// <summary>Approvals that are asked for or decided.</summary>
    Approval,

    /// <summary>Whether the installation keeps itself well: a backup, a restore drill or pruning that failed, and when it goes well again. Told to webhooks of all operators only.</summary>
    Upkeep,
}

/// <summary>Where a message is on its way.</summary>
public enum MessageState
{
    /// <summary>An attempt is due, now or later.</summary>
    Waiting,

    /// <summary>The receiver took it.</summary>
    Sent,

    /// <summary>Given up; it can be sent again by hand.</summary>
    Dead,
}

/// <summary>A receiver that is told of alerts and approvals.</summary>
/// <param name="Code">Code of the webhook.</param>
/// <param name="Url">Where messages are sent.</param>
/// <param name="Kinds">What it is told of; null: everything.</param>
/// <param name="Operator">Code of the operator whose units are told of; null: all units.</param>
/// <param name="Enabled">Whether messages are made and sent.</param>
/// <param name="DisabledBecause">Why the program disabled it; null: it did not.</param>
/// <param name="MadeAt">When it was put first.</param>
/// <param name="OldSecretUntil">Until when the secret before the last change signs as well; null: none does.</param>
/// <param name="Waiting">How many messages wait.</param>
/// <param name="Dead">How many messages were given up.</param>
/// <param name="Secret">What signs, shown only in the answer that makes it; left out otherwise.</param>
public sealed record Webhook(
    [property: JsonPropertyName("webhook")] string Code,
    string Url,
    IReadOnlyList<WebhookKind>? Kinds,
    string? Operator,
    bool Enabled,
    string? DisabledBecause,
    DateTimeOffset MadeAt,
    DateTimeOffset? OldSecretUntil,
    int Waiting,
    int Dead,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Secret = null);

/// <summary>One message to a receiver.</summary>
/// <param name="Id">Number of the message.</param>
/// <param name="WebhookId">What the header webhook-id says, the same in every attempt.</param>
/// <param name="Type">alert.opened, alert.closed, approval.asked, approval.decided or webhook.test.</param>
/// <param name="Alert">Number of the alert; null: it tells of none.</param>
/// <param name="State">Where it is on its way.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="DueAt">When the next attempt is due; null: none is.</param>
/// <param name="EndedAt">When it was sent or given up; null: it waits.</param>
/// <param name="Attempts">What was tried, in order.</param>
public sealed record WebhookMessage(
    long Id,
    string WebhookId,
    string Type,
    long? Alert,
    MessageState State,
    DateTimeOffset MadeAt,
    DateTimeOffset? DueAt,
    DateTimeOffset? EndedAt,
    IReadOnlyList<WebhookAttempt> Attempts);

/// <summary>One attempt to send a message.</summary>
/// <param name="At">When.</param>
/// <param name="Status">HTTP status of the answer; null: there was none.</param>
/// <param name="Problem">Why it failed; null: it was taken.</param>
/// <param name="Answer">First kilobyte of the answer; null: there was none.</param>
public sealed record WebhookAttempt(DateTimeOffset At, int? Status, string? Problem, string? Answer);
