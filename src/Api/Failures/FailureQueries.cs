using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Failures;

/// <summary>Where the records stand that failures are read from.</summary>
/// <param name="LastFault">Last fault of the ledger.</param>
/// <param name="LastCleared">Last clearing.</param>
/// <param name="LastVisit">Last visit.</param>
/// <param name="LastPart">Last part change.</param>
/// <param name="LastVoid">Last void or replacement.</param>
public readonly record struct FailurePlace(long LastFault, long LastCleared, long LastVisit, long LastPart, long LastVoid);

/// <summary>A fault from raised to cleared.</summary>
/// <param name="UnitId">The unit's number.</param>
/// <param name="RaisedMs">When it was raised, ms UTC.</param>
/// <param name="ClearedMs">When it was cleared, ms UTC; null: it was not.</param>
/// <param name="Code">Its code.</param>
public readonly record struct FaultRow(int UnitId, long RaisedMs, long? ClearedMs, string Code);

/// <summary>A visit that ended with a repair.</summary>
/// <param name="UnitId">The unit's number.</param>
/// <param name="LeftMs">When it ended, ms UTC.</param>
public readonly record struct RepairRow(int UnitId, long LeftMs);

/// <summary>When a unit was heard.</summary>
/// <param name="UnitId">The unit's number.</param>
/// <param name="FirstMs">First, ms UTC.</param>
/// <param name="LastMs">Last, ms UTC.</param>
public readonly record struct HeardRow(int UnitId, long FirstMs, long LastMs);

/// <summary>Washes that ran by unit and month.</summary>
/// <param name="FirstMonth">First month, counted from January 1970.</param>
/// <param name="LastMonth">Last month, inclusive.</param>
/// <param name="ByUnit">For each unit that ran a wash, by its number, its washes in each month from the first on.</param>
public sealed record WashCounts(int FirstMonth, int LastMonth, IReadOnlyDictionary<int, int[]> ByUnit);

/// <summary>Findings of a visit.</summary>
/// <param name="Seq">Number of its record.</param>
/// <param name="UnitId">The unit's number.</param>
/// <param name="AtMs">When the visit ended, ms UTC.</param>
/// <param name="Findings">The findings as JSON.</param>
/// <param name="Faults">Codes of the faults that it was for, as JSON; null: none was named.</param>
public readonly record struct FindingRow(long Seq, int UnitId, long AtMs, string Findings, string? Faults);

/// <summary>Reads what failures are counted from and against.</summary>
/// <param name="database">The database.</param>
public sealed class FailureQueries(Database database)
{
    private const string Place = """
        SELECT (SELECT coalesce(max(seq), 0) FROM fault), (SELECT coalesce(max(seq), 0) FROM fault_cleared),
               (SELECT coalesce(max(seq), 0) FROM visit), (SELECT coalesce(max(seq), 0) FROM part_change),
               (SELECT coalesce(max(by_seq), 0) FROM voided)
        """;

    private const string ChangedUnits = """
        SELECT f.unit_id FROM fault f WHERE f.seq > @LastFault
        UNION SELECT c.unit_id FROM fault_cleared c WHERE c.seq > @LastCleared
        UNION SELECT r.unit_id FROM visit v JOIN record r ON r.seq = v.seq WHERE v.seq > @LastVisit
        """;

    private const string Faults = "SELECT f.unit_id, f.raised_ms, f.cleared_ms, f.code FROM fault_span f";

    private static readonly Sql FaultsOfUnits = new(
        Sqlite: Faults + " JOIN json_each(@Units) u ON u.value = f.unit_id",
        SqlServer: Faults + " JOIN OPENJSON(@Units) u ON CAST(u.value AS bigint) = f.unit_id");

    private const string Ended = "v.outcome IN ('proven', 'repaired_not_proven') AND v.left_ms IS NOT NULL";
    private const string Repairs = "SELECT v.unit_id, v.left_ms FROM visit_span v WHERE " + Ended;

