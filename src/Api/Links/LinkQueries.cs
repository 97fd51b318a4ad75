using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Links;

/// <summary>Statements over shared links.</summary>
internal static class LinkQueries
{
    private const string Rows = """
        SELECT l.id AS Id, l.name AS Name, l.shows AS Shows, l.scope AS Scope, l.made_by AS MadeBy, l.made_ms AS MadeAt, l.used_ms AS UsedAt,
            l.revoked_ms AS RevokedAt
        FROM view_link l
        """;

    private const string AllSql = Rows + " ORDER BY l.id DESC";
    private const string GoodSql = Rows + " WHERE l.hash = @hash AND l.revoked_ms IS NULL";
    private const string OneSql = Rows + " WHERE l.id = @id";

    private const string AddSql = """
        INSERT INTO view_link (hash, name, shows, scope, made_by, made_ms) VALUES (@hash, @name, @shows, @scope, @madeBy, @now)
        """;

    private const string RevokeSql = "UPDATE view_link SET revoked_ms = @now WHERE id = @id AND revoked_ms IS NULL";
    private const string UsedSql = "UPDATE view_link SET used_ms = @now WHERE id = @id";

    public static async Task<IReadOnlyList<LinkStored>> AllAsync(DbConnection connection, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<LinkStored>(new CommandDefinition(AllSql, cancellationToken: cancellationToken))];

    public static Task<LinkStored?> GoodAsync(DbConnection connection, byte[] hash, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<LinkStored>(new CommandDefinition(GoodSql, new { hash }, cancellationToken: cancellationToken));

    public static Task<LinkStored?> OneAsync(DbConnection connection, long id, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<LinkStored>(new CommandDefinition(OneSql, new { id }, cancellationToken: cancellationToken));

    public static async Task<LinkStored> AddAsync(
        WriteSession session, byte[] hash, string name, string shows, string scope, string madeBy, DateTimeOffset now, CancellationToken cancellationToken)
    {
        await session.Connection.ExecuteAsync(session.Command(AddSql, new { hash, name, shows, scope, madeBy, now }, cancellationToken));
        return await session.Connection.QuerySingleAsync<LinkStored>(session.Command(GoodSql, new { hash }, cancellationToken));
    }

    public static Task RevokeAsync(WriteSession session, long id, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(RevokeSql, new { id, now }, cancellationToken));

    public static Task UsedAsync(WriteSession session, long id, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(UsedSql, new { id, now }, cancellationToken));
}

/// <summary>A link as stored.</summary>
internal sealed class LinkStored
{
    public long Id { get; init; }

    public string Name { get; init; } = string.Empty;

    public string Shows { get; init; } = string.Empty;

    public string Scope { get; init; } = string.Empty;

    public string MadeBy { get; init; } = string.Empty;

    public DateTimeOffset MadeAt { get; init; }

    public DateTimeOffset? UsedAt { get; init; }

    public DateTimeOffset? RevokedAt { get; init; }
}
