using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Approvals;

/// <summary>Reads approvals that count.</summary>
/// <param name="database">The database.</param>
public sealed class ApprovalQueries(Database database)
{
    // A decision that came as a record of its own answers what was asked before it for the same unit and fault; the one that asked need not be named.
    private const string SameWait = """
        (d.fault_code IS NULL OR q.fault_code IS NULL OR upper(d.fault_code) = upper(q.fault_code))
            AND d.decision IS NOT NULL AND d.asked_ms IS NULL AND q.decision IS NULL AND q.asked_ms <= d.decided_ms
        """;

    private const string AskedFor = """
         FROM approval_span o JOIN approval q ON q.seq = o.seq JOIN record k ON k.seq = o.seq JOIN approval d ON d.seq = s.seq
            WHERE o.unit_id = s.unit_id AND
        """ + " " + SameWait;

    private const string Rows = """
        SELECT s.seq AS Seq, s.unit_id AS UnitId, r.source AS Source, r."key" AS "Key", r.at_ms AS At,
            COALESCE(a.what, (SELECT max(q.what)
        """ + AskedFor + """
        )) AS What, COALESCE(a.amount, (SELECT max(q.amount)
        """ + AskedFor + """
        )) AS Amount, a.fault_code AS FaultCode, COALESCE(a.asked_ms, (SELECT max(q.asked_ms)
        """ + AskedFor + """
        )) AS AskedAt, COALESCE(CASE WHEN a.asked_ms IS NULL AND r.replaces IS NULL THEN NULL ELSE r.source END, (SELECT max(k.source)
        """ + AskedFor + """
        )) AS AskedBy, a.decision AS Decision, a.decided_ms AS DecidedAt, a.decided_by AS DecidedBy, a.note AS Note
        FROM approval_span s JOIN record r ON r.seq = s.seq JOIN approval a ON a.seq = s.seq
        """;

    private const string OpenSql = Rows + """
         WHERE a.decision IS NULL AND NOT EXISTS (
            SELECT 1 FROM approval_span o JOIN approval d ON d.seq = o.seq JOIN approval q ON q.seq = s.seq
            WHERE o.unit_id = s.unit_id AND
        """ + " " + SameWait + ") ORDER BY s.seq";
    private const string OneSql = Rows + " WHERE s.seq = @seq";

    private const string Decided = """

            AND a.decision IS NOT NULL AND (@decision IS NULL OR a.decision = @decision)
            AND (@beforeMs IS NULL OR a.decided_ms < @beforeMs OR (a.decided_ms = @beforeMs AND s.seq < @beforeSeq))
        ORDER BY a.decided_ms DESC, s.seq DESC
        """;

    private static readonly Sql DecidedSql = Sql.FirstRows(
        new Sql(
            Sqlite: Rows + " WHERE s.unit_id IN (SELECT u.value FROM json_each(@units) u)" + Decided,
            SqlServer: Rows + " WHERE s.unit_id IN (SELECT CAST(u.value AS bigint) FROM OPENJSON(@units) u)" + Decided),
        "@limit");

    // What stands in the place of a record that no longer counts.
    private const string FateSql = """
        SELECT r.type AS Type, v.by_seq AS BySeq, b.type AS ByType, b.at_ms AS ByAt, x.reason AS Reason, a.decision AS Decision,
            a.decided_ms AS DecidedAt, a.decided_by AS DecidedBy
        FROM record r
        LEFT JOIN voided v ON v.target_seq = r.seq
        LEFT JOIN record b ON b.seq = v.by_seq
        LEFT JOIN void x ON x.seq = b.seq
        LEFT JOIN approval a ON a.seq = b.seq
        WHERE r.seq = @seq
        """;

    // The findings of visits that left to wait, from half a day before the approval was asked for to half a day after.
    private static readonly Sql FindingsSql = new(
        Sqlite: """
            SELECT a.value AS Seq, x.findings AS Findings
            FROM json_each(@approvals) a
            JOIN approval_span s ON s.seq = a.value
            JOIN visit_span v ON v.unit_id = s.unit_id AND v.left_ms BETWEEN s.from_ms - 43200000 AND s.from_ms + 43200000
            JOIN visit x ON x.seq = v.seq AND x.findings IS NOT NULL
            ORDER BY a.value, v.left_ms
            """,
        SqlServer: """
            SELECT s.seq AS Seq, x.findings AS Findings
            FROM OPENJSON(@approvals) a
            JOIN approval_span s ON s.seq = CAST(a.value AS bigint)
            JOIN visit_span v ON v.unit_id = s.unit_id AND v.left_ms BETWEEN s.from_ms - 43200000 AND s.from_ms + 43200000
            JOIN visit x ON x.seq = v.seq AND x.findings IS NOT NULL
            ORDER BY s.seq, v.left_ms
            """);