    private static readonly Sql RepairsOfUnits = new(
        Sqlite: "SELECT v.unit_id, v.left_ms FROM visit_span v JOIN json_each(@Units) u ON u.value = v.unit_id WHERE " + Ended,
        SqlServer: "SELECT v.unit_id, v.left_ms FROM visit_span v JOIN OPENJSON(@Units) u ON CAST(u.value AS bigint) = v.unit_id WHERE " + Ended);

    private const string Heard = """
        SELECT s.unit_id, s.first_heard_ms, s.last_heard_ms FROM unit_status s WHERE s.first_heard_ms IS NOT NULL AND s.last_heard_ms IS NOT NULL
        """;

    private const string WashMonths = "SELECT m.month, m.unit_id, m.washes FROM wash_month m WHERE m.month >= @First AND m.month <= @Last";

    private const string Findings = """
        SELECT s.seq, s.unit_id, coalesce(s.left_ms, s.arrived_ms, s.from_ms), v.findings, v.faults
        FROM visit_span s JOIN visit v ON v.seq = s.seq
        WHERE v.findings IS NOT NULL AND coalesce(s.left_ms, s.arrived_ms, s.from_ms) >= @From AND coalesce(s.left_ms, s.arrived_ms, s.from_ms) < @To
        """;

    // A wash of any grade that cleans with detergent ends the days without one.
    private const string Cleans =
        " AND w.outcome = 'completed' AND coalesce(w.detergent_left, 0) <> 1 AND w.grade IN ('light', 'standard', 'intensive') ORDER BY w.started_ms";

    private static readonly Sql NextWashes = new(
        Sqlite: """
            SELECT e.key,
                   (SELECT w.ended_ms FROM wash_span w
                    WHERE w.unit_id = json_extract(e.value, '$[0]') AND w.started_ms >= json_extract(e.value, '$[1]')
            """ + Cleans + """
             LIMIT 1)
            FROM json_each(@Asked) e
            """,
        SqlServer: """
            SELECT CAST(e."key" AS bigint),
                   (SELECT w.ended_ms FROM wash_span w
                    WHERE w.unit_id = CAST(JSON_VALUE(e.value, '$[0]') AS bigint) AND w.started_ms >= CAST(JSON_VALUE(e.value, '$[1]') AS bigint)
            """ + Cleans + """
             OFFSET 0 ROWS FETCH NEXT 1 ROWS ONLY)
            FROM OPENJSON(@Asked) e
            """);

