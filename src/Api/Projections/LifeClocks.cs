using System.Data.Common;
using System.Text.Json;
using Dapper;

namespace Washwear.Api.Projections;

/// <summary>
/// What a unit did between two instants: washes and operating hours. Where the unit's own counter was read at or before the first instant and
/// at or after the second, the difference of the readings, interpolated in a straight line, wins; else washes are counted from the records,
/// and operating hours are not known. A refused wash did not run; a clean by hand wears nothing.
/// </summary>
public sealed class LifeClocks
{
    private const string Washes = """
        SELECT w.unit_id AS UnitId, w.started_ms AS AtMs
        FROM wash_span w
        WHERE w.outcome <> 'refused' AND w.attested = 0 AND w.unit_id IN (SELECT value FROM json_each(@Units))
        ORDER BY w.unit_id, w.started_ms
        """;

    private const string Meters = """
        SELECT r.unit_id AS UnitId, r.at_ms AS AtMs, m.washes_total AS WashesTotal, m.operating_hours_total AS OperatingHoursTotal
        FROM meter m
        JOIN record r ON r.seq = m.seq
        LEFT JOIN voided v ON v.source = r.source AND v.key = r.key
        WHERE v.key IS NULL AND m.unit_id IN (SELECT value FROM json_each(@Units))
        ORDER BY r.unit_id, r.at_ms, r.seq
        """;

    private readonly Dictionary<int, long[]> _washes;
    private readonly Dictionary<int, Readings> _washMeters;
    private readonly Dictionary<int, Readings> _hourMeters;

    private LifeClocks(Dictionary<int, long[]> washes, Dictionary<int, Readings> washMeters, Dictionary<int, Readings> hourMeters) =>
        (_washes, _washMeters, _hourMeters) = (washes, washMeters, hourMeters);

    /// <summary>Reads what the clocks of some units are told by.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="transaction">What is read sees one commit.</param>
    /// <param name="unitIds">The units.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public static async Task<LifeClocks> LoadAsync(
        DbConnection connection, DbTransaction transaction, IReadOnlyCollection<int> unitIds, CancellationToken cancellationToken)
    {
        var asked = new { Units = JsonSerializer.Serialize(unitIds) };
        CommandDefinition Ask(string sql) => new(sql, asked, transaction, cancellationToken: cancellationToken);
        Dictionary<int, long[]> washes = (await connection.QueryAsync<(int UnitId, long AtMs)>(Ask(Washes)))
            .GroupBy(row => row.UnitId, row => row.AtMs).ToDictionary(group => group.Key, group => group.ToArray());
        MeterRow[] meters = [.. await connection.QueryAsync<MeterRow>(Ask(Meters))];
        return new LifeClocks(washes, Readings.Of(meters, row => row.WashesTotal), Readings.Of(meters, row => row.OperatingHoursTotal));
    }

    /// <summary>Washes that ran in (from, to].</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="fromMs">Start, exclusive, ms UTC.</param>
    /// <param name="toMs">End, inclusive, ms UTC, not before the start.</param>
    /// <returns>0 or more.</returns>
    public double? WashesBetween(int unitId, long fromMs, long toMs)
    {
        if (_washMeters.TryGetValue(unitId, out Readings? meter) && meter.Between(fromMs, toMs) is { } read)
        {
            return read;
        }

        return _washes.TryGetValue(unitId, out long[]? starts) ? UpTo(starts, toMs) - UpTo(starts, fromMs) : 0;
    }

    /// <summary>Operating hours in (from, to].</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="fromMs">Start, ms UTC.</param>
    /// <param name="toMs">End, ms UTC, not before the start.</param>
    /// <returns>0 or more; null where the meter was not read around that time.</returns>
    public double? OperatingHoursBetween(int unitId, long fromMs, long toMs) =>
        _hourMeters.TryGetValue(unitId, out Readings? meter) ? meter.Between(fromMs, toMs) : null;

    // How many of the sorted instants lie at or before one.
    private static int UpTo(long[] sorted, long at)
    {
        int found = Array.BinarySearch(sorted, at);
        if (found < 0)
        {
            return ~found;
        }

        while (found < sorted.Length && sorted[found] == at)
        {
            found++;
        }

        return found;
    }

    private sealed class MeterRow
    {
        public int UnitId { get; init; }

        public long AtMs { get; init; }

        public double? WashesTotal { get; init; }

        public double? OperatingHoursTotal { get; init; }
    }

    /// <summary>Readings of one counter, in order. One that runs backwards (a replaced counter) makes the stretch across it unknown.</summary>
    private sealed class Readings(long[] atMs, double[] totals)
    {
        public static Dictionary<int, Readings> Of(IEnumerable<MeterRow> rows, Func<MeterRow, double?> total) => rows
            .Where(row => total(row) is not null)
            .GroupBy(row => row.UnitId)
            .ToDictionary(unit => unit.Key, unit => new Readings([.. unit.Select(row => row.AtMs)], [.. unit.Select(row => total(row)!.Value)]));

        public double? Between(long fromMs, long toMs) => At(toMs) - At(fromMs) is { } difference and >= 0 ? difference : null;

        private double? At(long at)
        {
            int found = Array.BinarySearch(atMs, at);
            if (found >= 0)
            {
                return totals[found];
            }

            int next = ~found;
            if (next == 0 || next == atMs.Length)
            {
                return null;
            }

            double share = (double)(at - atMs[next - 1]) / (atMs[next] - atMs[next - 1]);
            return totals[next - 1] + (share * (totals[next] - totals[next - 1]));
        }
    }
}