    /// <summary>The approvals that nobody has decided.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<IReadOnlyList<StoredApproval>> OpenAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. await connection.QueryAsync<StoredApproval>(new CommandDefinition(OpenSql, cancellationToken: cancellationToken))];
    }

    /// <summary>Decided approvals, those decided last first.</summary>
    /// <param name="units">Only of these units.</param>
    /// <param name="decision">Only these; null: all.</param>
    /// <param name="before">Only those after this place of the order; null: from the newest.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<IReadOnlyList<StoredApproval>> DecidedAsync(
        IEnumerable<int> units, ApprovalDecision? decision, (long Ms, long Seq)? before, int limit, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var values = new
        {
            units = JsonSerializer.Serialize(units),
            decision = decision is { } word ? EnumText<ApprovalDecision>.Of(word) : null,
            beforeMs = before?.Ms,
            beforeSeq = before?.Seq,
            limit,
        };
        return [.. await connection.QueryAsync<StoredApproval>(new CommandDefinition(DecidedSql.For(connection), values, cancellationToken: cancellationToken))];
    }

    /// <summary>One approval that counts; null: there is none under this number.</summary>
    /// <param name="seq">Number of its record.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<StoredApproval?> OneAsync(long seq, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleOrDefaultAsync<StoredApproval>(
            new CommandDefinition(OneSql, new { seq }, cancellationToken: cancellationToken));
    }

    /// <summary>The position that the visit behind each approval found at fault, by the approval's number.</summary>
    /// <param name="approvals">Numbers of approvals.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<IReadOnlyDictionary<long, string>> FoundPositionsAsync(IEnumerable<long> approvals, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var values = new { approvals = JsonSerializer.Serialize(approvals) };
        var found = new Dictionary<long, string>();
        foreach ((long seq, string findings) in
            await connection.QueryAsync<(long, string)>(new CommandDefinition(FindingsSql.For(connection), values, cancellationToken: cancellationToken)))
        {
            if (JsonSerializer.Deserialize<VisitFinding[]>(findings, Json.Options) is { Length: > 0 } list)
            {
                found[seq] = list[0].Position;
            }
        }

        return found;
    }

    /// <summary>One approval that counts, within a transaction; null: there is none.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="seq">Number of its record.</param>
    internal static Task<StoredApproval?> OneAsync(WriteSession session, long seq) =>
        session.Connection.QuerySingleOrDefaultAsync<StoredApproval>(session.Command(OneSql, new { seq }, CancellationToken.None));

    /// <summary>What became of a record; null: there is no such record, or not for the caller.</summary>
    /// <param name="seq">Its number.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<RecordFate?> FateAsync(long seq, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await connection.QuerySingleOrDefaultAsync<RecordFate>(new CommandDefinition(FateSql, new { seq }, cancellationToken: cancellationToken));
    }

    /// <summary>What became of a record, within a transaction; null: there is no such record.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="seq">Its number.</param>
    internal static Task<RecordFate?> FateAsync(WriteSession session, long seq) =>
        session.Connection.QuerySingleOrDefaultAsync<RecordFate>(session.Command(FateSql, new { seq }, CancellationToken.None));
}

/// <summary>An approval as stored.</summary>
internal sealed class StoredApproval
{
    public long Seq { get; init; }

    public int UnitId { get; init; }

    public required string Source { get; init; }

    public required string Key { get; init; }

    public DateTimeOffset At { get; init; }

    public string? What { get; init; }

    public double? Amount { get; init; }

    public string? FaultCode { get; init; }

    public DateTimeOffset? AskedAt { get; init; }

    /// <summary>Who sent what was asked, a person or a system; null: nobody asked on record.</summary>
    public string? AskedBy { get; init; }

    public string? Decision { get; init; }

    public DateTimeOffset? DecidedAt { get; init; }

    public string? DecidedBy { get; init; }

    /// <summary>Whether who asked decided, or entered the decision for somebody else.</summary>
    public bool IsDecidedByAsker => Decision is not null && AskedBy is { } asker && (IsNamed(asker) || IsEnteredBy(asker));

    /// <summary>Whether the decision bears a name.</summary>
    public bool IsNamed(string name) => string.Equals(DecidedBy?.Trim(), name, StringComparison.OrdinalIgnoreCase);

    public string? Note { get; init; }

    /// <summary>Words in the note of a decision that was entered with another name than that of the key.</summary>
    /// <param name="key">Name of the key.</param>
    public static string EnteredWith(string key) => $"Entered with the key '{key}'.";

    private bool IsEnteredBy(string key) => Note?.EndsWith(EnteredWith(key), StringComparison.OrdinalIgnoreCase) == true;
}

/// <summary>What became of a record.</summary>
internal sealed class RecordFate
{
    public required string Type { get; init; }

    public long? BySeq { get; init; }

    public string? ByType { get; init; }

    public DateTimeOffset? ByAt { get; init; }

    public string? Reason { get; init; }

    public string? Decision { get; init; }

    public DateTimeOffset? DecidedAt { get; init; }

    public string? DecidedBy { get; init; }
}
