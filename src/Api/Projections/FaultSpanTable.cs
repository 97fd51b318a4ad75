using System.Data.Common;
using Washwear.Api.Ledger;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps fault_span: what is touched is derived anew from all effective records of its unit and code.</summary>
/// <param name="session">The transaction.</param>
internal sealed class FaultSpanTable(WriteSession session) : IDisposable
{
    private const string SelectUnit = """
        SELECT f.code, r.at_ms, CAST(1 AS BIGINT), f.seq, r.source, r."key", f.cleared_ms
        FROM fault f JOIN record r ON r.seq = f.seq
        WHERE f.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = f.seq)
        UNION ALL
        SELECT c.code, r.at_ms, CAST(0 AS BIGINT), c.seq, r.source, r."key", NULL
        FROM fault_cleared c JOIN record r ON r.seq = c.seq
        WHERE c.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = c.seq)
        """;

    private const string InsertRow = """
        INSERT INTO fault_span (unit_id, raised_ms, seq, code, cleared_ms) VALUES (@unit_id, @raised_ms, @seq, @code, @cleared_ms)
        """;

    private const string DeleteCode = "DELETE FROM fault_span WHERE unit_id = @unit_id AND code = @code";
    private const string DeleteUnit = "DELETE FROM fault_span WHERE unit_id = @unit_id";

    private readonly Statement _selectUnit = new(session, SelectUnit, "unit_id");
    private readonly Appender _insert = Appender.Of(session, "fault_span", InsertRow, "unit_id", "raised_ms", "seq", "code", "cleared_ms");
    private readonly Statement _deleteCode = new(session, DeleteCode, "unit_id", "code");
    private readonly Statement _deleteUnit = new(session, DeleteUnit, "unit_id");

    /// <summary>Derives the faults of a unit anew.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="codes">The codes to derive, as the projection spells them; null: all.</param>
    public void Derive(UnitEntry unit, IReadOnlySet<string>? codes)
    {
        if (codes is null)
        {
            _deleteUnit.Run(unit.Id);
        }

        foreach (string code in codes ?? new HashSet<string>())
        {
            _deleteCode.Run(unit.Id, code);
        }

        foreach (IGrouping<string, FaultEvent> events in Read(unit, codes).GroupBy(pair => pair.Code, pair => pair.Event, StringComparer.Ordinal))
        {
            foreach (FaultSpan span in FaultSpans.Derive(events))
            {
                _insert.Add(unit.Id, span.RaisedMs, span.Seq, events.Key, span.ClearedMs);
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
        _deleteCode.Dispose();
        _deleteUnit.Dispose();
    }

    private List<(string Code, FaultEvent Event)> Read(UnitEntry unit, IReadOnlySet<string>? codes)
    {
        var events = new List<(string Code, FaultEvent Event)>();
        using DbDataReader row = _selectUnit.Query(unit.Id);
        while (row.Read())
        {
            string code = Spelling.Fault(unit.Model, row.GetString(0));
            if (codes?.Contains(code) != false)
            {
                events.Add((code, new FaultEvent(
                    row.GetInt64(1), row.GetInt64(2) != 0, row.GetInt64(3), row.GetString(4), row.GetString(5),
                    row.IsDBNull(6) ? null : row.GetInt64(6))));
            }
        }

        return events;
    }
}
