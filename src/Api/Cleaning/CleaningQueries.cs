using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Cleaning;

/// <summary>Reads from the projections what cleaning is computed from.</summary>
/// <param name="database">The database.</param>
public sealed class CleaningQueries(Database database)
{
    // A wash of which nobody knows the grade counts for nothing above a rinse.
    private const string UnknownGrade = "unknown";

    // A wash is found by its start; one that runs longer than this over the begin of what is read is not.
    private static readonly TimeSpan LongestWash = TimeSpan.FromDays(7);

    private const string Washes = """
        SELECT w.unit_id AS UnitId, w.started_ms AS StartedMs, w.ended_ms AS EndedMs, w.grade AS Grade, w.outcome AS Outcome,
               w.detergent_left AS DetergentLeft, w.attested AS Attested
        FROM json_each(@Units) u
        CROSS JOIN wash_span w ON w.unit_id = u.value AND w.started_ms BETWEEN @WashSinceMs AND @UntilMs
        """;

    private const string Faults = """
        SELECT f.unit_id AS UnitId, f.code AS Code, f.raised_ms AS RaisedMs, f.cleared_ms AS ClearedMs
        FROM json_each(@Units) u
        CROSS JOIN fault_span f ON f.unit_id = u.value AND f.raised_ms <= @UntilMs
        WHERE f.cleared_ms IS NULL OR f.cleared_ms >= @SinceMs OR f.raised_ms >= @SinceMs
        """;

    private const string SignsOfLife = """
        SELECT r.unit_id AS UnitId, r.at_ms AS AtMs
        FROM json_each(@Units) u
        CROSS JOIN record r ON r.unit_id = u.value AND r.at_ms BETWEEN @SinceMs AND @UntilMs
        LEFT JOIN voided v ON v.source = r.source AND v.key = r.key
        WHERE r.type IN ('heartbeat', 'meter') AND v.key IS NULL
        """;

    private const string Visits = """
        SELECT s.unit_id AS UnitId, s.asked_ms AS AskedMs, s.arrived_ms AS ArrivedMs, s.left_ms AS LeftMs, s.outcome AS Outcome
        FROM json_each(@Units) u
        CROSS JOIN visit_span s ON s.unit_id = u.value AND s.from_ms <= @UntilMs
        WHERE s.left_ms IS NULL OR s.left_ms >= @SinceMs
        """;

    private const string Approvals = """
        SELECT s.unit_id AS UnitId, s.asked_ms AS AskedMs, s.decided_ms AS DecidedMs, s.granted AS Granted
        FROM json_each(@Units) u
        CROSS JOIN approval_span s ON s.unit_id = u.value AND s.from_ms <= @UntilMs
        WHERE s.decided_ms IS NULL OR s.decided_ms >= @SinceMs
        """;

    private const string LastSeq = "SELECT COALESCE(MAX(seq), 0) FROM record";

    private const string Changed = """
        SELECT c.UnitId AS UnitId, MIN(c.AtMs) AS AtMs
        FROM (
            SELECT r.unit_id AS UnitId, r.at_ms AS AtMs FROM record r WHERE r.seq > @Seq AND r.unit_id IS NOT NULL
            UNION ALL
            SELECT t.unit_id, t.at_ms FROM record b
            JOIN voided v ON v.by_seq = b.seq
            JOIN record t ON t.seq = v.target_seq
            WHERE b.seq > @Seq AND t.unit_id IS NOT NULL
        ) c
        GROUP BY c.UnitId
        """;

