using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Webhooks;

/// <summary>Statements over messages that a person reads or sends again.</summary>
/// <param name="database">The database.</param>
public sealed class MessageQueries(Database database)
{
    private const string Rows = """
        SELECT m.id AS Id, m.code AS Code, m.type AS Type, m.alert_id AS Alert, m.state AS State, m.made_ms AS MadeAt,
            CASE WHEN m.state = 'waiting' THEN m.due_ms END AS DueAt, m.ended_ms AS EndedAt
        FROM webhook_message m JOIN webhook w ON w.id = m.webhook_id
        WHERE w.code_key = @key
        """;

    private static readonly Sql PageSql = Sql.FirstRows(
        Rows + " AND (@state IS NULL OR m.state = @state) AND (@after IS NULL OR m.id < @after) ORDER BY m.id DESC", "@limit");

    private const string OneSql = Rows + " AND m.id = @id";

    private const string Attempts = """
        SELECT a.message_id AS MessageId, a.at_ms AS At, a.status AS Status, a.problem AS Problem, a.answer AS Answer
        FROM webhook_attempt a
        """;

    private static readonly Sql AttemptsSql = new(
        Sqlite: Attempts + " WHERE a.message_id IN (SELECT value FROM json_each(@ids)) ORDER BY a.message_id, a.id",
        SqlServer: Attempts + " WHERE a.message_id IN (SELECT CAST(value AS bigint) FROM OPENJSON(@ids)) ORDER BY a.message_id, a.id");

    private const string IdSql = "SELECT id FROM webhook WHERE code_key = @key AND enabled = 1";

    private const string AgainSql = """
        UPDATE webhook_message SET state = 'waiting', tries = 0, due_ms = @now, ended_ms = NULL
        WHERE id = @id AND webhook_id = @webhookId
        """;

    /// <summary>A page of a webhook's messages, newest first.</summary>
    /// <param name="code">Code of the webhook.</param>
    /// <param name="state">Only those in this state; null: all.</param>
    /// <param name="after">Only those with a lower number; null: from the newest.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<WebhookMessage>> PageAsync(
        string code, MessageState? state, long? after, int limit, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var values = new { key = Codes.Key(code), state = state is null ? null : Json.Name(state.Value.ToString()), after, limit };
        MessageRow[] rows = [.. await connection.QueryAsync<MessageRow>(new CommandDefinition(PageSql.For(connection), values, cancellationToken: cancellationToken))];
        var ids = new { ids = JsonSerializer.Serialize(rows.Select(row => row.Id)) };
        ILookup<long, WebhookAttempt> attempts =
            (await connection.QueryAsync<AttemptRow>(new CommandDefinition(AttemptsSql.For(connection), ids, cancellationToken: cancellationToken)))
            .ToLookup(row => row.MessageId, row => new WebhookAttempt(row.At, row.Status, row.Problem, row.Answer));
        return [.. rows.Select(row => row.Message([.. attempts[row.Id]]))];
    }

    /// <summary>Makes a message due at once, with all its attempts before it again.</summary>
    /// <param name="code">Code of the webhook.</param>
    /// <param name="id">Number of the message.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The message; null: there is none.</returns>
    public Task<WebhookMessage?> AgainAsync(string code, long id, DateTimeOffset now, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            long? webhookId = await session.Connection.ExecuteScalarAsync<long?>(session.Command(IdSql, new { key = Codes.Key(code) }, cancellationToken));
            await session.Connection.ExecuteAsync(session.Command(AgainSql, new { id, webhookId, now }, cancellationToken));
            return await ReadAsync(session, code, id, cancellationToken);
        },
        cancellationToken);

    /// <summary>Writes a test message to an enabled webhook.</summary>
    /// <param name="code">Code of the webhook.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The message; null: there is no such webhook, or it is not enabled.</returns>
    public Task<WebhookMessage?> TestAsync(string code, DateTimeOffset now, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            long? webhookId = await session.Connection.ExecuteScalarAsync<long?>(session.Command(IdSql, new { key = Codes.Key(code) }, cancellationToken));
            return webhookId is null
                ? null
                : await ReadAsync(
                    session, code, await OutboxQueries.AddAsync(session, webhookId.Value, WebhookMessages.Test(now), now, cancellationToken), cancellationToken);
        },
        cancellationToken);

    private static async Task<WebhookMessage?> ReadAsync(WriteSession session, string code, long id, CancellationToken cancellationToken)
    {
        MessageRow? row = await session.Connection.QuerySingleOrDefaultAsync<MessageRow>(
            session.Command(OneSql, new { key = Codes.Key(code), id }, cancellationToken));
        return row?.Message([
            .. (await session.Connection.QueryAsync<AttemptRow>(session.Command(AttemptsSql, new { ids = JsonSerializer.Serialize(new[] { id }) }, cancellationToken)))
                .Select(attempt => new WebhookAttempt(attempt.At, attempt.Status, attempt.Problem, attempt.Answer)),
        ]);
    }

    private sealed class AttemptRow
    {
        public long MessageId { get; init; }

        public DateTimeOffset At { get; init; }

        public int? Status { get; init; }

        public string? Problem { get; init; }

        public string? Answer { get; init; }
    }

    private sealed class MessageRow
    {
        public long Id { get; init; }

        public string Code { get; init; } = string.Empty;

        public string Type { get; init; } = string.Empty;

        public long? Alert { get; init; }

        public string State { get; init; } = string.Empty;

        public DateTimeOffset MadeAt { get; init; }

        public DateTimeOffset? DueAt { get; init; }

        public DateTimeOffset? EndedAt { get; init; }

        public WebhookMessage Message(IReadOnlyList<WebhookAttempt> attempts) => new(
            Id, Code, Type, Alert, Enum.GetValues<MessageState>().First(state => Json.Name(state.ToString()) == State), MadeAt, DueAt, EndedAt, attempts);
    }
}
