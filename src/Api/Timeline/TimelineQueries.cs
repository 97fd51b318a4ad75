using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Api.Storage;
using Washwear.Api.Units;

namespace Washwear.Api.Timeline;

/// <summary>Which records of a timeline are read.</summary>
/// <param name="Units">Numbers of the units.</param>
/// <param name="Types">Types of records.</param>
/// <param name="Corrections">Whether records that were corrected, or correct one, are read whatever their type.</param>
/// <param name="FromMs">Only from this instant on, ms since 1970 UTC.</param>
/// <param name="BeforeMs">Only up to this instant.</param>
/// <param name="BeforeSeq">Of those at that very instant only those with a lower number.</param>
/// <param name="Limit">Most rows.</param>
internal sealed record TimelineAsked(
    IReadOnlyList<int> Units, IReadOnlyList<string> Types, bool Corrections, long FromMs, long BeforeMs, long BeforeSeq, int Limit);

/// <summary>Reads the records of timelines.</summary>
/// <param name="database">The database.</param>
internal sealed class TimelineQueries(Database database)
{
    private static readonly Sql Picked = new(
        Sqlite: """
            SELECT r.seq FROM record r
            WHERE r.unit_id IN (SELECT u.value FROM json_each(@units) u) AND r.at_ms BETWEEN @fromMs AND @beforeMs
              AND (r.at_ms < @beforeMs OR r.seq < @beforeSeq)
              AND (r.type IN (SELECT t.value FROM json_each(@types) t)
                   OR (@corrections = 1 AND (r.replaces IS NOT NULL OR EXISTS (SELECT 1 FROM voided o WHERE o.target_seq = r.seq))))
            ORDER BY r.at_ms DESC, r.seq DESC
            """,
        SqlServer: """
            SELECT r.seq FROM record r
            WHERE r.unit_id IN (SELECT CAST(u.value AS BIGINT) FROM OPENJSON(@units) u) AND r.at_ms BETWEEN @fromMs AND @beforeMs
              AND (r.at_ms < @beforeMs OR r.seq < @beforeSeq)
              AND (r.type IN (SELECT t.value COLLATE Latin1_General_BIN2 FROM OPENJSON(@types) t)
                   OR (@corrections = 1 AND (r.replaces IS NOT NULL OR EXISTS (SELECT 1 FROM voided o WHERE o.target_seq = r.seq))))
            ORDER BY r.at_ms DESC, r.seq DESC
            """);

    // The joins are made for the rows of the page alone.
    private static readonly Sql Records = (Sql)("SELECT " + UnitQueries.Columns + "\nFROM (\n") + Sql.FirstRows(Picked, "@limit")
        + (Sql)("\n) k JOIN record r ON r.seq = k.seq\n" + UnitQueries.Joins + "\nORDER BY r.at_ms DESC, r.seq DESC");

    private static readonly Sql Last = new(
        Sqlite: """
            SELECT max((SELECT max(r.at_ms) FROM record r WHERE r.unit_id = u.value AND r.at_ms <= @beforeMs)) FROM json_each(@units) u
            """,
        SqlServer: """
            SELECT max(r.at_ms) FROM record r
            WHERE r.unit_id IN (SELECT CAST(u.value AS BIGINT) FROM OPENJSON(@units) u) AND r.at_ms <= @beforeMs
            """);

    /// <summary>When the last record of any type happened, ms since 1970 UTC; null: there is none.</summary>
    /// <param name="asked">Of which units, and before when.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<long?> LastAsync(TimelineAsked asked, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var values = new { units = JsonSerializer.Serialize(asked.Units), beforeMs = asked.BeforeMs };
        return await connection.ExecuteScalarAsync<long?>(new CommandDefinition(Last.For(connection), values, cancellationToken: cancellationToken));
    }

    /// <summary>The records, newest first.</summary>
    /// <param name="asked">Which.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<RecordRow>> ReadAsync(TimelineAsked asked, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var values = new
        {
            units = JsonSerializer.Serialize(asked.Units),
            types = JsonSerializer.Serialize(asked.Types),
            corrections = asked.Corrections ? 1 : 0,
            fromMs = asked.FromMs,
            beforeMs = asked.BeforeMs,
            beforeSeq = asked.BeforeSeq,
            limit = asked.Limit,
        };
        return (await connection.QueryAsync<RecordRow>(
            new CommandDefinition(Records.For(connection), values, cancellationToken: cancellationToken))).AsList();
    }
}
