using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Statements over keys and sign-in links.</summary>
internal static class KeyQueries
{
    private const string Columns =
        "id AS Id, name AS Name, hash AS Hash, abilities AS Abilities, scope AS Scope, created_ms AS CreatedAt, revoked_ms AS RevokedAt";

    private const string ByHashSql = $"SELECT {Columns} FROM api_key WHERE hash = @hash AND revoked_ms IS NULL";
    private const string ByIdSql = $"SELECT {Columns} FROM api_key WHERE id = @id AND revoked_ms IS NULL";
    private const string ByNameSql = $"SELECT {Columns} FROM api_key WHERE name = @name AND revoked_ms IS NULL";
    private const string AllSql = $"SELECT {Columns} FROM api_key ORDER BY name";
    private const string GoodSql = $"SELECT {Columns} FROM api_key WHERE revoked_ms IS NULL ORDER BY name";
    private const string NamesSql = "SELECT name FROM api_key";
    private const string AnySql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM api_key) THEN 1 ELSE 0 END";
    private const string NameTakenSql = "SELECT CASE WHEN EXISTS (SELECT 1 FROM api_key WHERE name = @name) THEN 1 ELSE 0 END";

    private const string AddSql =
        "INSERT INTO api_key (name, hash, abilities, scope, created_ms) VALUES (@name, @hash, @abilities, @scope, @now)";

    private const string RevokeSql = "UPDATE api_key SET revoked_ms = @now WHERE name = @name AND revoked_ms IS NULL";

    private const string AddLinkSql = "INSERT INTO sign_in_link (hash, key_id, expires_ms) VALUES (@hash, @keyId, @expires)";

    private const string UseLinkSql = "UPDATE sign_in_link SET used_ms = @now WHERE hash = @hash AND used_ms IS NULL AND expires_ms > @now";
    private const string KeyOfLinkSql = "SELECT key_id FROM sign_in_link WHERE hash = @hash";

    public static Task<KeyRow?> ByHashAsync(DbConnection connection, byte[] hash, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<KeyRow>(new CommandDefinition(ByHashSql, new { hash }, cancellationToken: cancellationToken));

    public static Task<KeyRow?> ByIdAsync(DbConnection connection, int id, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<KeyRow>(new CommandDefinition(ByIdSql, new { id }, cancellationToken: cancellationToken));

    public static Task<KeyRow?> ByNameAsync(DbConnection connection, string name, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<KeyRow>(new CommandDefinition(ByNameSql, new { name }, cancellationToken: cancellationToken));

    public static async Task<IReadOnlyList<KeyRow>> AllAsync(DbConnection connection, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<KeyRow>(new CommandDefinition(AllSql, cancellationToken: cancellationToken))];

    public static async Task<IReadOnlyList<ApiKey>> GoodAsync(WriteSession session, CancellationToken cancellationToken) =>
        [.. (await session.Connection.QueryAsync<KeyRow>(session.Command(GoodSql, null, cancellationToken))).Select(Keys.Read)];

    public static async Task<IReadOnlyList<string>> NamesAsync(WriteSession session, CancellationToken cancellationToken) =>
        [.. await session.Connection.QueryAsync<string>(session.Command(NamesSql, null, cancellationToken))];

    public static Task<bool> AnyAsync(WriteSession session, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<bool>(session.Command(AnySql, null, cancellationToken));

    public static Task<bool> NameTakenAsync(WriteSession session, string name, CancellationToken cancellationToken) =>
        session.Connection.ExecuteScalarAsync<bool>(session.Command(NameTakenSql, new { name }, cancellationToken));

    public static Task AddAsync(
        WriteSession session, string name, byte[] hash, string abilities, string scope, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(AddSql, new { name, hash, abilities, scope, now }, cancellationToken));

    public static Task<int> RevokeAsync(WriteSession session, string name, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(RevokeSql, new { name, now }, cancellationToken));

    public static Task AddLinkAsync(
        WriteSession session, byte[] hash, int keyId, DateTimeOffset expires, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(AddLinkSql, new { hash, keyId, expires }, cancellationToken));

    public static async Task<KeyRow?> UseLinkAsync(WriteSession session, byte[] hash, DateTimeOffset now, CancellationToken cancellationToken)
    {
        if (await session.Connection.ExecuteAsync(session.Command(UseLinkSql, new { hash, now }, cancellationToken)) == 0)
        {
            return null;
        }

        int id = await session.Connection.ExecuteScalarAsync<int>(session.Command(KeyOfLinkSql, new { hash }, cancellationToken));
        return await session.Connection.QuerySingleOrDefaultAsync<KeyRow>(session.Command(ByIdSql, new { id }, cancellationToken));
    }
}

/// <summary>A key as stored.</summary>
internal sealed class KeyRow
{
    public int Id { get; init; }

    public string Name { get; init; } = string.Empty;

    public byte[] Hash { get; init; } = [];

    public string Abilities { get; init; } = string.Empty;

    public string Scope { get; init; } = string.Empty;

    public DateTimeOffset CreatedAt { get; init; }

    public DateTimeOffset? RevokedAt { get; init; }
}
