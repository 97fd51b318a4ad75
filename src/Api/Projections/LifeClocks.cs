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

    private static readonly Sql Washes =
        "SELECT w.unit_id, w.started_ms FROM wash_span w WHERE w.outcome <> 'refused' AND w.attested = 0 AND w.unit_id IN " + Units
        + " ORDER BY w.unit_id, w.started_ms";

    private static readonly Sql Meters = """
        SELECT m.unit_id, m.read_ms, m.washes_total, m.operating_hours_total
        FROM meter m
        WHERE NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = m.seq) AND m.unit_id IN
        """ + " " + Units;

    private static readonly Sql FirstHeard =
        "SELECT s.unit_id, s.first_heard_ms FROM unit_status s WHERE s.first_heard_ms IS NOT NULL AND s.unit_id IN " + Units;

    // A unit that kept silent for longer at first was not on record then; a shorter silence is that of a unit not yet in use.
    private static readonly long LongestSilenceMs = (long)TimeSpan.FromDays(7).TotalMilliseconds;

    private readonly Dictionary<int, long[]> _washes;
    private readonly Dictionary<int, long> _firstHeardMs;
    private readonly Dictionary<int, MeterSeries> _washMeters;
    private readonly Dictionary<int, MeterSeries> _hourMeters;

    private LifeClocks(Dictionary<int, long[]> washes, Dictionary<int, long> firstHeardMs, IReadOnlyList<MeterReading> meters)
    {
        _washes = washes;
        _firstHeardMs = firstHeardMs;
        _washMeters = SeriesOf(meters, reading => reading.WashesTotal);
        _hourMeters = SeriesOf(meters, reading => reading.OperatingHoursTotal);
    }

    /// <summary>Nothing is known but days.</summary>
    public static LifeClocks None { get; } = new([], [], []);

    /// <summary>Reads what the clocks of some units are told by.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="unitIds">The units.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<LifeClocks> LoadAsync(
        DbConnection connection, DbTransaction transaction, IReadOnlyCollection<int> unitIds, CancellationToken cancellationToken)
    {
        var asked = new { Units = JsonSerializer.Serialize(unitIds) };
        async Task<T> Ask<T>(Sql sql, Func<DbDataReader, T> read)
        {
            var command = new CommandDefinition(sql.For(connection), asked, transaction, cancellationToken: cancellationToken);
            await using DbDataReader rows = await connection.ExecuteReaderAsync(command);
            return read(rows);
        }

        return new LifeClocks(await Ask(Washes, ReadWashes), await Ask(FirstHeard, ReadHeard), await Ask(Meters, ReadMeters));
    }

    /// <summary>Washes that ran in (from, to].</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="fromMs">Start, exclusive, milliseconds UTC.</param>
    /// <param name="toMs">End, inclusive, milliseconds UTC.</param>
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
                ? Counted(unitId, fromMs, toMs)
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

    private static Dictionary<int, long[]> ReadWashes(DbDataReader rows)
    {
        var byUnit = new Dictionary<int, List<long>>();
        List<long> started = [];
        int unitId = 0;
        while (rows.Read())
        {
            if (rows.GetInt64(0) != unitId)
            {
                unitId = (int)rows.GetInt64(0);
                byUnit[unitId] = started = [];
            }

            started.Add(rows.GetInt64(1));
        }

        return byUnit.ToDictionary(unit => unit.Key, unit => unit.Value.ToArray());
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

    private double Counted(int unitId, long fromMs, long toMs) => _washes.TryGetValue(unitId, out long[]? started)
        ? SortedInstants.CountUpTo(started, toMs) - SortedInstants.CountUpTo(started, fromMs)
        : 0;

    private readonly record struct MeterReading(int UnitId, long AtMs, double? WashesTotal, double? OperatingHoursTotal);
}
