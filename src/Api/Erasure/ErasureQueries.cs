using Dapper;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Erasure;

/// <summary>Statements that find a person's name and put another in its place.</summary>
internal static class ErasureQueries
{
    /// <summary>Columns of the ledger; who changes one gives its record another hash.</summary>
    public static readonly NamePlace[] Ledger =
    [
        new("wash", "seq", "attested_by", true),
        new("visit", "seq", "technician", true),
        new("visit", "seq", "note", false),
        new("visit", "seq", "checks", false),
        new("visit", "seq", "findings", false),
        new("visit", "seq", "conditions", false),
        new("approval", "seq", "what", false),
        new("approval", "seq", "decided_by", true),
        new("approval", "seq", "note", false),
        new("condition", "seq", "note", false),
        new("void", "seq", "reason", false),
    ];

    /// <summary>Columns beside the ledger.</summary>
    public static readonly NamePlace[] Others =
    [
        new("alert", "id", "seen_by", true),
        new("plan_decision", "id", "by_name", true),
        new("plan_decision", "id", "entered_by", true),
        new("plan_decision", "id", "reason", false),
        new("webhook_message", "id", "body", false),
        new("webhook_attempt", "id", "problem", false),
        new("webhook_attempt", "id", "answer", false),
        new("import_sheet", "id", "owner", true),
        new("import_sheet", "id", "file_name", false),
        new("import_sheet", "id", "mapping", false),
        new("import_sheet", "id", "trouble", false),
        new("import_mapping", "id", "body", false),
        new("person_link", "id", "note", false),
        new("person_link", "id", "made_by", true),
    ];

    /// <summary>Names in the audit.</summary>
    public static readonly NamePlace Audit = new("audit_name", "id", "name", true);

    /// <summary>Names of keys: programs by rights, but people use them.</summary>
    public static readonly NamePlace Keys = new("api_key", "id", "name", true);

    /// <summary>Rows that were refused, as they came.</summary>
    public static readonly NamePlace Refused = new("refused", "id", "body", false);

    /// <summary>What was wrong with them, which may quote them.</summary>
    public static readonly NamePlace RefusedProblems = new("refused", "id", "problem", false);

    private const string SourcesSql = "SELECT r.source FROM record r UNION SELECT f.source FROM refused f UNION SELECT p.source FROM visit_photo p";

    private const string PhotosOfVisitSql = """
        DELETE FROM visit_photo WHERE EXISTS (
            SELECT 1 FROM record r WHERE r.seq = @seq AND r.source = visit_photo.source AND r."key" = visit_photo.visit_key)
        """;

    // A close-out shows the photos of those that it corrects.
    private const string CorrectedSql = """
        SELECT e.seq FROM record r JOIN record e ON e.source = r.source AND e."key" = r.replaces AND e.seq < r.seq WHERE r.seq = @seq
        """;

    private const string PhotosOfSourceSql = "DELETE FROM visit_photo WHERE source = @name";

    private const string KnownSql = "SELECT e.pseudonym AS Pseudonym, e.salt AS Salt, e.name_digest AS Digest FROM erasure e ORDER BY e.id";
    private const string AddSql = "INSERT INTO erasure (pseudonym, salt, name_digest, erased_ms) VALUES (@pseudonym, @salt, @digest, @at)";

    private const string AnswersSql = "SELECT k.id AS Id, k.answer AS Answer FROM request_key k";
    private const string ForgetAnswerSql = "DELETE FROM request_key WHERE id = @id";
    private const string RefusedHashSql = "UPDATE refused SET body = @text, body_hash = @hash WHERE id = @id";
    private const string RevokeSql = "UPDATE api_key SET revoked_ms = @at WHERE id = @id AND revoked_ms IS NULL";

    private const string HashThereSql = "UPDATE erased_record SET content_hash = @hash WHERE seq = @seq";
    private const string AddHashSql = "INSERT INTO erased_record (seq, content_hash) VALUES (@seq, @hash)";

    private const string AccountsSql = "SELECT p.id AS Id, p.login AS Login, p.name AS Name FROM person p";

    private const string CloseAccountSql = """
        UPDATE person SET login = @login, login_key = @login, name = @pseudonym, password = NULL, issuer = NULL, subject = NULL,
            disabled_ms = COALESCE(disabled_ms, @at)
        WHERE id = @id
        """;

    private const string ForgetPreferencesSql = "DELETE FROM person_preference WHERE person_id = @id";
    private const string EndSessionsSql = "DELETE FROM sign_in_session WHERE person_id = @id";

    private static readonly string[] RenameSourceSql =
    [
        "UPDATE record SET source = @pseudonym WHERE source = @name",
        "UPDATE voided SET source = @pseudonym WHERE source = @name",
        "UPDATE refused SET source = @pseudonym WHERE source = @name",
        "UPDATE import_sheet SET source = @pseudonym WHERE source = @name",
    ];

    /// <summary>Texts of a place in which a name stands.</summary>
    public static IReadOnlyList<(long Id, string Text)> Find(WriteSession session, NamePlace place, Func<string, bool> isMeant) =>
        [.. session.Connection.Query<PlacedText>(place.SelectSql, null, session.Transaction, buffered: false, commandTimeout: 0)
            .Where(row => isMeant(row.Text)).Select(row => (row.Id, row.Text))];

    /// <summary>Writes another text.</summary>
    public static Task WriteAsync(WriteSession session, NamePlace place, long id, string text) => RunAsync(session, place.UpdateSql, new { id, text });

