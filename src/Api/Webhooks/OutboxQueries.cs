using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Webhooks;

/// <summary>Statements of the outbox: messages written, taken for an attempt, and what came of it.</summary>
/// <param name="database">The database.</param>
public sealed class OutboxQueries(Database database)
{
    private const string EnabledSql = """
        SELECT w.id AS Id, w.code AS Code, w.kinds AS Kinds, w.operator AS Operator FROM webhook w WHERE w.enabled = 1 ORDER BY w.id
        """;

    private const string AddSql = """
        INSERT INTO webhook_message (webhook_id, code, type, alert_id, body, state, tries, made_ms, due_ms)
        VALUES (@webhookId, @code, @type, @alert, @body, 'waiting', 0, @now, @now);
        SELECT m.id FROM webhook_message m WHERE m.code = @code;
        """;

    // A few of each webhook, so that a receiver with a long queue does not keep the others waiting.
    private const string DueSql = """
        SELECT d.id AS Id, d.webhook_id AS WebhookId FROM (
            SELECT m.id, m.webhook_id, row_number() OVER (PARTITION BY m.webhook_id ORDER BY m.due_ms, m.id) AS place
            FROM webhook_message m JOIN webhook w ON w.id = m.webhook_id AND w.enabled = 1
            WHERE m.state = 'waiting' AND m.due_ms <= @now) d
        WHERE d.place <= @most ORDER BY d.webhook_id, d.place
        """;

    // Until the lease ends nobody else takes it; if the program dies meanwhile, the attempt is made again.
    private const string LeaseSql = """
        UPDATE webhook_message SET due_ms = @until WHERE id = @id AND state = 'waiting' AND due_ms <= @now
            AND EXISTS (SELECT 1 FROM webhook w WHERE w.id = webhook_message.webhook_id AND w.enabled = 1)
        """;

    private const string TakenSql = """
        SELECT m.id AS Id, m.code AS Code, m.body AS Body, m.tries AS Tries, m.due_ms AS LeaseMs, w.url AS Url, w.secret AS Secret,
            CASE WHEN w.old_until_ms > @now THEN w.old_secret END AS OldSecret
        FROM webhook_message m JOIN webhook w ON w.id = m.webhook_id WHERE m.id = @id
        """;

    private const string AttemptSql = """
        INSERT INTO webhook_attempt (message_id, at_ms, status, problem, answer)
        SELECT m.id, @at, @status, @problem, @answer FROM webhook_message m WHERE m.id = @id
        """;

    // Somebody who asked for it again in the meantime has given it another due instant, and gets it again.
    private const string OutcomeSql = """
        UPDATE webhook_message SET state = @state, tries = @tries, due_ms = @due, ended_ms = @ended
        WHERE id = @id AND state = 'waiting' AND due_ms = @lease
        """;

    // What waits for a receiver that is gone would be old when it comes back.
    private const string DisableSql = """
        UPDATE webhook SET enabled = 0, disabled_because = @because WHERE id = (SELECT webhook_id FROM webhook_message WHERE id = @id);
        UPDATE webhook_message SET state = 'dead', ended_ms = @ended
        WHERE state = 'waiting' AND webhook_id = (SELECT webhook_id FROM webhook_message WHERE id = @id);
        """;

    private const string ForgetSql = """
        DELETE FROM webhook_message WHERE state = 'sent' AND ended_ms < @before;
        UPDATE webhook SET old_secret = NULL, old_until_ms = NULL WHERE old_until_ms <= @now;
        """;

    /// <summary>Webhooks that are enabled, without secrets and counts.</summary>
    internal static async Task<IReadOnlyList<WebhookRow>> EnabledAsync(WriteSession session, CancellationToken cancellationToken) =>
        [.. await session.Connection.QueryAsync<WebhookRow>(session.Command(EnabledSql, null, cancellationToken))];

    /// <summary>Writes a message that is due at once.</summary>
    internal static Task<long> AddAsync(WriteSession session, long webhookId, NewMessage message, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<long>(session.Command(
            AddSql, new { webhookId, code = message.Code, type = message.Type, alert = message.Alert, body = message.Body, now }, cancellationToken));

    /// <summary>Messages that are due, those of a webhook together and in order.</summary>
    internal async Task<IReadOnlyList<DueMessage>> DueAsync(DateTimeOffset now, int most, CancellationToken cancellationToken)
    {
        await using System.Data.Common.DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. await connection.QueryAsync<DueMessage>(new CommandDefinition(DueSql, new { now, most }, cancellationToken: cancellationToken))];
    }

    /// <summary>Takes a message for one attempt; null: it is no longer due.</summary>
    internal Task<TakenMessage?> TakeAsync(long id, DateTimeOffset now, TimeSpan lease, CancellationToken cancellationToken) => database.WriteAsync(
        async session => await session.Connection.ExecuteAsync(session.Command(LeaseSql, new { id, now, until = now + lease }, cancellationToken)) == 0
            ? null
            : await session.Connection.QuerySingleAsync<TakenMessage>(session.Command(TakenSql, new { id, now }, cancellationToken)),
        cancellationToken);

    /// <summary>Stores an attempt and what follows from it.</summary>
    internal Task RecordAsync(TakenMessage message, AttemptOutcome outcome, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            long id = message.Id;
            var attempt = new { id, at = outcome.At, status = outcome.Status, problem = outcome.Problem, answer = outcome.Answer };
            await session.Connection.ExecuteAsync(session.Command(AttemptSql, attempt, cancellationToken));
            var next = new { id, state = outcome.State, tries = outcome.Tries, due = outcome.DueAt, ended = outcome.EndedAt, lease = message.LeaseMs };
            await session.Connection.ExecuteAsync(session.Command(OutcomeSql, next, cancellationToken));
            if (outcome.DisabledBecause is { } because)
            {
                await session.Connection.ExecuteAsync(session.Command(DisableSql, new { id, because, ended = outcome.EndedAt }, cancellationToken));
            }
        },
        cancellationToken);

    /// <summary>Deletes messages that were sent before an instant, and old secrets that sign no more.</summary>
    internal Task ForgetAsync(DateTimeOffset before, DateTimeOffset now, CancellationToken cancellationToken) => database.WriteAsync(
        session => session.Connection.ExecuteAsync(session.Command(ForgetSql, new { before, now }, cancellationToken)), cancellationToken);
}

/// <summary>A message to be written.</summary>
/// <param name="Code">The header webhook-id.</param>
/// <param name="Type">What it tells of.</param>
/// <param name="Alert">Number of the alert; null: none.</param>
/// <param name="Body">What is sent.</param>
internal sealed record NewMessage(string Code, string Type, long? Alert, string Body);

/// <summary>A message that is due.</summary>
internal sealed class DueMessage
{
    public long Id { get; init; }

    public long WebhookId { get; init; }
}

/// <summary>All that one attempt needs.</summary>
internal sealed class TakenMessage
{
    public long Id { get; init; }

    public string Code { get; init; } = string.Empty;

    public string Body { get; init; } = string.Empty;

    public int Tries { get; init; }

    /// <summary>Until when nobody else takes it, milliseconds UTC.</summary>
    public long LeaseMs { get; init; }

    public string Url { get; init; } = string.Empty;

    public string Secret { get; init; } = string.Empty;

    public string? OldSecret { get; init; }
}

/// <summary>An attempt and what follows from it.</summary>
internal sealed record AttemptOutcome(
    DateTimeOffset At, int? Status, string? Problem, string? Answer, string State, int Tries, DateTimeOffset DueAt, DateTimeOffset? EndedAt, string? DisabledBecause);