    /// <summary>The records of units in a stretch of time.</summary>
    /// <param name="units">Which units.</param>
    /// <param name="since">Records of which nothing happened at or after it are left out; null: none are.</param>
    /// <param name="until">Records after it are left out.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>One history a unit, by the unit's number, also for units without records.</returns>
    public async Task<IReadOnlyDictionary<int, UnitHistory>> HistoriesAsync(
        IReadOnlyCollection<UnitTerms> units, DateTimeOffset? since, DateTimeOffset until, CancellationToken cancellationToken)
    {
        long sinceMs = since?.ToUnixTimeMilliseconds() ?? long.MinValue;
        var asked = new
        {
            Units = JsonSerializer.Serialize(units.Select(unit => unit.Unit.Id)),
            SinceMs = sinceMs,
            WashSinceMs = since is null ? sinceMs : sinceMs - (long)LongestWash.TotalMilliseconds,
            UntilMs = until.ToUnixTimeMilliseconds(),
        };
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        CommandDefinition Ask(string sql) => new(sql, asked, snapshot, cancellationToken: cancellationToken);
        ILookup<int, WashRow> washes = (await connection.QueryAsync<WashRow>(Ask(Washes))).ToLookup(row => row.UnitId);
        ILookup<int, FaultRow> faults = (await connection.QueryAsync<FaultRow>(Ask(Faults))).ToLookup(row => row.UnitId);
        ILookup<int, SignRow> signs = (await connection.QueryAsync<SignRow>(Ask(SignsOfLife))).ToLookup(row => row.UnitId);
        ILookup<int, VisitRow> visits = (await connection.QueryAsync<VisitRow>(Ask(Visits))).ToLookup(row => row.UnitId);
        ILookup<int, ApprovalRow> approvals = (await connection.QueryAsync<ApprovalRow>(Ask(Approvals))).ToLookup(row => row.UnitId);
        return units.ToDictionary(unit => unit.Unit.Id, unit => new UnitHistory(
            unit.Service,
            [.. washes[unit.Unit.Id].Select(row => row.ToWash())],
            [.. faults[unit.Unit.Id].Select(row => row.ToFault(unit.Unit.Model))],
            [.. signs[unit.Unit.Id].Select(row => Instant.FromUnixTimeMilliseconds(row.AtMs))],
            [.. visits[unit.Unit.Id].Select(row => row.ToVisit())],
            [.. approvals[unit.Unit.Id].Select(row => row.ToApproval())]));
    }

    /// <summary>Which units have had records added or withdrawn since a place in the ledger, and from which instant on that changes them.</summary>
    /// <param name="seq">Place in the ledger.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>The ledger's last place now, and the earliest instant by the unit's number.</returns>
    public async Task<(long LastSeq, IReadOnlyDictionary<int, Instant> Earliest)> ChangedSinceAsync(long seq, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction snapshot = Database.BeginReading(connection);
        long last = await connection.ExecuteScalarAsync<long>(
            new CommandDefinition(LastSeq, transaction: snapshot, cancellationToken: cancellationToken));
        IEnumerable<SignRow> changed = last == seq ? [] : await connection.QueryAsync<SignRow>(
            new CommandDefinition(Changed, new { Seq = seq }, snapshot, cancellationToken: cancellationToken));
        return (last, changed.ToDictionary(row => row.UnitId, row => Instant.FromUnixTimeMilliseconds(row.AtMs)));
    }

    private static Instant? Maybe(long? ms) => ms is { } known ? Instant.FromUnixTimeMilliseconds(known) : null;

    private sealed class WashRow
    {
        public int UnitId { get; init; }

        public long StartedMs { get; init; }

        public long? EndedMs { get; init; }

        public required string Grade { get; init; }

        public required string Outcome { get; init; }

        public long? DetergentLeft { get; init; }

        public long Attested { get; init; }

        public Wash ToWash() => new(
            Instant.FromUnixTimeMilliseconds(StartedMs),
            Maybe(EndedMs),
            Grade == UnknownGrade ? ProgrammeGrade.Rinse : EnumText<ProgrammeGrade>.Parse(Grade),
            EnumText<WashOutcome>.Parse(Outcome),
            DetergentLeft is { } left ? left != 0 : null,
            Attested != 0 ? "attested" : null);
    }

    private sealed class FaultRow
    {
        public int UnitId { get; init; }

        public required string Code { get; init; }

        public long RaisedMs { get; init; }

        public long? ClearedMs { get; init; }

        public WashFault ToFault(ModelEntry model) => new(
            Code,
            Instant.FromUnixTimeMilliseconds(RaisedMs),
            Maybe(ClearedMs),
            model.Faults.TryGetValue(Code, out FaultResource? fault) && fault.LocksOutWashing);
    }

    private sealed class VisitRow
    {
        public int UnitId { get; init; }

        public long? AskedMs { get; init; }

        public long? ArrivedMs { get; init; }

        public long? LeftMs { get; init; }

        public string? Outcome { get; init; }

        public Visit ToVisit() => new(
            Maybe(AskedMs), Maybe(ArrivedMs), Maybe(LeftMs), Outcome is null ? null : EnumText<VisitOutcome>.Parse(Outcome));
    }

    private sealed class ApprovalRow
    {
        public int UnitId { get; init; }

        public long? AskedMs { get; init; }

        public long? DecidedMs { get; init; }

        public long? Granted { get; init; }

        public Approval ToApproval() => new(Maybe(AskedMs), Maybe(DecidedMs), Granted is { } granted ? granted != 0 : null);
    }

    private sealed class SignRow
    {
        public int UnitId { get; init; }

        public long AtMs { get; init; }
    }
}
