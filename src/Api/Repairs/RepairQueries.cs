using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Repairs;

/// <summary>Reads faults, visits and approvals that count, and the washes after repairs.</summary>
/// <param name="database">The database.</param>
public sealed class RepairQueries(Database database)
{
    // A repair is judged by the first washes after it; a few more than it takes, since some say nothing.
    private const int WashesRead = 20;

    private const string FaultsSql = """
        SELECT f.unit_id AS UnitId, f.code AS Code, f.raised_ms AS RaisedMs, f.cleared_ms AS ClearedMs
        FROM fault_span f WHERE f.unit_id BETWEEN @first AND @last AND f.raised_ms <= @untilMs AND (f.cleared_ms IS NULL OR f.cleared_ms >= @sinceMs)
        """;

    private static readonly Sql VisitsSql =
        """
        SELECT s.seq AS Seq, s.unit_id AS UnitId, r."key" AS "Key", s.asked_ms AS AskedMs, s.arrived_ms AS ArrivedMs, s.left_ms AS LeftMs,
            s.outcome AS Outcome, x.technician AS Technician, x.faults AS Faults, x.findings AS Findings, x.proofs AS Proofs, (
        """
        + Sql.FirstRows(
            """
            SELECT p.position FROM record c JOIN part_change p ON p.seq = c.seq AND p.removed_reason IN ('failed', 'found_failed')
            WHERE c.unit_id = s.unit_id AND c.at_ms BETWEEN s.arrived_ms AND s.left_ms AND c.type = 'part_change'
                AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = c.seq)
            ORDER BY c.at_ms, c.seq
            """,
            "1")
        + """
        ) AS PartPosition
        FROM visit_span s JOIN visit x ON x.seq = s.seq JOIN record r ON r.seq = s.seq
        WHERE s.unit_id BETWEEN @first AND @last AND s.from_ms <= @untilMs AND (s.left_ms IS NULL OR s.left_ms >= @sinceMs)
        ORDER BY s.unit_id, s.from_ms, s.seq
        """;

    private const string ApprovalsSql = """
        SELECT s.unit_id AS UnitId, s.asked_ms AS AskedMs, s.decided_ms AS DecidedMs, s.granted AS Granted
        FROM approval_span s WHERE s.unit_id BETWEEN @first AND @last AND s.from_ms <= @untilMs AND (s.decided_ms IS NULL OR s.decided_ms >= @sinceMs)
        """;

    private const string PartsSql = """
        SELECT p.unit_id AS UnitId, p.ended_ms AS EndedMs
        FROM part_life p WHERE p.unit_id BETWEEN @first AND @last AND p.ended_how IN ('failed', 'found_failed')
            AND p.ended_ms BETWEEN @sinceMs AND @untilMs
        """;

    // In steps: written as one, SQLite takes every repair apart anew for each of its washes, which takes twenty times as long.
    private static readonly Sql WashesSql = new(
        Sqlite: """
            WITH asked AS MATERIALIZED (
                SELECT e.value ->> 0 AS seq, e.value ->> 1 AS unit_id, e.value ->> 2 AS from_ms, e.value ->> 3 AS until_ms FROM json_each(@repairs) e),
            bounded AS MATERIALIZED (
                SELECT a.seq, a.unit_id, a.from_ms, a.until_ms, coalesce(
                    (SELECT n.started_ms FROM wash_span n WHERE n.unit_id = a.unit_id AND n.started_ms >= a.from_ms
                     ORDER BY n.started_ms LIMIT 1 OFFSET @most), a.until_ms) AS last_ms
                FROM asked a)
            SELECT b.seq AS Seq, w.started_ms AS StartedMs, w.ended_ms AS EndedMs, w.grade AS Grade, w.outcome AS Outcome,
                w.detergent_left AS DetergentLeft, w.attested AS Attested, w.fault_code AS FaultCode
            FROM bounded b
            CROSS JOIN wash_span w ON w.unit_id = b.unit_id AND w.started_ms BETWEEN b.from_ms AND b.last_ms
            WHERE w.started_ms < b.until_ms
            """,
        SqlServer: """
            SELECT e.seq AS Seq, w.started_ms AS StartedMs, w.ended_ms AS EndedMs, w.grade AS Grade, w.outcome AS Outcome,
                w.detergent_left AS DetergentLeft, w.attested AS Attested, w.fault_code AS FaultCode
            FROM OPENJSON(@repairs) WITH (seq bigint '$[0]', unit_id bigint '$[1]', from_ms bigint '$[2]', until_ms bigint '$[3]') e
            JOIN wash_span w ON w.unit_id = e.unit_id AND w.started_ms >= e.from_ms AND w.started_ms <= coalesce(
                (SELECT n.started_ms FROM wash_span n WHERE n.unit_id = e.unit_id AND n.started_ms >= e.from_ms
                 ORDER BY n.started_ms OFFSET @most ROWS FETCH NEXT 1 ROWS ONLY), e.until_ms)
            WHERE w.started_ms < e.until_ms
            """);

    /// <summary>The records of units from an instant on.</summary>
    /// <param name="units">Which units.</param>
    /// <param name="since">Faults cleared, visits ended and approvals decided before it are left out.</param>
    /// <param name="until">What began after it is left out.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<IReadOnlyList<UnitRepairs>> ReadAsync(
        IReadOnlyList<UnitTerms> units, Instant since, Instant until, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        if (units.Count == 0)
        {
            return [];
        }

