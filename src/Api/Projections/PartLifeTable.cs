using System.Data.Common;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps part_life: what is touched is derived anew from all effective part changes of its unit and position.</summary>
/// <param name="session">The transaction.</param>
internal sealed class PartLifeTable(WriteSession session) : IDisposable
{
    private const string SelectUnit = """
        SELECT p.position, r.at_ms, p.seq, r.source, r."key", p.removed_reason, p.failure_mode, p.mechanism, p.last_seen_good_ms,
            p.fitted, p.part_number, p.batch, p.supplier, p.age_days, p.age_washes
        FROM part_change p JOIN record r ON r.seq = p.seq
        WHERE p.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = p.seq)
        """;

    private const string InsertRow = """
        INSERT INTO part_life (unit_id, position, ordinal, fitted_ms, watched_from_ms, ended_ms, ended_how, last_seen_good_ms,
            failure_mode, mechanism, part_number, batch, supplier, entry_age_days, entry_age_washes, fitted_seq, removed_seq, doubt)
        VALUES (@unit_id, @position, @ordinal, @fitted_ms, @watched_from_ms, @ended_ms, @ended_how, @last_seen_good_ms,
            @failure_mode, @mechanism, @part_number, @batch, @supplier, @entry_age_days, @entry_age_washes, @fitted_seq, @removed_seq,
            @doubt)
        """;

    private const string DeletePosition = "DELETE FROM part_life WHERE unit_id = @unit_id AND position = @position";
    private const string DeleteUnit = "DELETE FROM part_life WHERE unit_id = @unit_id";

    private readonly Statement _selectUnit = new(session, SelectUnit, "unit_id");

    private readonly Appender _insert = Appender.Of(
        session, "part_life", InsertRow, "unit_id", "position", "ordinal", "fitted_ms", "watched_from_ms", "ended_ms", "ended_how",
        "last_seen_good_ms", "failure_mode", "mechanism", "part_number", "batch", "supplier", "entry_age_days", "entry_age_washes",
        "fitted_seq", "removed_seq", "doubt");

    private readonly Statement _deletePosition = new(session, DeletePosition, "unit_id", "position");
    private readonly Statement _deleteUnit = new(session, DeleteUnit, "unit_id");

    /// <summary>Derives the part lives of a unit anew.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="positions">The positions to derive, as the projection spells them; null: all.</param>
    public void Derive(UnitEntry unit, IReadOnlySet<string>? positions)
    {
        if (positions is null)
        {
            _deleteUnit.Run(unit.Id);
        }

        foreach (string position in positions ?? new HashSet<string>())
        {
            _deletePosition.Run(unit.Id, position);
        }

        var span = ServiceSpan.Of(unit);
        foreach (var changes in Read(unit, positions).GroupBy(pair => pair.Position, pair => pair.Change, StringComparer.Ordinal))
        {
            long ordinal = 0;
            foreach (PartLife life in PartLives.Derive(changes, span))
            {
                Insert(unit.Id, changes.Key, ++ordinal, life);
            }
        }
    }

    /// <summary>Writes what waits.</summary>
    public void Flush() => _insert.Flush();

    /// <inheritdoc/>
    public void Dispose()
    {
        _selectUnit.Dispose();
        _insert.Dispose();
        _deletePosition.Dispose();
        _deleteUnit.Dispose();
    }

    private static PartChange ReadChange(DbDataReader row)
    {
        RemovedPart? removed = row.IsDBNull(5)
            ? null
            : new RemovedPart(
                EnumText<RemovalReason>.Parse(row.GetString(5)), Text(row, 6), Text(row, 7),
                row.IsDBNull(8) ? null : DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(8)));
        NewPart? fitted = row.GetInt64(9) == 0
            ? null
            : new NewPart(Text(row, 10), Text(row, 11), Text(row, 12), Number(row, 13), Number(row, 14));
        return new PartChange(row.GetInt64(1), row.GetInt64(2), row.GetString(3), row.GetString(4), removed, fitted);
    }

    private static string? Text(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private static double? Number(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    private List<(string Position, PartChange Change)> Read(UnitEntry unit, IReadOnlySet<string>? positions)
    {
        var changes = new List<(string Position, PartChange Change)>();
        using DbDataReader row = _selectUnit.Query(unit.Id);
        while (row.Read())
        {
            string position = Spelling.Position(unit.Model, row.GetString(0));
            if (positions?.Contains(position) != false)
            {
                changes.Add((position, ReadChange(row)));
            }
        }

        return changes;
    }

    private void Insert(int unitId, string position, long ordinal, PartLife life) => _insert.Add(
        unitId, position, ordinal, life.FittedMs, life.WatchedFromMs, life.EndedMs,
        life.EndedHow is { } how ? EnumText<PartEnd>.Of(how) : null, life.LastSeenGoodMs, life.FailureMode, life.Mechanism,
        life.PartNumber, life.Batch, life.Supplier, life.EntryAgeDays, life.EntryAgeWashes, life.FittedSeq, life.RemovedSeq, life.Doubt);
}
