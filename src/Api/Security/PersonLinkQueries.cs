using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Statements over invitations and links to set a new password.</summary>
internal static class PersonLinkQueries
{
    private const string Rows = """
        SELECT l.id AS Id, l.person_id AS PersonId, l.abilities AS Abilities, l.scope AS Scope, l.note AS Note, l.made_by AS MadeBy,
            l.made_ms AS MadeAt, l.expires_ms AS ExpiresAt
        FROM person_link l
        WHERE l.used_ms IS NULL AND l.expires_ms > @now
        """;

    private const string ByHashSql = Rows + " AND l.hash = @hash";
    private const string OpenSql = Rows + " AND l.person_id IS NULL ORDER BY l.id";

    private const string AddSql = """
        INSERT INTO person_link (hash, person_id, abilities, scope, note, made_by, made_ms, expires_ms)
        VALUES (@hash, @personId, @abilities, @scope, @note, @madeBy, @now, @expires)
        """;

    private const string IdSql = "SELECT l.id FROM person_link l WHERE l.hash = @hash";
    private const string UseSql = "UPDATE person_link SET used_ms = @now WHERE hash = @hash AND used_ms IS NULL AND expires_ms > @now";
    private const string WithdrawSql = "DELETE FROM person_link WHERE id = @id AND person_id IS NULL AND used_ms IS NULL";
    private const string WithdrawOfPersonSql = "DELETE FROM person_link WHERE person_id = @personId AND used_ms IS NULL";

    // A name of a person's is never that of a key, so that who made it is one or the other.
    private const string WithdrawOfMakerSql = "DELETE FROM person_link WHERE made_by = @maker AND person_id IS NULL AND used_ms IS NULL";

    public static Task<PersonLinkRow?> ByHashAsync(DbConnection connection, byte[] hash, DateTimeOffset now, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<PersonLinkRow>(new CommandDefinition(ByHashSql, new { hash, now }, cancellationToken: cancellationToken));

    public static Task<PersonLinkRow?> ByHashAsync(WriteSession session, byte[] hash, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.QuerySingleOrDefaultAsync<PersonLinkRow>(session.Command(ByHashSql, new { hash, now }, cancellationToken));

    public static async Task<IReadOnlyList<PersonLinkRow>> OpenAsync(DbConnection connection, DateTimeOffset now, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<PersonLinkRow>(new CommandDefinition(OpenSql, new { now }, cancellationToken: cancellationToken))];

    public static async Task<long> AddAsync(WriteSession session, byte[] hash, PersonLinkRow link, CancellationToken cancellationToken)
    {
        await session.Connection.ExecuteAsync(session.Command(
            AddSql,
            new
            {
                hash,
                personId = link.PersonId,
                abilities = link.Abilities,
                scope = link.Scope,
                note = link.Note,
                madeBy = link.MadeBy,
                now = link.MadeAt,
                expires = link.ExpiresAt,
            },
            cancellationToken));
        return await session.Connection.ExecuteScalarAsync<long>(session.Command(IdSql, new { hash }, cancellationToken));
    }

    public static async Task<bool> UseAsync(WriteSession session, byte[] hash, DateTimeOffset now, CancellationToken cancellationToken) =>
        await session.Connection.ExecuteAsync(session.Command(UseSql, new { hash, now }, cancellationToken)) > 0;

    public static async Task<bool> WithdrawAsync(WriteSession session, long id, CancellationToken cancellationToken) =>
        await session.Connection.ExecuteAsync(session.Command(WithdrawSql, new { id }, cancellationToken)) > 0;

    public static Task WithdrawOfPersonAsync(WriteSession session, long personId, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(WithdrawOfPersonSql, new { personId }, cancellationToken));

    public static Task WithdrawOfMakerAsync(WriteSession session, string maker, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(WithdrawOfMakerSql, new { maker }, cancellationToken));
}

/// <summary>A link as stored, but for its hash.</summary>
internal sealed record PersonLinkRow
{
    public long Id { get; init; }

    public long? PersonId { get; init; }

    public string Abilities { get; init; } = string.Empty;

    public string Scope { get; init; } = string.Empty;

    public string Note { get; init; } = string.Empty;

    public string MadeBy { get; init; } = string.Empty;

    public DateTimeOffset MadeAt { get; init; }

    public DateTimeOffset ExpiresAt { get; init; }
}
