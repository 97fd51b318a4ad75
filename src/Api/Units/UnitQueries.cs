using System.Data.Common;
using System.Globalization;
using Dapper;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Reads what the pages of units ask for.</summary>
/// <param name="database">The database.</param>
public sealed class UnitQueries(Database database)
{
    /// <summary>The columns of a <see cref="RecordRow"/>, of a record r.</summary>
    internal const string Columns = """
        r.seq AS Seq, r.unit_id AS UnitId, r.at_ms AS AtMs, r.type AS Type, r.source AS Source, r."key" AS "Key", r.received_ms AS ReceivedMs,
               r.replaces AS Replaces, CASE WHEN v."key" IS NULL THEN 0 ELSE 1 END AS Voided, b.type AS ByType,
               w.ended_ms AS EndedMs, COALESCE(w.programme, w.grade) AS Programme, w.programme AS WashProgramme, w.grade AS Grade,
               COALESCE(w.outcome, x.outcome) AS Outcome, w.fault_code AS FaultCode,
               w.detergent_left AS DetergentLeft, w.attested_by AS AttestedBy,
               COALESCE(f.code, c.code) AS Code, f.cleared_ms AS ClearedMs,
               COALESCE(p.position, d.position) AS Position, p.removed_reason AS RemovedReason, p.failure_mode AS FailureMode, p.fitted AS Fitted,
               p.part_number AS PartNumber,
               m.washes_total AS WashesTotal, m.operating_hours_total AS OperatingHoursTotal,
               COALESCE(x.asked_ms, a.asked_ms) AS AskedMs, x.arrived_ms AS ArrivedMs, x.left_ms AS LeftMs, x.technician AS Technician,
               x.findings AS Findings, a.what AS What, a.amount AS Amount, a.decision AS Decision, a.decided_ms AS DecidedMs,
               a.decided_by AS DecidedBy, d.grade AS Condition, d.note AS ConditionNote
        """;

    /// <summary>The tables that the columns come from, beside that of the record r.</summary>
    internal const string Joins = """
        LEFT JOIN voided v ON v.source = r.source AND v."key" = r."key"
        LEFT JOIN record b ON b.seq = v.by_seq
        LEFT JOIN wash w ON w.seq = r.seq
        LEFT JOIN fault f ON f.seq = r.seq
        LEFT JOIN fault_cleared c ON c.seq = r.seq
        LEFT JOIN part_change p ON p.seq = r.seq
        LEFT JOIN meter m ON m.seq = r.seq
        LEFT JOIN visit x ON x.seq = r.seq
        LEFT JOIN approval a ON a.seq = r.seq
        LEFT JOIN condition d ON d.seq = r.seq
        """;

    private const string OpenFaults = """
        SELECT DISTINCT f.code AS Code, r.source AS Source FROM fault_span f JOIN record r ON r.seq = f.seq
        WHERE f.unit_id = @unitId AND f.cleared_ms IS NULL ORDER BY f.code, r.source
        """;

    private const string LastHeard = "SELECT s.unit_id AS UnitId, s.last_heard_ms AS Ms FROM unit_status s WHERE s.last_heard_ms IS NOT NULL";

    private static readonly Sql History = Sql.FirstRows(
        "SELECT " + Columns + """

        FROM record r
        """
        + "\n" + Joins + """

        WHERE r.unit_id = @UnitId AND (@AtMs IS NULL OR r.at_ms < @AtMs OR (r.at_ms = @AtMs AND r.seq < @Seq))
        ORDER BY r.at_ms DESC, r.seq DESC
        """,
        "@Limit");

    /// <summary>Who raised the faults of a unit that stand, by code as it is compared.</summary>
    /// <param name="unitId">Number of the unit.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<ILookup<string, string>> FaultSourcesAsync(int unitId, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return (await connection.QueryAsync<(string Code, string Source)>(new CommandDefinition(OpenFaults, new { unitId }, cancellationToken: cancellationToken)))
            .ToLookup(row => Codes.Key(row.Code), row => row.Source);
    }

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
        List<RecordRow> rows = (await connection.QueryAsync<RecordRow>(
            new CommandDefinition(History.For(connection), asked, cancellationToken: cancellationToken))).AsList();
        PageOf<RecordRow> shown = Paging.Trim(
            rows, row => [row.AtMs.ToString(CultureInfo.InvariantCulture), row.Seq.ToString(CultureInfo.InvariantCulture)], page);
        return new UnitHistoryReport(unit.Resource.Unit, [.. shown.Items.Select(row => Item(row, unit.Model))], shown.Next);
    }

    private static HistoryItem Item(RecordRow row, ModelEntry model) => new(
        row.Seq,
        DateTimeOffset.FromUnixTimeMilliseconds(row.AtMs),
        row.Type,
        row.Source,
        row.Key,
        DateTimeOffset.FromUnixTimeMilliseconds(row.ReceivedMs),
        RecordTexts.Of(row, model),
        row.Voided != 0);
}
