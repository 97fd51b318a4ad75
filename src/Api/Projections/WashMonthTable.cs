using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps wash_month: how many washes each unit ran in each month. What arrives is added up and written once a unit and month; a
/// void makes its month be counted anew.</summary>
/// <param name="session">The transaction.</param>
internal sealed class WashMonthTable(WriteSession session) : IDisposable
{
    private static readonly Sql AddUp = new(
        Sqlite: """
            INSERT INTO wash_month (month, unit_id, washes) VALUES (@month, @unit_id, @washes)
            ON CONFLICT (month, unit_id) DO UPDATE SET washes = washes + excluded.washes
            """,
        SqlServer: """
            UPDATE wash_month SET washes = washes + @washes WHERE month = @month AND unit_id = @unit_id;
            INSERT INTO wash_month (month, unit_id, washes) SELECT @month, @unit_id, @washes
            WHERE NOT EXISTS (SELECT 1 FROM wash_month m WHERE m.month = @month AND m.unit_id = @unit_id)
            """);

    private const string DeleteMonth = "DELETE FROM wash_month WHERE month = @month AND unit_id = @unit_id";
    private const string DeleteUnit = "DELETE FROM wash_month WHERE unit_id = @unit_id";

    private const string CountBetween = """
        SELECT count(*) FROM wash_span w
        WHERE w.unit_id = @unit_id AND w.started_ms >= @from_ms AND w.started_ms < @to_ms AND w.outcome <> 'refused' AND w.attested = 0
        """;

    private const string SelectUnit =
        "SELECT w.started_ms FROM wash_span w WHERE w.unit_id = @unit_id AND w.outcome <> 'refused' AND w.attested = 0";

    private readonly Dictionary<(int Month, int UnitId), int> _arrived = [];
    private readonly HashSet<(int Month, int UnitId)> _stale = [];
    private readonly HashSet<int> _whole = [];
    private readonly Statement _addUp = new(session, AddUp, "month", "unit_id", "washes");
    private readonly Statement _deleteMonth = new(session, DeleteMonth, "month", "unit_id");
    private readonly Statement _deleteUnit = new(session, DeleteUnit, "unit_id");
    private readonly Statement _count = new(session, CountBetween, "unit_id", "from_ms", "to_ms");
    private readonly Statement _selectUnit = new(session, SelectUnit, "unit_id");

    /// <summary>Adds a wash.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="wash">The wash.</param>
    public void Add(int unitId, WashRecord wash)
    {
        if (wash is { Outcome: not WashOutcome.Refused, AttestedBy: null })
        {
            (int, int) key = (WashMonth.Of(wash.At.ToUnixTimeMilliseconds()), unitId);
            _arrived[key] = _arrived.GetValueOrDefault(key) + 1;
        }
    }

    /// <summary>Says that a wash was taken out.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="startedMs">When it started, ms UTC.</param>
    public void CountAnew(int unitId, long startedMs) => _stale.Add((WashMonth.Of(startedMs), unitId));

    /// <summary>Says that all months of a unit must be counted anew.</summary>
    /// <param name="unitId">The unit.</param>
    public void DeriveAnew(int unitId) => _whole.Add(unitId);

    /// <summary>Writes what was added; wash_span is up to date by then.</summary>
    public void Flush()
    {
        foreach (((int month, int unitId), int washes) in _arrived.Where(pair => !_stale.Contains(pair.Key) && !_whole.Contains(pair.Key.UnitId)))
        {
            _addUp.Run(month, unitId, washes);
        }

        foreach ((int month, int unitId) in _stale.Where(key => !_whole.Contains(key.UnitId)))
        {
            _deleteMonth.Run(month, unitId);
            if (_count.Number(unitId, WashMonth.BeginMs(month), WashMonth.BeginMs(month + 1)) is > 0 and var washes)
            {
                _addUp.Run(month, unitId, washes);
            }
        }

        foreach (int unitId in _whole)
        {
            Derive(unitId);
        }

        _arrived.Clear();
        _stale.Clear();
        _whole.Clear();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _addUp.Dispose();
        _deleteMonth.Dispose();
        _deleteUnit.Dispose();
        _count.Dispose();
        _selectUnit.Dispose();
    }

    private void Derive(int unitId)
    {
        _deleteUnit.Run(unitId);
        var months = new Dictionary<int, int>();
        using (System.Data.Common.DbDataReader row = _selectUnit.Query(unitId))
        {
            while (row.Read())
            {
                int month = WashMonth.Of(row.GetInt64(0));
                months[month] = months.GetValueOrDefault(month) + 1;
            }
        }

        foreach ((int month, int washes) in months)
        {
            _addUp.Run(month, unitId, washes);
        }
    }
}
