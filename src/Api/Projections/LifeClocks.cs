using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>
/// What a unit did between two instants: washes and operating hours. Where the unit's own counter was read at or before the first instant and
/// at or after the second, the difference of the readings, interpolated in a straight line, wins; else washes are counted from the records,
/// and operating hours are not known. A refused wash did not run; a clean by hand wears nothing. Immutable.
/// </summary>
public sealed class LifeClocks
{
    private static readonly Sql Units = new(
        Sqlite: "(SELECT value FROM json_each(@Units))", SqlServer: "(SELECT CAST(value AS BIGINT) FROM OPENJSON(@Units))");

    private static readonly Sql Months = "SELECT m.unit_id, m.month, m.washes FROM wash_month m WHERE m.unit_id IN " + Units;

    private const string Ran = """
        (SELECT CAST(count(*) AS BIGINT) FROM wash_span w
         WHERE w.unit_id = a.unit_id AND w.started_ms >= a.begin_ms AND w.started_ms <= a.at_ms AND w.outcome <> 'refused' AND w.attested = 0)
        """;

    // In steps: written as one, SQLite takes a moment apart anew for each wash.
    private static readonly Sql InMonth = new(
        Sqlite: """
            WITH a AS MATERIALIZED (
                SELECT e.value ->> 0 AS unit_id, e.value ->> 1 AS begin_ms, e.value ->> 2 AS at_ms FROM json_each(@Moments) e)
            SELECT a.unit_id, a.at_ms,
            """ + " " + Ran + " FROM a",
        SqlServer: "SELECT a.unit_id, a.at_ms, " + Ran
            + " FROM OPENJSON(@Moments) WITH (unit_id bigint '$[0]', begin_ms bigint '$[1]', at_ms bigint '$[2]') a");

    private static readonly Sql Meters = """
        SELECT m.unit_id, m.read_ms, m.washes_total, m.operating_hours_total
        FROM meter m
        WHERE NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = m.seq) AND m.unit_id IN
        """ + " " + Units;

    private static readonly Sql FirstHeard =
        "SELECT s.unit_id, s.first_heard_ms FROM unit_status s WHERE s.first_heard_ms IS NOT NULL AND s.unit_id IN " + Units;

    // A unit that kept silent for longer at first was not on record then; a shorter silence is that of a unit not yet in use.
    private static readonly long LongestSilenceMs = (long)TimeSpan.FromDays(7).TotalMilliseconds;

    private readonly Dictionary<(int UnitId, long AtMs), long> _washes;
    private readonly Dictionary<int, long> _firstHeardMs;
    private readonly Dictionary<int, MeterSeries> _washMeters;
    private readonly Dictionary<int, MeterSeries> _hourMeters;

    private LifeClocks(
        Dictionary<(int UnitId, long AtMs), long> washes, Dictionary<int, long> firstHeardMs, IReadOnlyList<MeterReading> meters)
    {
        _washes = washes;
        _firstHeardMs = firstHeardMs;
        _washMeters = SeriesOf(meters, reading => reading.WashesTotal);
        _hourMeters = SeriesOf(meters, reading => reading.OperatingHoursTotal);
    }

    /// <summary>Nothing is known but days.</summary>
    public static LifeClocks None { get; } = new([], [], []);

