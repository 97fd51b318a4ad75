using System.Data.Common;
using Dapper;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Visits;

/// <summary>Reads visits as they stand in the ledger.</summary>
/// <param name="database">The database.</param>
public sealed class VisitQueries(Database database)
{
    private const string Columns = """
        SELECT r.seq AS Seq, r.source AS Source, r."key" AS "Key", r.unit_id AS UnitId, r.received_ms AS ReceivedAt,
               CASE WHEN o."key" IS NULL THEN 0 ELSE 1 END AS IsVoided,
               v.asked_ms AS AskedAt, v.arrived_ms AS ArrivedAt, v.left_ms AS LeftAt, v.outcome AS Outcome, v.technician AS Technician,
               v.note AS Note, v.faults AS Faults, v.checks AS Checks, v.findings AS Findings, v.proofs AS Proofs, v.conditions AS Conditions,
               (SELECT COUNT(*) FROM visit_photo p WHERE p.source = r.source AND p.visit_key = r."key") AS Photos,
               r.replaces AS Replaces, n."key" AS ReplacedBy
        FROM record r
        JOIN visit v ON v.seq = r.seq
        LEFT JOIN voided o ON o.source = r.source AND o."key" = r."key"
        LEFT JOIN record n ON n.seq = o.by_seq AND n.type = 'visit'
        """;

    private static readonly Sql One = Sql.FirstRows(
        Columns + """

        WHERE r."key" = @key AND r.type = 'visit'
        ORDER BY CASE WHEN r.source = @source THEN 0 ELSE 1 END, r.seq
        """,
        "1");

    private const string Overlapping = Columns + """
         WHERE r.seq IN (
            SELECT s.seq FROM visit_span s
            WHERE s.unit_id = @unitId AND s.seq <> @seq AND s.arrived_ms <= @left AND coalesce(s.left_ms, s.arrived_ms) >= @arrived)
        ORDER BY v.arrived_ms, r.seq
        """;

    private static readonly Sql Recent = Sql.FirstRows(
        Columns + """

        WHERE r.seq IN (SELECT s.seq FROM visit_span s WHERE s.unit_id = @unitId AND s.arrived_ms >= @since)
        ORDER BY v.arrived_ms DESC, r.seq DESC
        """,
        "@limit");

    private static readonly Sql Asked = Sql.FirstRows(
        """
        SELECT r.source AS Source, r."key" AS "Key", s.asked_ms AS AskedAt
        FROM visit_span s JOIN record r ON r.seq = s.seq
        WHERE s.unit_id = @unitId AND s.asked_ms <= @now AND s.arrived_ms IS NULL AND s.left_ms IS NULL
          AND NOT EXISTS (SELECT 1 FROM visit_span later WHERE later.unit_id = @unitId AND later.arrived_ms >= s.asked_ms)
        ORDER BY s.asked_ms DESC, s.seq DESC
        """,
        "1");

    private const string Parts = """
        SELECT p.position AS Position, r.at_ms AS At, p.removed_reason AS RemovedReason, p.failure_mode AS FailureMode,
               p.last_seen_good_ms AS LastSeenGoodAt, p.fitted AS Fitted, p.part_number AS PartNumber, p.batch AS Batch, p.removed_fitted_ms AS RemovedFittedAt
        FROM record r JOIN part_change p ON p.seq = r.seq
        WHERE r.source = @source AND r."key" >= @from AND r."key" < @to
        ORDER BY r.seq
        """;

    private const string Sent = """
        SELECT r."key" AS "Key", r.type AS Type, c.code AS Code, n."key" AS VoidedBy
        FROM record r
        LEFT JOIN fault_cleared c ON c.seq = r.seq
        LEFT JOIN voided v ON v.target_seq = r.seq
        LEFT JOIN record n ON n.seq = v.by_seq
        WHERE r.source = @source AND r.type <> 'void' AND (r."key" = @key OR (r."key" >= @from AND r."key" < @to))
        ORDER BY r.seq
        """;

    // A decision replaces the record that asked: what became of it stands in the record that counts now.
    private const string Ask = """
        SELECT coalesce(n.what, a.what) AS What, coalesce(n.amount, a.amount) AS Amount, coalesce(n.decision, a.decision) AS Decision,
               coalesce(n.decided_by, a.decided_by) AS DecidedBy, coalesce(n.decided_ms, a.decided_ms) AS DecidedAt,
               CASE WHEN v.target_seq IS NOT NULL AND n.seq IS NULL THEN 1 ELSE 0 END AS IsWithdrawn
        FROM record r JOIN approval a ON a.seq = r.seq
        LEFT JOIN voided v ON v.target_seq = r.seq
        LEFT JOIN approval n ON n.seq = v.by_seq
        WHERE r.source = @source AND r."key" = @key
        """;

    private const string Looks = """
        SELECT c.position AS Position, r.at_ms AS At, CAST(NULL AS nvarchar(4000)) AS Conditions
        FROM record r JOIN condition c ON c.seq = r.seq
        WHERE r.unit_id = @unitId AND r.at_ms <= @now AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        UNION ALL
        SELECT NULL, coalesce(v.arrived_ms, r.at_ms), v.conditions
        FROM record r JOIN visit v ON v.seq = r.seq
        WHERE r.unit_id = @unitId AND r.at_ms <= @now AND v.conditions IS NOT NULL
          AND NOT EXISTS (SELECT 1 FROM voided o WHERE o.target_seq = r.seq)
        """;

