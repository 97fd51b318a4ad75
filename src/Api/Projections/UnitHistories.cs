using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Reads what cleaning is computed from: the records of units that count.</summary>
public static class UnitHistories
{
    // A wash is found by its start; one that runs longer than this over the begin of what is read is not.
    private static readonly TimeSpan LongestWash = TimeSpan.FromDays(7);

    // SQLite is told to look each unit up in turn.
    private static readonly Sql OfUnits = new(Sqlite: " FROM json_each(@Units) u CROSS JOIN ", SqlServer: " FROM OPENJSON(@Units) u JOIN ");
    private static readonly Sql UnitId = new(Sqlite: "u.value", SqlServer: "CAST(u.value AS BIGINT)");

    private static readonly Sql Washes = """
        SELECT w.unit_id AS UnitId, w.started_ms AS StartedMs, w.ended_ms AS EndedMs, w.grade AS Grade, w.outcome AS Outcome,
               w.detergent_left AS DetergentLeft, w.attested AS Attested
        """ + OfUnits + "wash_span w ON w.unit_id = " + UnitId + " AND w.started_ms BETWEEN @WashSinceMs AND @UntilMs";

    private static readonly Sql Faults = "SELECT f.unit_id AS UnitId, f.code AS Code, f.raised_ms AS RaisedMs, f.cleared_ms AS ClearedMs"
        + OfUnits + "fault_span f ON f.unit_id = " + UnitId + """
         AND f.raised_ms <= @UntilMs
        WHERE f.cleared_ms IS NULL OR f.cleared_ms >= @SinceMs OR f.raised_ms >= @SinceMs
        """;

    private static readonly Sql SignsOfLife = "SELECT r.unit_id AS UnitId, r.at_ms AS AtMs, m.operating_hours_total AS OperatingHours"
        + OfUnits + "record r ON r.unit_id = " + UnitId + """
         AND r.at_ms BETWEEN @SinceMs AND @UntilMs
        LEFT JOIN meter m ON m.seq = r.seq
        WHERE r.type IN ('heartbeat', 'meter') AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        """;

    private static readonly Sql Visits =
        "SELECT s.unit_id AS UnitId, s.asked_ms AS AskedMs, s.arrived_ms AS ArrivedMs, s.left_ms AS LeftMs, s.outcome AS Outcome"
        + OfUnits + "visit_span s ON s.unit_id = " + UnitId + " AND s.from_ms <= @UntilMs WHERE s.left_ms IS NULL OR s.left_ms >= @SinceMs";

    private static readonly Sql Approvals =
        "SELECT s.unit_id AS UnitId, s.asked_ms AS AskedMs, s.decided_ms AS DecidedMs, s.granted AS Granted"
        + OfUnits + "approval_span s ON s.unit_id = " + UnitId
        + " AND s.from_ms <= @UntilMs WHERE s.decided_ms IS NULL OR s.decided_ms >= @SinceMs";

    /// <summary>The records of units in a stretch of time.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">The transaction, so that all are seen at one commit.</param>
    /// <param name="units">Which units.</param>
    /// <param name="since">Records of which nothing happened at or after it are left out; null: none are.</param>
    /// <param name="until">Records after it are left out; null: none are.</param>
    /// <returns>One history a unit, by the unit's number, also for units without records.</returns>
    public static IReadOnlyDictionary<int, UnitHistory> Read(
        DbConnection connection, DbTransaction transaction, IReadOnlyCollection<UnitTerms> units, Instant? since, Instant? until)
    {
        long sinceMs = since?.ToUnixTimeMilliseconds() ?? long.MinValue;
        var asked = new
        {
            Units = JsonSerializer.Serialize(units.Select(unit => unit.Unit.Id)),
            SinceMs = sinceMs,
            WashSinceMs = since is null ? sinceMs : sinceMs - (long)LongestWash.TotalMilliseconds,
            UntilMs = until?.ToUnixTimeMilliseconds() ?? long.MaxValue,
        };
        ILookup<long, T> Rows<T>(Sql sql)
            where T : IUnitRow => connection.Query<T>(sql.For(connection), asked, transaction).ToLookup(row => row.UnitId);
        ILookup<long, WashRow> washes = Rows<WashRow>(Washes);
        ILookup<long, FaultRow> faults = Rows<FaultRow>(Faults);
        ILookup<long, SignRow> signs = Rows<SignRow>(SignsOfLife);
        ILookup<long, VisitRow> visits = Rows<VisitRow>(Visits);
        ILookup<long, ApprovalRow> approvals = Rows<ApprovalRow>(Approvals);
        return units.ToDictionary(unit => unit.Unit.Id, unit => new UnitHistory(
            unit.Service,
            [.. washes[unit.Unit.Id].Select(row => row.ToWash())],
            [.. faults[unit.Unit.Id].Select(row => row.ToFault(unit.Unit.Model))],
            [.. signs[unit.Unit.Id].Select(row => Instant.FromUnixTimeMilliseconds(row.AtMs))],
            [.. visits[unit.Unit.Id].Select(row => row.ToVisit())],
            [.. approvals[unit.Unit.Id].Select(row => row.ToApproval())])
        {
            Meters =
            [
                .. signs[unit.Unit.Id].Where(row => row.OperatingHours is not null)
                    .Select(row => new MeterReading(Instant.FromUnixTimeMilliseconds(row.AtMs), row.OperatingHours!.Value)),
            ],
        });
    }

    private static Instant? Maybe(long? ms) => ms is { } known ? Instant.FromUnixTimeMilliseconds(known) : null;

    private interface IUnitRow
    {
        long UnitId { get; }
    }

    private sealed record WashRow(
        long UnitId, long StartedMs, long? EndedMs, string Grade, string Outcome, long? DetergentLeft, long Attested) : IUnitRow
    {
        // A wash of which nobody knows the grade counts for nothing above a rinse.
        public Wash ToWash() => new(
            Instant.FromUnixTimeMilliseconds(StartedMs),
            Maybe(EndedMs),
            Grade == Spelling.UnknownGrade ? ProgrammeGrade.Rinse : EnumText<ProgrammeGrade>.Parse(Grade),
            EnumText<WashOutcome>.Parse(Outcome),
            DetergentLeft is { } left ? left != 0 : null,
            Attested != 0 ? "attested" : null);
    }

    private sealed record FaultRow(long UnitId, string Code, long RaisedMs, long? ClearedMs) : IUnitRow
    {
        public WashFault ToFault(ModelEntry model) => new(
            Code,
            Instant.FromUnixTimeMilliseconds(RaisedMs),
            Maybe(ClearedMs),
            model.Faults.TryGetValue(Code, out FaultResource? fault) && fault.LocksOutWashing);
    }

    private sealed record VisitRow(long UnitId, long? AskedMs, long? ArrivedMs, long? LeftMs, string? Outcome) : IUnitRow
    {
        public Visit ToVisit() => new(
            Maybe(AskedMs), Maybe(ArrivedMs), Maybe(LeftMs), Outcome is null ? null : EnumText<VisitOutcome>.Parse(Outcome));
    }

    private sealed record ApprovalRow(long UnitId, long? AskedMs, long? DecidedMs, long? Granted) : IUnitRow
    {
        public Approval ToApproval() => new(Maybe(AskedMs), Maybe(DecidedMs), Granted is { } granted ? granted != 0 : null);
    }

    private sealed record SignRow(long UnitId, long AtMs, double? OperatingHours) : IUnitRow;
}