    /// <summary>Reads what the clocks of some units tell of some moments. Washes before the month of a moment are known by the month, so that
    /// only those of that month have to be counted, however long a part has been fitted.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="moments">Numbers of units and the instants between which they will be asked for, milliseconds UTC.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<LifeClocks> LoadAsync(
        DbConnection connection, DbTransaction transaction, IReadOnlySet<(int UnitId, long AtMs)> moments, CancellationToken cancellationToken)
    {
        var asked = new
        {
            Units = JsonSerializer.Serialize(moments.Select(moment => moment.UnitId).Distinct()),
            Moments = JsonSerializer.Serialize(
                moments.Select(moment => new long[] { moment.UnitId, WashMonth.BeginMs(WashMonth.Of(moment.AtMs)), moment.AtMs })),
        };
        async Task<T> Ask<T>(Sql sql, Func<DbDataReader, T> read)
        {
            var command = new CommandDefinition(sql.For(connection), asked, transaction, cancellationToken: cancellationToken);
            await using DbDataReader rows = await connection.ExecuteReaderAsync(command);
            return read(rows);
        }

        ILookup<int, (int Month, long Washes)> months = await Ask(Months, ReadMonths);
        return new LifeClocks(await Ask(InMonth, rows => ReadWashes(rows, months)), await Ask(FirstHeard, ReadHeard), await Ask(Meters, ReadMeters));
    }

    /// <summary>Washes that ran in (from, to].</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="fromMs">Start, exclusive, milliseconds UTC; a moment that was read.</param>
    /// <param name="toMs">End, inclusive, milliseconds UTC; a moment that was read.</param>
    /// <returns>0 or more; null where the counter was not read around that time and the unit was first heard more than a week after the
    /// start, or never, so that its washes are not all on record; and where the end is before the start.</returns>
    public double? WashesBetween(int unitId, long fromMs, long toMs)
    {
        if (toMs < fromMs)
        {
            return null;
        }

        return _washMeters.GetValueOrDefault(unitId)?.Between(fromMs, toMs)
            ?? (_firstHeardMs.TryGetValue(unitId, out long firstMs) && firstMs - fromMs <= LongestSilenceMs
                ? _washes[(unitId, toMs)] - _washes[(unitId, fromMs)]
                : null);
    }

    /// <summary>Operating hours in (from, to].</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="fromMs">Start, milliseconds UTC.</param>
    /// <param name="toMs">End, milliseconds UTC.</param>
    /// <returns>0 or more; null where the counter was not read around that time or began anew in it, and where the end is before the start.</returns>
    public double? OperatingHoursBetween(int unitId, long fromMs, long toMs) =>
        toMs < fromMs ? null : _hourMeters.GetValueOrDefault(unitId)?.Between(fromMs, toMs);

    private static Dictionary<int, MeterSeries> SeriesOf(IReadOnlyList<MeterReading> meters, Func<MeterReading, double?> total) => meters
        .Where(reading => total(reading) is not null)
        .GroupBy(reading => reading.UnitId)
        .ToDictionary(unit => unit.Key, unit => new MeterSeries(unit.Select(reading => (reading.AtMs, total(reading)!.Value))));

    private static ILookup<int, (int Month, long Washes)> ReadMonths(DbDataReader rows)
    {
        var months = new List<(int UnitId, int Month, long Washes)>();
        while (rows.Read())
        {
            months.Add(((int)rows.GetInt64(0), (int)rows.GetInt64(1), rows.GetInt64(2)));
        }

        return months.ToLookup(row => row.UnitId, row => (row.Month, row.Washes));
    }

    /// <returns>For each moment, how many washes the unit ran up to it.</returns>
    private static Dictionary<(int UnitId, long AtMs), long> ReadWashes(DbDataReader rows, ILookup<int, (int Month, long Washes)> months)
    {
        var washes = new Dictionary<(int UnitId, long AtMs), long>();
        while (rows.Read())
        {
            (int unitId, long atMs) = ((int)rows.GetInt64(0), rows.GetInt64(1));
            int month = WashMonth.Of(atMs);
            washes[(unitId, atMs)] = rows.GetInt64(2) + months[unitId].Where(one => one.Month < month).Sum(one => one.Washes);
        }

        return washes;
    }

    private static Dictionary<int, long> ReadHeard(DbDataReader rows)
    {
        var heard = new Dictionary<int, long>();
        while (rows.Read())
        {
            heard[(int)rows.GetInt64(0)] = rows.GetInt64(1);
        }

        return heard;
    }

    private static List<MeterReading> ReadMeters(DbDataReader rows)
    {
        var readings = new List<MeterReading>();
        while (rows.Read())
        {
            readings.Add(new MeterReading(
                (int)rows.GetInt64(0),
                rows.GetInt64(1),
                rows.IsDBNull(2) ? null : rows.GetDouble(2),
                rows.IsDBNull(3) ? null : rows.GetDouble(3)));
        }

        return readings;
    }

    private readonly record struct MeterReading(int UnitId, long AtMs, double? WashesTotal, double? OperatingHoursTotal);
}
