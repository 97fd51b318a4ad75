using System.Data.Common;
using Dapper;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.VisitSheets;

/// <summary>Reads what a visit sheet asks for.</summary>
/// <param name="database">The database.</param>
public sealed class VisitSheetQueries(Database database)
{
    private static readonly Sql Washes = Sql.FirstRows(
        """
        SELECT s.started_ms AS StartedAt, s.ended_ms AS EndedAt, coalesce(s.programme, w.grade) AS Programme, s.outcome AS Outcome,
               s.fault_code AS FaultCode, s.detergent_left AS DetergentLeft, w.attested_by AS AttestedBy
        FROM wash_span s JOIN wash w ON w.seq = s.seq
        WHERE s.unit_id = @unitId AND s.started_ms <= @until
        ORDER BY s.started_ms DESC, s.seq DESC
        """,
        "@limit");

    private const string Visits = """
        SELECT v.asked_ms AS AskedAt, v.arrived_ms AS ArrivedAt, v.left_ms AS LeftAt, v.outcome AS Outcome, v.technician AS Technician,
               v.faults AS Faults, v.checks AS Checks, v.findings AS Findings, v.conditions AS Conditions
        FROM visit_span s JOIN visit v ON v.seq = s.seq
        WHERE s.unit_id = @unitId AND s.from_ms <= @until
        ORDER BY s.from_ms DESC, s.seq DESC
        """;

    private const string Conditions = """
        SELECT r.at_ms AS At, c.position AS Position, c.grade AS Grade, c.note AS Note
        FROM record r JOIN condition c ON c.seq = r.seq
        WHERE r.unit_id = @unitId AND r.at_ms <= @until AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        ORDER BY r.at_ms, r.seq
        """;

    private const string Closed = """
        SELECT s.unit_id AS UnitId, s.left_ms AS LeftAt, s.outcome AS Outcome, v.faults AS Faults, v.findings AS Findings
        FROM visit_span s JOIN visit v ON v.seq = s.seq
        WHERE s.left_ms IS NOT NULL AND s.outcome IN ('proven', 'repaired_not_proven', 'no_fault_found') AND v.faults IS NOT NULL
        """;

    private const string LastVisits =
        "SELECT coalesce((SELECT max(seq) FROM visit), 0) AS Visits, coalesce((SELECT max(by_seq) FROM voided), 0) AS Voids";

    /// <summary>The ledger's last visit and last void: while they stay, so do the closed visits.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<(long Visits, long Voids)> LastVisitsAsync(CancellationToken cancellationToken) =>
        (await ReadAsync<(long, long)>(LastVisits, new { }, cancellationToken))[0];

    /// <summary>Visits of the whole fleet that ended with a repair or found nothing, and say which faults they were for. One that left to
    /// wait
    /// for a part or an approval is followed by another.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public Task<IReadOnlyList<ClosedVisit>> ClosedVisitsAsync(CancellationToken cancellationToken) =>
        ReadAsync<ClosedVisit>(Closed, new { }, cancellationToken);

    /// <summary>The last washes of a unit, newest first.</summary>
    /// <param name="unitId">The unit's number.</param>
    /// <param name="until">Washes that started later are left out.</param>
    /// <param name="limit">Most rows.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public Task<IReadOnlyList<WashOfUnit>> WashesAsync(int unitId, DateTimeOffset until, int limit, CancellationToken cancellationToken) =>
        ReadAsync<WashOfUnit>(Washes, new { unitId, until, limit }, cancellationToken);

    /// <summary>The visits of a unit that count, newest first.</summary>
    /// <param name="unitId">The unit's number.</param>
    /// <param name="until">Visits that began later are left out.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public Task<IReadOnlyList<VisitToUnit>> VisitsAsync(int unitId, DateTimeOffset until, CancellationToken cancellationToken) =>
        ReadAsync<VisitToUnit>(Visits, new { unitId, until }, cancellationToken);

    /// <summary>What people graded outside visits, oldest first.</summary>
    /// <param name="unitId">The unit's number.</param>
    /// <param name="until">Later ones are left out.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public Task<IReadOnlyList<ConditionSeen>> ConditionsAsync(int unitId, DateTimeOffset until, CancellationToken cancellationToken) =>
        ReadAsync<ConditionSeen>(Conditions, new { unitId, until }, cancellationToken);

    private async Task<IReadOnlyList<T>> ReadAsync<T>(Sql sql, object asked, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<T>(new CommandDefinition(sql.For(connection), asked, cancellationToken: cancellationToken))).AsList();
    }
}

/// <summary>A wash, a refusal or a clean by hand.</summary>
public sealed class WashOfUnit
{
    /// <summary>When it started.</summary>
    public DateTimeOffset StartedAt { get; init; }

    /// <summary>When it ended; null: not known, or it never started.</summary>
    public DateTimeOffset? EndedAt { get; init; }

    /// <summary>Programme or grade as reported.</summary>
    public string? Programme { get; init; }

    /// <summary>How it ended, as the API spells it.</summary>
    public required string Outcome { get; init; }

    /// <summary>Fault that stopped or refused it.</summary>
    public string? FaultCode { get; init; }

    /// <summary>1: detergent was left, 0: none; null: nobody looked.</summary>
    public long? DetergentLeft { get; init; }

    /// <summary>Who attests a clean by hand.</summary>
    public string? AttestedBy { get; init; }
}

/// <summary>A visit to a unit.</summary>
public sealed class VisitToUnit
{
    /// <summary>When it was asked for.</summary>
    public DateTimeOffset? AskedAt { get; init; }

    /// <summary>When work began.</summary>
    public DateTimeOffset? ArrivedAt { get; init; }

    /// <summary>When work ended.</summary>
    public DateTimeOffset? LeftAt { get; init; }

    /// <summary>How it ended, as the API spells it.</summary>
    public string? Outcome { get; init; }

    /// <summary>How it ended.</summary>
    public VisitOutcome? EndedAs => Outcome is null ? null : EnumText<VisitOutcome>.Parse(Outcome);

    /// <summary>Who came.</summary>
    public string? Technician { get; init; }

    /// <summary>Codes of the faults that it was for, as JSON.</summary>
    public string? Faults { get; init; }

    /// <summary>Checks that were done, as JSON.</summary>
    public string? Checks { get; init; }

    /// <summary>What was wrong, as JSON.</summary>
    public string? Findings { get; init; }

    /// <summary>What was looked at and left in, as JSON.</summary>
    public string? Conditions { get; init; }
}

/// <summary>A part that was looked at outside a visit and left in.</summary>
public sealed class ConditionSeen
{
    /// <summary>When.</summary>
    public DateTimeOffset At { get; init; }

    /// <summary>Its position, as reported.</summary>
    public required string Position { get; init; }

    /// <summary>good, worn or poor.</summary>
    public required string Grade { get; init; }

    /// <summary>Words of the person who looked.</summary>
    public string? Note { get; init; }
}

/// <summary>A visit that is over.</summary>
public sealed class ClosedVisit
{
    /// <summary>The unit's number.</summary>
    public int UnitId { get; init; }

    /// <summary>When work ended.</summary>
    public DateTimeOffset LeftAt { get; init; }

    /// <summary>How it ended, as the API spells it.</summary>
    public required string Outcome { get; init; }

    /// <summary>Codes of the faults that it was for, as JSON.</summary>
    public required string Faults { get; init; }

    /// <summary>What was wrong, as JSON; null: nothing told.</summary>
    public string? Findings { get; init; }
}
