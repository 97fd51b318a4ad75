using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Statements over sign-ins.</summary>
internal static class SessionQueries
{
    // A session is good as long as its person or key is, and may do what they may do now.
    private const string Rows = """
        SELECT s.id AS Id, s.hash AS Hash, s.person_id AS PersonId, s.key_id AS KeyId, s.created_ms AS CreatedAt, s.seen_ms AS SeenAt,
            s.address AS Address, s.agent AS Agent, coalesce(p.login, k.name) AS Name, coalesce(p.name, k.name) AS ShownName,
            coalesce(p.abilities, k.abilities) AS Abilities, coalesce(p.scope, k.scope) AS Scope, c.chosen AS Preferences
        FROM sign_in_session s
        LEFT JOIN person p ON p.id = s.person_id AND p.disabled_ms IS NULL
        LEFT JOIN api_key k ON k.id = s.key_id AND k.revoked_ms IS NULL
        LEFT JOIN person_preference c ON c.person_id = p.id
        WHERE (p.id IS NOT NULL OR k.id IS NOT NULL)
        """;

    private const string ByHashSql = Rows + " AND s.hash = @hash";
    private const string AllSql = Rows + " ORDER BY s.id";
    private const string OfPersonSql = Rows + " AND s.person_id = @id ORDER BY s.id";
    private const string OfKeySql = Rows + " AND s.key_id = @id ORDER BY s.id";

    private const string AddSql = """
        INSERT INTO sign_in_session (hash, person_id, key_id, created_ms, seen_ms, address, agent)
        VALUES (@hash, @personId, @keyId, @now, @now, @address, @agent)
        """;

    private const string SeenSql = "UPDATE sign_in_session SET seen_ms = @at WHERE id = @id AND seen_ms < @at";
    private const string EndSql = "DELETE FROM sign_in_session WHERE id = @id";
    private const string EndByHashSql = "DELETE FROM sign_in_session WHERE hash = @hash";
    private const string EndOfPersonSql = "DELETE FROM sign_in_session WHERE person_id = @personId AND id <> @but";
    private const string EndOfKeySql = "DELETE FROM sign_in_session WHERE key_id = @keyId AND id <> @but";
    private const string EndOldSql = "DELETE FROM sign_in_session WHERE created_ms <= @createdBefore OR seen_ms <= @seenBefore";

    public static Task<SessionRow?> ByHashAsync(DbConnection connection, byte[] hash, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<SessionRow>(new CommandDefinition(ByHashSql, new { hash }, cancellationToken: cancellationToken));

    public static async Task<IReadOnlyList<SessionRow>> AllAsync(DbConnection connection, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<SessionRow>(new CommandDefinition(AllSql, cancellationToken: cancellationToken))];

    public static async Task<IReadOnlyList<SessionRow>> OfPersonAsync(DbConnection connection, long id, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<SessionRow>(new CommandDefinition(OfPersonSql, new { id }, cancellationToken: cancellationToken))];

    public static async Task<IReadOnlyList<SessionRow>> OfKeyAsync(DbConnection connection, long id, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<SessionRow>(new CommandDefinition(OfKeySql, new { id }, cancellationToken: cancellationToken))];

    public static Task AddAsync(WriteSession session, SessionRow row, CancellationToken cancellationToken) => session.Connection.ExecuteAsync(
        session.Command(
            AddSql,
            new { hash = row.Hash, personId = row.PersonId, keyId = row.KeyId, now = row.CreatedAt, address = row.Address, agent = row.Agent },
            cancellationToken));

    public static Task SawAsync(WriteSession session, long id, DateTimeOffset at, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(SeenSql, new { id, at }, cancellationToken));

    public static Task<int> EndAsync(WriteSession session, long id, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(EndSql, new { id }, cancellationToken));

    public static Task<int> EndByHashAsync(WriteSession session, byte[] hash, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(EndByHashSql, new { hash }, cancellationToken));

    public static Task<int> EndOfPersonAsync(WriteSession session, long personId, long but, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(EndOfPersonSql, new { personId, but }, cancellationToken));

    public static Task<int> EndOfKeyAsync(WriteSession session, long keyId, long but, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(EndOfKeySql, new { keyId, but }, cancellationToken));

    public static Task<int> EndOldAsync(
        WriteSession session, DateTimeOffset createdBefore, DateTimeOffset seenBefore, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(EndOldSql, new { createdBefore, seenBefore }, cancellationToken));
}

/// <summary>A session as stored, with whom it is for.</summary>
internal sealed class SessionRow
{
    public long Id { get; init; }

    public byte[] Hash { get; init; } = [];

    public long? PersonId { get; init; }

    public long? KeyId { get; init; }

    public DateTimeOffset CreatedAt { get; init; }

    public DateTimeOffset SeenAt { get; init; }

    public string Address { get; init; } = string.Empty;

    public string Agent { get; init; } = string.Empty;

    public string Name { get; init; } = string.Empty;

    public string ShownName { get; init; } = string.Empty;

    public string Abilities { get; init; } = string.Empty;

    public string Scope { get; init; } = string.Empty;

    public string? Preferences { get; init; }
}
