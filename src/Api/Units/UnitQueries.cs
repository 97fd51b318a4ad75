using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using Dapper;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Reads what the pages of units ask for.</summary>
/// <param name="database">The database.</param>
public sealed class UnitQueries(Database database)
{
    private const double MillisecondsPerMinute = 60_000;
    private const double MillisecondsPerHour = 3_600_000;

    private const string LastHeard = "SELECT s.unit_id AS UnitId, s.last_heard_ms AS Ms FROM unit_status s WHERE s.last_heard_ms IS NOT NULL";

    private static readonly Sql History = Sql.FirstRows(
        """
        SELECT r.seq AS Seq, r.at_ms AS AtMs, r.type AS Type, r.source AS Source, r."key" AS "Key", r.received_ms AS ReceivedMs,
               CASE WHEN v."key" IS NULL THEN 0 ELSE 1 END AS Voided,
               w.ended_ms AS EndedMs, COALESCE(w.programme, w.grade) AS Programme, COALESCE(w.outcome, x.outcome) AS Outcome, w.fault_code AS FaultCode,
               w.detergent_left AS DetergentLeft, w.attested_by AS AttestedBy,
               COALESCE(f.code, c.code) AS Code, f.cleared_ms AS ClearedMs,
               COALESCE(p.position, d.position) AS Position, p.removed_reason AS RemovedReason, p.failure_mode AS FailureMode, p.fitted AS Fitted,
               p.part_number AS PartNumber,
               m.washes_total AS WashesTotal, m.operating_hours_total AS OperatingHoursTotal,
               COALESCE(x.asked_ms, a.asked_ms) AS AskedMs, x.arrived_ms AS ArrivedMs, x.left_ms AS LeftMs, x.technician AS Technician,
               x.findings AS Findings, a.what AS What, a.amount AS Amount, a.decision AS Decision, a.decided_ms AS DecidedMs,
               a.decided_by AS DecidedBy, d.grade AS Condition, d.note AS ConditionNote
        FROM record r
        LEFT JOIN voided v ON v.source = r.source AND v."key" = r."key"
        LEFT JOIN wash w ON w.seq = r.seq
        LEFT JOIN fault f ON f.seq = r.seq
        LEFT JOIN fault_cleared c ON c.seq = r.seq
        LEFT JOIN part_change p ON p.seq = r.seq
        LEFT JOIN meter m ON m.seq = r.seq
        LEFT JOIN visit x ON x.seq = r.seq
        LEFT JOIN approval a ON a.seq = r.seq
        LEFT JOIN condition d ON d.seq = r.seq
        WHERE r.unit_id = @UnitId AND (@AtMs IS NULL OR r.at_ms < @AtMs OR (r.at_ms = @AtMs AND r.seq < @Seq))
        ORDER BY r.at_ms DESC, r.seq DESC
        """,
        "@Limit");