    /// <summary>Where the records stand.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<FailurePlace> PlaceAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return await PlaceAsync(connection, null, cancellationToken);
    }

    /// <summary>Faults, repairs and when units were heard, of one commit.</summary>
    /// <param name="since">Only of units with such records since this place; null: of all.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<FaultReading> ReadAsync(FailurePlace? since, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        await using DbTransaction transaction = Database.BeginReading(connection);
        FailurePlace place = await PlaceAsync(connection, transaction, cancellationToken);
        int[]? units = since is { } known
            ? [.. await connection.QueryAsync<int>(new CommandDefinition(ChangedUnits, known, transaction, cancellationToken: cancellationToken))]
            : null;
        var codes = new Dictionary<string, string>(StringComparer.Ordinal);
        return new FaultReading(
            place,
            units,
            Read(connection, transaction, units, Faults, FaultsOfUnits, row => new FaultRow(
                (int)row.GetInt64(0), row.GetInt64(1), row.IsDBNull(2) ? null : row.GetInt64(2), Pooled(codes, row.GetString(3)))),
            Read(connection, transaction, units, Repairs, RepairsOfUnits, row => new RepairRow((int)row.GetInt64(0), row.GetInt64(1))));
    }

    /// <summary>When each unit was heard.</summary>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyDictionary<int, HeardRow>> HeardAsync(CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return Rows(connection, Heard, null, row => new HeardRow((int)row.GetInt64(0), row.GetInt64(1), row.GetInt64(2)))
            .ToDictionary(row => row.UnitId);
    }

    /// <summary>Washes that ran by unit and month.</summary>
    /// <param name="first">First month.</param>
    /// <param name="last">Last month, inclusive.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<WashCounts> WashMonthsAsync(int first, int last, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        var washes = new Dictionary<int, int[]>();
        foreach ((int month, int unitId, int count) in Rows(
            connection, WashMonths, new { First = first, Last = last }, row => ((int)row.GetInt64(0), (int)row.GetInt64(1), (int)row.GetInt64(2))))
        {
            if (!washes.TryGetValue(unitId, out int[]? months))
            {
                washes[unitId] = months = new int[last - first + 1];
            }

            months[month - first] = count;
        }

        return new WashCounts(first, last, washes);
    }

    /// <summary>Findings of visits that ended in a window.</summary>
    /// <param name="fromMs">Start, ms UTC, inclusive.</param>
    /// <param name="toMs">End, ms UTC, exclusive.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<FindingRow>> FindingsAsync(long fromMs, long toMs, CancellationToken cancellationToken)
    {
        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        return
        [
            .. Rows(connection, Findings, new { From = fromMs, To = toMs }, row => new FindingRow(
                row.GetInt64(0), (int)row.GetInt64(1), row.GetInt64(2), row.GetString(3), row.IsDBNull(4) ? null : row.GetString(4))),
        ];
    }

    /// <summary>When, after an instant, the next wash that cleans ended.</summary>
    /// <param name="asked">Units and instants, ms UTC.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <returns>For each of them the end of the wash, ms UTC; null: there was none yet.</returns>
    public async Task<IReadOnlyList<long?>> NextWashesAsync(IReadOnlyList<(int UnitId, long AtMs)> asked, CancellationToken cancellationToken)
    {
        var next = new long?[asked.Count];
        if (asked.Count == 0)
        {
            return next;
        }

        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        string json = JsonSerializer.Serialize(asked.Select(one => new[] { one.UnitId, one.AtMs }));
        foreach ((long place, long? ended) in Rows(
            connection, NextWashes, new { Asked = json }, row => (row.GetInt64(0), row.IsDBNull(1) ? (long?)null : row.GetInt64(1))))
        {
            next[place] = ended;
        }

        return next;
    }

    private static async Task<FailurePlace> PlaceAsync(DbConnection connection, DbTransaction? transaction, CancellationToken cancellationToken)
    {
        (long fault, long cleared, long visit, long part, long voided) = await connection.QuerySingleAsync<(long, long, long, long, long)>(
            new CommandDefinition(Place, transaction: transaction, cancellationToken: cancellationToken));
        return new FailurePlace(fault, cleared, visit, part, voided);
    }

    private static List<T> Read<T>(
        DbConnection connection, DbTransaction transaction, int[]? units, Sql all, Sql ofUnits, Func<DbDataReader, T> one) => units is null
        ? [.. Rows(connection, all, null, one, transaction)]
        : [.. Rows(connection, ofUnits, new { Units = JsonSerializer.Serialize(units) }, one, transaction)];

    // Hundreds of thousands of rows: read one by one, without a mapper.
    private static IEnumerable<T> Rows<T>(
        DbConnection connection, Sql sql, object? asked, Func<DbDataReader, T> one, DbTransaction? transaction = null)
    {
        using DbDataReader row = (DbDataReader)connection.ExecuteReader(sql.For(connection), asked, transaction);
        while (row.Read())
        {
            yield return one(row);
        }
    }

    private static string Pooled(Dictionary<string, string> pool, string text) =>
        pool.TryGetValue(text, out string? known) ? known : pool[text] = text;
}

/// <summary>Faults and repairs of one commit.</summary>
/// <param name="Place">Where the records stood.</param>
/// <param name="Units">The units that were read; null: all.</param>
/// <param name="Faults">Their faults.</param>
/// <param name="Repairs">Their visits that ended with a repair.</param>
public sealed record FaultReading(
    FailurePlace Place, IReadOnlyList<int>? Units, IReadOnlyList<FaultRow> Faults, IReadOnlyList<RepairRow> Repairs);