    /// <summary>The visit under a key.</summary>
    /// <param name="key">Key of the visit.</param>
    /// <param name="source">Whose visit, where several sources use the key; null: the first that came.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<VisitRow?> FindAsync(string key, string? source, CancellationToken cancellationToken) =>
        await ReadAsync<VisitRow>(One, new { key, source }, cancellationToken) is [var visit, ..] ? visit : null;

    /// <summary>The visits that one stands for, of the same sender, the latest first.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<VisitRow>> EarlierAsync(VisitRow visit, CancellationToken cancellationToken)
    {
        var earlier = new List<VisitRow>();
        VisitRow last = visit;
        while (last.Replaces is { } replaced
            && await FindAsync(replaced, visit.Source, cancellationToken) is { } found && found.Source == visit.Source && found.Seq < last.Seq)
        {
            // Older by each step: records that replace each other lead nowhere.
            earlier.Add(found);
            last = found;
        }

        return earlier;
    }

    /// <summary>Other visits to the unit, that count, at the same time.</summary>
    /// <param name="visit">The visit; one without arrival overlaps nothing.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<VisitRow>> OverlappingAsync(VisitRow visit, CancellationToken cancellationToken) =>
        visit.ArrivedAt is { } arrived
        ? await ReadAsync<VisitRow>(Overlapping, new { unitId = visit.UnitId, seq = visit.Seq, arrived, left = visit.LeftAt ?? arrived }, cancellationToken)
        : [];

    /// <summary>Visits to a unit that count, the latest first.</summary>
    /// <param name="unitId">Number of the unit.</param>
    /// <param name="since">Only those that began at or after this.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public Task<IReadOnlyList<VisitRow>> RecentAsync(int unitId, DateTimeOffset since, int limit, CancellationToken cancellationToken) =>
        ReadAsync<VisitRow>(Recent, new { unitId, since, limit }, cancellationToken);

    /// <summary>The visit that was asked for last and that nobody has made since; null: there is none.</summary>
    /// <param name="unitId">Number of the unit.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<AskedVisit?> AskedAsync(int unitId, DateTimeOffset now, CancellationToken cancellationToken) =>
        await ReadAsync<AskedRow>(Asked, new { unitId, now }, cancellationToken) is [var row, ..] ? new AskedVisit(row.Source, row.Key, row.AskedAt) : null;

    /// <summary>Part changes that were sent with a close-out.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public Task<IReadOnlyList<PartRow>> PartsAsync(VisitRow visit, CancellationToken cancellationToken)
    {
        string from = visit.Key + CloseOutRecords.Separator;
        return ReadAsync<PartRow>(Parts, new { source = visit.Source, from, to = visit.Key + (char)(CloseOutRecords.Separator + 1) }, cancellationToken);
    }

    /// <summary>Everything that was sent with a close-out, the visit itself included.</summary>
    /// <param name="key">Key of the close-out.</param>
    /// <param name="source">Who sent it.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal Task<IReadOnlyList<SentRecord>> SentAsync(string key, string source, CancellationToken cancellationToken) => ReadAsync<SentRecord>(
        Sent, new { source, key, from = key + CloseOutRecords.Separator, to = key + (char)(CloseOutRecords.Separator + 1) }, cancellationToken);

    /// <summary>The approval that a close-out asked for; null: none.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<AskRow?> AskAsync(VisitRow visit, CancellationToken cancellationToken) =>
        await ReadAsync<AskRow>(Ask, new { source = visit.Source, key = CloseOutRecords.ApprovalKey(visit.Key) }, cancellationToken) is [var row, ..]
            ? row
            : null;

    /// <summary>When parts of a unit were looked at and left in, by the position's code as it is compared.</summary>
    /// <param name="unitId">Number of the unit.</param>
    /// <param name="now">The instant.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<ILookup<string, DateTimeOffset>> LooksAsync(int unitId, DateTimeOffset now, CancellationToken cancellationToken) =>
        (await ReadAsync<LookRow>(Looks, new { unitId, now }, cancellationToken))
        .SelectMany(row => (row.Position is { } position ? [position] : VisitRow.List<PartCondition>(row.Conditions).Select(seen => seen.Position))
            .Select(position => (Position: Codes.Key(position), row.At)))
        .ToLookup(look => look.Position, look => look.At);

    private async Task<IReadOnlyList<T>> ReadAsync<T>(Sql sql, object values, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return [.. await connection.QueryAsync<T>(new CommandDefinition(sql.For(connection), values, cancellationToken: cancellationToken))];
    }

    private sealed class AskedRow
    {
        public required string Source { get; init; }

        public required string Key { get; init; }

        public DateTimeOffset AskedAt { get; init; }
    }

    private sealed class LookRow
    {
        public string? Position { get; init; }

        public DateTimeOffset At { get; init; }

        public string? Conditions { get; init; }
    }
}

/// <summary>A visit that was asked for.</summary>
/// <param name="Source">Who asked for it.</param>
/// <param name="Key">Key of its record.</param>
/// <param name="AskedAt">When.</param>
public sealed record AskedVisit(string Source, string Key, DateTimeOffset AskedAt);