    /// <summary>When each unit was last heard, by the unit's number.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<int, DateTimeOffset>> LastHeardAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<(int UnitId, long Ms)>(new CommandDefinition(LastHeard, cancellationToken: cancellationToken)))
            .ToDictionary(row => row.UnitId, row => DateTimeOffset.FromUnixTimeMilliseconds(row.Ms));
    }

    /// <summary>A unit's timeline, newest first.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="page">The page asked for; the key is the instant and the order of acceptance.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<UnitHistoryReport> HistoryAsync(UnitEntry unit, PageRequest page, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var asked = new
        {
            UnitId = unit.Id,
            AtMs = page.After is { } at && long.TryParse(at[0], CultureInfo.InvariantCulture, out long ms) ? ms : (long?)null,
            Seq = page.After is { } seq && long.TryParse(seq[1], CultureInfo.InvariantCulture, out long number) ? number : 0,
            Limit = page.Limit + 1,
        };
        List<HistoryRow> rows = (await connection.QueryAsync<HistoryRow>(
            new CommandDefinition(History.For(connection), asked, cancellationToken: cancellationToken))).AsList();
        PageOf<HistoryRow> shown = Paging.Trim(
            rows, row => [row.AtMs.ToString(CultureInfo.InvariantCulture), row.Seq.ToString(CultureInfo.InvariantCulture)], page);
        return new UnitHistoryReport(unit.Resource.Unit, [.. shown.Items.Select(row => Item(row, unit.Model))], shown.Next);
    }

    private static HistoryItem Item(HistoryRow row, ModelEntry model) => new(
        row.Seq,
        DateTimeOffset.FromUnixTimeMilliseconds(row.AtMs),
        row.Type,
        row.Source,
        row.Key,
        DateTimeOffset.FromUnixTimeMilliseconds(row.ReceivedMs),
        Sentence(row, model),
        row.Voided != 0);

    private static string Sentence(HistoryRow row, ModelEntry model) => row.Type switch
    {
        "wash" => HistorySentences.Wash(
            row.Programme,
            EnumText<WashOutcome>.Parse(row.Outcome!),
            (row.EndedMs - row.AtMs) / MillisecondsPerMinute,
            row.FaultCode,
            row.DetergentLeft is { } left ? left != 0 : null,
            row.AttestedBy),
        "fault" => HistorySentences.Fault(
            row.Code!, model.Faults.GetValueOrDefault(row.Code!)?.Text, (row.ClearedMs - row.AtMs) / MillisecondsPerHour),
        "fault_cleared" => HistorySentences.FaultCleared(row.Code!),
        "part_change" => HistorySentences.PartChange(
            Position(model, row.Position!),
            row.RemovedReason,
            row.FailureMode,
            row.Fitted == 1,
            row.PartNumber),
        "meter" => HistorySentences.Meter(row.WashesTotal, row.OperatingHoursTotal),
        "heartbeat" => "The unit was heard.",
        "visit" => HistorySentences.Visit(
            row.Technician,
            row.ArrivedMs is not null,
            row.LeftMs is not null,
            (row.ArrivedMs - row.AskedMs) / MillisecondsPerHour,
            (row.LeftMs - row.ArrivedMs) / MillisecondsPerHour,
            row.Outcome is null ? null : EnumText<VisitOutcome>.Parse(row.Outcome),
            Found(row.Findings, model)),
        "approval" => HistorySentences.Approval(
            row.What,
            row.Amount,
            row.Decision is null ? null : EnumText<ApprovalDecision>.Parse(row.Decision) == ApprovalDecision.Granted,
            row.DecidedBy,
            (row.DecidedMs - row.AskedMs) / MillisecondsPerHour),
        "condition" => HistorySentences.Condition(Position(model, row.Position!), row.Condition!, row.ConditionNote),
        _ => row.Type,
    };

    private static string Position(ModelEntry model, string code) => model.Positions.GetValueOrDefault(code)?.Name ?? code;

    private static string[] Found(string? findings, ModelEntry model) => findings is null ? [] :
    [
        .. JsonSerializer.Deserialize<VisitFinding[]>(findings, Json.Options)!
            .Select(one => Position(model, one.Position) + (one.FailureMode is null ? string.Empty : " (" + one.FailureMode + ")")),
    ];

    private sealed class HistoryRow
    {
        public long Seq { get; init; }

        public long AtMs { get; init; }

        public required string Type { get; init; }

        public required string Source { get; init; }

        public required string Key { get; init; }

        public long ReceivedMs { get; init; }

        public long Voided { get; init; }

        public long? EndedMs { get; init; }

        public string? Programme { get; init; }

        public string? Outcome { get; init; }

        public string? FaultCode { get; init; }

        public long? DetergentLeft { get; init; }

        public string? AttestedBy { get; init; }

        public string? Code { get; init; }

        public long? ClearedMs { get; init; }

        public string? Position { get; init; }

        public string? RemovedReason { get; init; }

        public string? FailureMode { get; init; }

        public long? Fitted { get; init; }

        public string? PartNumber { get; init; }

        public double? WashesTotal { get; init; }

        public double? OperatingHoursTotal { get; init; }

        public long? AskedMs { get; init; }

        public long? ArrivedMs { get; init; }

        public long? LeftMs { get; init; }

        public string? Technician { get; init; }

        public string? Findings { get; init; }

        public string? What { get; init; }

        public double? Amount { get; init; }

        public string? Decision { get; init; }

        public long? DecidedMs { get; init; }

        public string? DecidedBy { get; init; }

        public string? Condition { get; init; }

        public string? ConditionNote { get; init; }
    }
}