    /// <summary>Sources of records whose name is one of those.</summary>
    public static async Task<IReadOnlyList<string>> SourcesAsync(WriteSession session, NameText names) =>
        [.. (await session.Connection.QueryAsync<string>(session.Command(SourcesSql, null, CancellationToken.None))).Where(names.IsWhole)];

    /// <summary>Gives a source another name, in whatever it sent.</summary>
    /// <returns>How many records there were.</returns>
    public static async Task<int> RenameSourceAsync(WriteSession session, string name, string pseudonym)
    {
        int records = 0;
        foreach (string sql in RenameSourceSql)
        {
            int changed = await RunAsync(session, sql, new { name, pseudonym });
            records = ReferenceEquals(sql, RenameSourceSql[0]) ? changed : records;
        }

        return records;
    }

    /// <summary>Deletes the photos of a visit, and of those that it corrects.</summary>
    public static async Task<int> DeletePhotosAsync(WriteSession session, long seq)
    {
        int deleted = 0;
        for (long? next = seq; next is { } one; next = await session.Connection.ExecuteScalarAsync<long?>(session.Command(CorrectedSql, new { seq = one }, CancellationToken.None)))
        {
            deleted += await RunAsync(session, PhotosOfVisitSql, new { seq = one });
        }

        return deleted;
    }

    /// <summary>Deletes the photos that a source sent.</summary>
    public static Task<int> DeletePhotosAsync(WriteSession session, string name) => RunAsync(session, PhotosOfSourceSql, new { name });

    /// <summary>Names that were erased before.</summary>
    public static async Task<IReadOnlyList<ErasedName>> KnownAsync(WriteSession session) =>
        [.. await session.Connection.QueryAsync<ErasedName>(session.Command(KnownSql, null, CancellationToken.None))];

    /// <summary>Adds a name that is erased.</summary>
    public static Task AddAsync(WriteSession session, ErasedName name, DateTimeOffset at) =>
        RunAsync(session, AddSql, new { pseudonym = name.Pseudonym, salt = name.Salt, digest = name.Digest, at });

    /// <summary>Forgets the answers to requests that name somebody: a request sent again finds its records there.</summary>
    public static async Task<int> ForgetAnswersAsync(WriteSession session, NameText names)
    {
        long[] found =
        [
            .. session.Connection.Query<KeptAnswer>(AnswersSql, null, session.Transaction, buffered: false, commandTimeout: 0)
                .Where(answer => names.IsIn(System.Text.Encoding.UTF8.GetString(answer.Answer))).Select(answer => answer.Id),
        ];
        foreach (long id in found)
        {
            await RunAsync(session, ForgetAnswerSql, new { id });
        }

        return found.Length;
    }

    /// <summary>Writes another text of a refused row, with its hash.</summary>
    public static Task WriteRefusedAsync(WriteSession session, long id, string text, byte[] hash) => RunAsync(session, RefusedHashSql, new { id, text, hash });

    /// <summary>Revokes a key.</summary>
    public static Task RevokeAsync(WriteSession session, long id, DateTimeOffset at) => RunAsync(session, RevokeSql, new { id, at });

    /// <summary>Everybody who may sign in, or could.</summary>
    public static async Task<IReadOnlyList<Account>> AccountsAsync(WriteSession session) =>
        [.. await session.Connection.QueryAsync<Account>(session.Command(AccountsSql, null, CancellationToken.None))];

    /// <summary>Closes an account: another name, no way in, signed out, nothing left of how the person likes to read.</summary>
    public static async Task CloseAccountAsync(WriteSession session, long id, string pseudonym, DateTimeOffset at)
    {
        await RunAsync(session, CloseAccountSql, new { id, pseudonym, login = FormattableString.Invariant($"{pseudonym}, account {id}"), at });
        await RunAsync(session, EndSessionsSql, new { id });
        await RunAsync(session, ForgetPreferencesSql, new { id });
    }

    /// <summary>Keeps the hash of what a record says now.</summary>
    public static async Task KeepHashAsync(WriteSession session, long seq, byte[] hash)
    {
        if (await RunAsync(session, HashThereSql, new { seq, hash }) == 0)
        {
            await RunAsync(session, AddHashSql, new { seq, hash });
        }
    }

    private static Task<int> RunAsync(WriteSession session, string sql, object values) =>
        session.Connection.ExecuteAsync(session.Command(sql, values, CancellationToken.None));

    private sealed class PlacedText
    {
        public long Id { get; init; }

        public string Text { get; init; } = string.Empty;
    }

    private sealed class KeptAnswer
    {
        public long Id { get; init; }

        public byte[] Answer { get; init; } = [];
    }
}

/// <summary>An account of a person.</summary>
internal sealed class Account
{
    public long Id { get; init; }

    public string Login { get; init; } = string.Empty;

    public string Name { get; init; } = string.Empty;
}

/// <summary>A column in which a person's name may stand.</summary>
/// <param name="Table">The table.</param>
/// <param name="Id">The column that tells a row.</param>
/// <param name="Column">The column.</param>
/// <param name="NamesPeople">Whether it holds names of people, and not texts in which one may occur.</param>
internal sealed record NamePlace(string Table, string Id, string Column, bool NamesPeople)
{
    /// <summary>Table and column.</summary>
    public string Name => Table + "." + Column;

    /// <summary>Rows that hold something there.</summary>
    public string SelectSql { get; } = $"SELECT \"{Id}\" AS Id, \"{Column}\" AS Text FROM \"{Table}\" WHERE \"{Column}\" IS NOT NULL";

    /// <summary>Writes another text there.</summary>
    public string UpdateSql { get; } = $"UPDATE \"{Table}\" SET \"{Column}\" = @text WHERE \"{Id}\" = @id";
}
