using System.Data.Common;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Webhooks;

namespace Washwear.Api.Webhooks;

/// <summary>Statements over webhooks; none that reads for an answer reads a secret.</summary>
/// <param name="database">The database.</param>
public sealed class WebhookQueries(Database database)
{
    private static readonly TimeSpan OldSecretHolds = TimeSpan.FromHours(24);

    private const string Rows = """
        SELECT w.id AS Id, w.code AS Code, w.url AS Url, w.kinds AS Kinds, w.operator AS Operator, w.enabled AS Enabled,
            w.disabled_because AS DisabledBecause, w.made_ms AS MadeAt, CASE WHEN w.old_until_ms > @now THEN w.old_until_ms END AS OldSecretUntil,
            (SELECT count(*) FROM webhook_message m WHERE m.webhook_id = w.id AND m.state = 'waiting') AS Waiting,
            (SELECT count(*) FROM webhook_message m WHERE m.webhook_id = w.id AND m.state = 'dead') AS Dead
        FROM webhook w
        """;

    private const string OneSql = Rows + " WHERE w.code_key = @key";
    private static readonly Sql PageSql = Sql.FirstRows(Rows + " WHERE @after IS NULL OR w.code_key > @after ORDER BY w.code_key", "@limit");

    private const string KnownSql = "SELECT w.code_key FROM webhook w WHERE w.code_key = @key";

    private const string InsertSql = """
        INSERT INTO webhook (code, code_key, url, kinds, operator, enabled, secret, made_ms)
        VALUES (@code, @key, @url, @kinds, @operator, @enabled, @secret, @now)
        """;

    private const string UpdateSql = """
        UPDATE webhook SET code = @code, url = @url, kinds = @kinds, operator = @operator, enabled = @enabled,
            disabled_because = CASE WHEN @enabled = 1 THEN NULL ELSE disabled_because END
        WHERE code_key = @key
        """;

    private const string RotateSql = """
        UPDATE webhook SET old_secret = secret, old_until_ms = @until, secret = @secret WHERE code_key = @key
        """;

    private const string DeleteSql = "DELETE FROM webhook WHERE code_key = @key";

    /// <summary>A page of webhooks by code.</summary>
    /// <param name="after">Only those with a later code in lower case; null: from the first.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<Webhook>> PageAsync(string? after, int limit, DateTimeOffset now, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. (await connection.QueryAsync<WebhookRow>(new CommandDefinition(PageSql.For(connection), new { after, limit, now }, cancellationToken: cancellationToken)))
            .Select(row => row.Webhook())];
    }

    /// <summary>One webhook; null: there is none.</summary>
    /// <param name="code">Its code.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<Webhook?> OneAsync(string code, DateTimeOffset now, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QuerySingleOrDefaultAsync<WebhookRow>(
            new CommandDefinition(OneSql, new { key = Codes.Key(code), now }, cancellationToken: cancellationToken)))?.Webhook();
    }

    /// <summary>Creates a webhook, or replaces what is said of it; its secret stays.</summary>
    /// <param name="webhook">The webhook.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The webhook, with its secret if it was created.</returns>
    public Task<Webhook> PutAsync(WebhookResource webhook, DateTimeOffset now, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            string key = Codes.Key(webhook.Webhook);
            bool isNew = await session.Connection.ExecuteScalarAsync<string?>(session.Command(KnownSql, new { key }, cancellationToken)) is null;
            string? secret = isNew ? WebhookSignature.CreateSecret() : null;
            var values = new
            {
                code = webhook.Webhook,
                key,
                url = webhook.Url,
                kinds = webhook.Kinds is null ? null : string.Join(',', webhook.Kinds.Distinct().Order().Select(kind => Json.Name(kind.ToString()))),
                @operator = webhook.Operator,
                enabled = webhook.Enabled ?? true,
                secret,
                now,
            };
            await session.Connection.ExecuteAsync(session.Command(isNew ? InsertSql : UpdateSql, values, cancellationToken));
            return (await ReadAsync(session, key, now, cancellationToken))! with { Secret = secret };
        },
        cancellationToken);

    /// <summary>Makes a new secret; the one before signs as well for 24 hours.</summary>
    /// <param name="code">Code of the webhook.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The webhook with its new secret; null: there is none.</returns>
    public Task<Webhook?> RotateAsync(string code, DateTimeOffset now, CancellationToken cancellationToken) => database.WriteAsync(
        async session =>
        {
            string key = Codes.Key(code);
            string secret = WebhookSignature.CreateSecret();
            await session.Connection.ExecuteAsync(session.Command(RotateSql, new { key, secret, until = now + OldSecretHolds }, cancellationToken));
            Webhook? webhook = await ReadAsync(session, key, now, cancellationToken);
            return webhook is null ? null : webhook with { Secret = secret };
        },
        cancellationToken);

    /// <summary>Deletes a webhook with its messages.</summary>
    /// <param name="code">Its code.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Whether there was one.</returns>
    public Task<bool> DeleteAsync(string code, CancellationToken cancellationToken) => database.WriteAsync(
        async session => await session.Connection.ExecuteAsync(session.Command(DeleteSql, new { key = Codes.Key(code) }, cancellationToken)) > 0,
        cancellationToken);

    private static async Task<Webhook?> ReadAsync(WriteSession session, string key, DateTimeOffset now, CancellationToken cancellationToken) =>
        (await session.Connection.QuerySingleOrDefaultAsync<WebhookRow>(session.Command(OneSql, new { key, now }, cancellationToken)))?.Webhook();
}

/// <summary>A webhook as stored, but for its secrets.</summary>
internal sealed class WebhookRow
{
    public long Id { get; init; }

    public string Code { get; init; } = string.Empty;

    public string Url { get; init; } = string.Empty;

    public string? Kinds { get; init; }

    public string? Operator { get; init; }

    public bool Enabled { get; init; }

    public string? DisabledBecause { get; init; }

    public DateTimeOffset MadeAt { get; init; }

    public DateTimeOffset? OldSecretUntil { get; init; }

    public int Waiting { get; init; }

    public int Dead { get; init; }

    public IReadOnlyList<WebhookKind>? KindList =>
        Kinds is null ? null : [.. Kinds.Split(',').Select(word => Enum.GetValues<WebhookKind>().First(kind => Json.Name(kind.ToString()) == word))];

    public Webhook Webhook() => new(Code, Url, KindList, Operator, Enabled, DisabledBecause, MadeAt, OldSecretUntil, Waiting, Dead);
}
