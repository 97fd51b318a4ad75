using System.Data.Common;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Statements over people.</summary>
internal static class PersonQueries
{
    private const string Rows = """
        SELECT p.id AS Id, p.login AS Login, p.login_key AS LoginKey, p.name AS Name, p.password AS Password, p.issuer AS Issuer, p.subject AS Subject,
            p.abilities AS Abilities, p.scope AS Scope, p.created_ms AS CreatedAt, p.disabled_ms AS DisabledAt
        FROM person p
        """;

    private const string ByLoginSql = Rows + " WHERE p.login_key = @loginKey";
    private const string ByIdSql = Rows + " WHERE p.id = @id";
    private const string BySubjectSql = Rows + " WHERE p.issuer = @issuer AND p.subject = @subject";
    private const string CountSql = "SELECT COUNT(*) FROM person WHERE disabled_ms IS NULL";
    private const string AllSql = Rows + " ORDER BY p.login_key";
    private static readonly Sql PageSql = Sql.FirstRows(Rows + " WHERE @after IS NULL OR p.login_key > @after ORDER BY p.login_key", "@limit");

    private const string AddSql = """
        INSERT INTO person (login, login_key, name, password, password_ms, issuer, subject, abilities, scope, created_ms)
        VALUES (@login, @loginKey, @name, @password, @passwordAt, @issuer, @subject, @abilities, @scope, @now)
        """;

    private const string PutSql = """
        UPDATE person SET name = @name, abilities = @abilities, scope = @scope, disabled_ms = @disabledAt WHERE id = @id
        """;

    private const string PasswordSql = "UPDATE person SET password = @password, password_ms = @now WHERE id = @id";
    private const string RehashSql = "UPDATE person SET password = @password WHERE id = @id AND password = @before";
    private const string SubjectSql = "UPDATE person SET issuer = @issuer, subject = @subject WHERE id = @id";

    public static Task<PersonRow?> ByLoginAsync(DbConnection connection, string loginKey, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<PersonRow>(new CommandDefinition(ByLoginSql, new { loginKey }, cancellationToken: cancellationToken));

    public static Task<PersonRow?> ByLoginAsync(WriteSession session, string loginKey, CancellationToken cancellationToken) =>
        session.Connection.QuerySingleOrDefaultAsync<PersonRow>(session.Command(ByLoginSql, new { loginKey }, cancellationToken));

    public static Task<PersonRow?> ByIdAsync(DbConnection connection, long id, CancellationToken cancellationToken) =>
        connection.QuerySingleOrDefaultAsync<PersonRow>(new CommandDefinition(ByIdSql, new { id }, cancellationToken: cancellationToken));

    public static Task<PersonRow?> ByIdAsync(WriteSession session, long id, CancellationToken cancellationToken) =>
        session.Connection.QuerySingleOrDefaultAsync<PersonRow>(session.Command(ByIdSql, new { id }, cancellationToken));

    public static async Task<PersonRow?> BySubjectAsync(WriteSession session, string issuer, string subject, CancellationToken cancellationToken) =>
        (await session.Connection.QueryAsync<PersonRow>(session.Command(BySubjectSql, new { issuer, subject }, cancellationToken))).FirstOrDefault();

    public static async Task<IReadOnlyList<PersonRow>> AllAsync(WriteSession session, CancellationToken cancellationToken) =>
        [.. await session.Connection.QueryAsync<PersonRow>(session.Command(AllSql, null, cancellationToken))];

    public static async Task<IReadOnlyList<PersonRow>> AllAsync(DbConnection connection, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<PersonRow>(new CommandDefinition(AllSql, cancellationToken: cancellationToken))];

    public static Task<int> CountAsync(DbConnection connection, CancellationToken cancellationToken) =>
        connection.ExecuteScalarAsync<int>(new CommandDefinition(CountSql, cancellationToken: cancellationToken));

    public static async Task<IReadOnlyList<PersonRow>> PageAsync(DbConnection connection, string? after, int limit, CancellationToken cancellationToken) =>
        [.. await connection.QueryAsync<PersonRow>(new CommandDefinition(PageSql.For(connection), new { after, limit }, cancellationToken: cancellationToken))];

    public static Task AddAsync(WriteSession session, PersonRow person, CancellationToken cancellationToken) => session.Connection.ExecuteAsync(
        session.Command(
            AddSql,
            new
            {
                login = person.Login,
                loginKey = person.LoginKey,
                name = person.Name,
                password = person.Password,
                passwordAt = person.Password is null ? (DateTimeOffset?)null : person.CreatedAt,
                issuer = person.Issuer,
                subject = person.Subject,
                abilities = person.Abilities,
                scope = person.Scope,
                now = person.CreatedAt,
            },
            cancellationToken));

    public static Task PutAsync(WriteSession session, PersonRow person, CancellationToken cancellationToken) => session.Connection.ExecuteAsync(
        session.Command(
            PutSql,
            new { id = person.Id, name = person.Name, abilities = person.Abilities, scope = person.Scope, disabledAt = person.DisabledAt },
            cancellationToken));

    public static Task SetPasswordAsync(WriteSession session, long id, string password, DateTimeOffset now, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(PasswordSql, new { id, password, now }, cancellationToken));

    public static Task RehashAsync(WriteSession session, long id, string before, string password, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(RehashSql, new { id, before, password }, cancellationToken));

    public static Task SetSubjectAsync(WriteSession session, long id, string? issuer, string? subject, CancellationToken cancellationToken) =>
        session.Connection.ExecuteAsync(session.Command(SubjectSql, new { id, issuer, subject }, cancellationToken));
}

/// <summary>A person as stored.</summary>
internal sealed record PersonRow
{
    public long Id { get; init; }

    public string Login { get; init; } = string.Empty;

    public string LoginKey { get; init; } = string.Empty;

    public string Name { get; init; } = string.Empty;

    public string? Password { get; init; }

    public string? Issuer { get; init; }

    public string? Subject { get; init; }

    public string Abilities { get; init; } = string.Empty;

    public string Scope { get; init; } = string.Empty;

    public DateTimeOffset CreatedAt { get; init; }

    public DateTimeOffset? DisabledAt { get; init; }
}