        var window = new
        {
            first = units.Min(unit => unit.Unit.Id),
            last = units.Max(unit => unit.Unit.Id),
            sinceMs = since.ToUnixTimeMilliseconds(),
            untilMs = until.ToUnixTimeMilliseconds(),
        };
        async Task<ILookup<int, T>> RowsAsync<T>(Sql sql)
            where T : IUnitRow =>
            (await connection.QueryAsync<T>(new CommandDefinition(sql.For(connection), window, snapshot, cancellationToken: cancellationToken))).ToLookup(row => row.UnitId);
        ILookup<int, FaultRow> faults = await RowsAsync<FaultRow>(FaultsSql);
        ILookup<int, VisitRow> visits = await RowsAsync<VisitRow>(VisitsSql);
        ILookup<int, ApprovalRow> approvals = await RowsAsync<ApprovalRow>(ApprovalsSql);
        ILookup<int, PartRow> parts = await RowsAsync<PartRow>(PartsSql);
        return
        [
            .. units.Select(unit => new UnitRepairs(
                unit,
                [.. faults[unit.Unit.Id].Select(row => row.ToFault(unit.Unit.Model))],
                [.. visits[unit.Unit.Id].Select(row => row.ToVisit())],
                [.. approvals[unit.Unit.Id].Select(row => row.ToApproval())],
                [.. parts[unit.Unit.Id].Select(row => Instant.FromUnixTimeMilliseconds(row.EndedMs))])),
        ];
    }

    /// <summary>The first washes after each repair, by the number of its visit.</summary>
    /// <param name="repairs">The repairs: number of the visit, number of the unit, from when and up to when.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    internal async Task<ILookup<long, WashWithFault>> WashesAfterAsync(
        IEnumerable<(long Seq, int UnitId, Instant From, Instant Until)> repairs, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        long[][] asked =
            [.. repairs.Select(one => new[] { one.Seq, one.UnitId, one.From.ToUnixTimeMilliseconds(), one.Until.ToUnixTimeMilliseconds() })];
        var values = new { repairs = JsonSerializer.Serialize(asked), most = WashesRead - 1 };
        return (await connection.QueryAsync<WashRow>(new CommandDefinition(WashesSql.For(connection), values, cancellationToken: cancellationToken)))
            .ToLookup(row => row.Seq, row => row.ToWash());
    }

    private static Instant? Maybe(long? ms) => ms is { } known ? Instant.FromUnixTimeMilliseconds(known) : null;

    private static T[] List<T>(string? json) => json is null ? [] : JsonSerializer.Deserialize<T[]>(json, Json.Options)!;

    private interface IUnitRow
    {
        int UnitId { get; }
    }

    private sealed class FaultRow : IUnitRow
    {
        public int UnitId { get; init; }

        public required string Code { get; init; }

        public long RaisedMs { get; init; }

        public long? ClearedMs { get; init; }

        public WashFault ToFault(ModelEntry model) => new(
            Code, Instant.FromUnixTimeMilliseconds(RaisedMs), Maybe(ClearedMs), model.Faults.GetValueOrDefault(Code)?.LocksOutWashing ?? false);
    }

    private sealed class VisitRow : IUnitRow
    {
        public long Seq { get; init; }

        public int UnitId { get; init; }

        public required string Key { get; init; }

        public long? AskedMs { get; init; }

        public long? ArrivedMs { get; init; }

        public long? LeftMs { get; init; }

        public string? Outcome { get; init; }

        public string? Technician { get; init; }

        public string? Faults { get; init; }

        public string? Findings { get; init; }

        public string? Proofs { get; init; }

        public string? PartPosition { get; init; }

        public StoredVisit ToVisit() => new(
            Seq,
            Key,
            Maybe(AskedMs),
            Maybe(ArrivedMs),
            Maybe(LeftMs),
            Outcome is null ? null : EnumText<VisitOutcome>.Parse(Outcome),
            Technician,
            List<string>(Faults),
            List<VisitFinding>(Findings).FirstOrDefault()?.Position ?? PartPosition,
            [.. List<VisitProof>(Proofs).Select(proof => new TakenProof(proof.Proof, ResultOf(proof.Result)))]);

        private static ProofResult ResultOf(CheckResult result) => result switch
        {
            CheckResult.Pass => ProofResult.Passed,
            CheckResult.Fail => ProofResult.Failed,
            _ => ProofResult.NotDone,
        };
    }

    private sealed class ApprovalRow : IUnitRow
    {
        public int UnitId { get; init; }

        public long? AskedMs { get; init; }

        public long? DecidedMs { get; init; }

        public long? Granted { get; init; }

        public Approval ToApproval() => new(Maybe(AskedMs), Maybe(DecidedMs), Granted is { } granted ? granted != 0 : null);
    }

    private sealed class PartRow : IUnitRow
    {
        public int UnitId { get; init; }

        public long EndedMs { get; init; }
    }

    private sealed class WashRow
    {
        public long Seq { get; init; }

        public long StartedMs { get; init; }

        public long? EndedMs { get; init; }

        public required string Grade { get; init; }

        public required string Outcome { get; init; }

        public long? DetergentLeft { get; init; }

        public long Attested { get; init; }

        public string? FaultCode { get; init; }

        public WashWithFault ToWash() => new(
            new Wash(
                Instant.FromUnixTimeMilliseconds(StartedMs),
                Maybe(EndedMs),
                Grade == Spelling.UnknownGrade ? ProgrammeGrade.Rinse : EnumText<ProgrammeGrade>.Parse(Grade),
                EnumText<WashOutcome>.Parse(Outcome),
                DetergentLeft is { } left ? left != 0 : null,
                Attested != 0 ? "attested" : null),
            FaultCode);
    }
}
