using System.Data.Common;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps unit_status. What arrives is added up and written once a unit; only a void makes a unit be counted anew.</summary>
/// <param name="session">The transaction.</param>
internal sealed class UnitStatusTable(WriteSession session) : IDisposable
{
    private static readonly Sql Merge = new(
        Sqlite: """
            INSERT INTO unit_status (unit_id, first_heard_ms, last_heard_ms, last_record_ms, washes_run)
            VALUES (@unit_id, @first_heard_ms, @last_heard_ms, @last_record_ms, @washes_run)
            ON CONFLICT (unit_id) DO UPDATE SET
                first_heard_ms = coalesce(min(first_heard_ms, excluded.first_heard_ms), first_heard_ms, excluded.first_heard_ms),
                last_heard_ms = coalesce(max(last_heard_ms, excluded.last_heard_ms), last_heard_ms, excluded.last_heard_ms),
                last_record_ms = max(last_record_ms, excluded.last_record_ms),
                washes_run = washes_run + excluded.washes_run
            """,
        SqlServer: """
            UPDATE unit_status SET
                first_heard_ms = CASE WHEN first_heard_ms <= @first_heard_ms THEN first_heard_ms ELSE coalesce(@first_heard_ms, first_heard_ms) END,
                last_heard_ms = CASE WHEN last_heard_ms >= @last_heard_ms THEN last_heard_ms ELSE coalesce(@last_heard_ms, last_heard_ms) END,
                last_record_ms = CASE WHEN last_record_ms >= @last_record_ms THEN last_record_ms ELSE @last_record_ms END,
                washes_run = washes_run + @washes_run
            WHERE unit_id = @unit_id;
            INSERT INTO unit_status (unit_id, first_heard_ms, last_heard_ms, last_record_ms, washes_run)
            SELECT @unit_id, @first_heard_ms, @last_heard_ms, @last_record_ms, @washes_run
            WHERE NOT EXISTS (SELECT 1 FROM unit_status s WHERE s.unit_id = @unit_id)
            """);

    private const string DeleteUnit = "DELETE FROM unit_status WHERE unit_id = @unit_id";

    // Reads what the ledger says of a unit in the same way as Heard and Add do for one record.
    private const string OfUnit = """

        FROM record r LEFT JOIN wash w ON w.seq = r.seq LEFT JOIN fault f ON f.seq = r.seq
        WHERE r.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        """;

    private static readonly Sql SelectUnit = new(
        Sqlite: """
            SELECT
                min(CASE WHEN r.type IN ('part_change', 'visit', 'approval', 'condition') OR w.attested_by IS NOT NULL THEN NULL ELSE r.at_ms END),
                max(CASE WHEN r.type IN ('part_change', 'visit', 'approval', 'condition') OR w.attested_by IS NOT NULL THEN NULL
                    ELSE max(r.at_ms, coalesce(w.ended_ms, f.cleared_ms, r.at_ms)) END),
                max(r.at_ms),
                sum(w.seq IS NOT NULL AND w.outcome <> 'refused' AND w.attested_by IS NULL)
            """ + OfUnit,
        SqlServer: """
            SELECT
                min(CASE WHEN r.type IN ('part_change', 'visit', 'approval', 'condition') OR w.attested_by IS NOT NULL THEN NULL ELSE r.at_ms END),
                max(CASE WHEN r.type IN ('part_change', 'visit', 'approval', 'condition') OR w.attested_by IS NOT NULL THEN NULL
                    WHEN coalesce(w.ended_ms, f.cleared_ms, r.at_ms) > r.at_ms THEN coalesce(w.ended_ms, f.cleared_ms) ELSE r.at_ms END),
                max(r.at_ms),
                count_big(CASE WHEN w.outcome <> 'refused' AND w.attested_by IS NULL THEN 1 END)
            """ + OfUnit);

    private readonly Dictionary<int, Status> _arrived = [];
    private readonly HashSet<int> _stale = [];
    private readonly Statement _merge = new(
        session, Merge, "unit_id", "first_heard_ms", "last_heard_ms", "last_record_ms", "washes_run");

    private readonly Statement _deleteUnit = new(session, DeleteUnit, "unit_id");
    private readonly Statement _selectUnit = new(session, SelectUnit, "unit_id");

    /// <summary>Adds a record.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="record">The record.</param>
    public void Add(int unitId, IncomingRecord record)
    {
        long at = record.At.ToUnixTimeMilliseconds();
        long? last = LastHeard(record)?.ToUnixTimeMilliseconds();
        long ran = record is WashRecord { Outcome: not WashOutcome.Refused, AttestedBy: null } ? 1 : 0;
        var one = new Status(last is null ? null : at, last, at, ran);
        _arrived[unitId] = _arrived.TryGetValue(unitId, out Status before) ? before.With(one) : one;
    }

    /// <summary>Says that a unit must be counted anew.</summary>
    /// <param name="unitId">The unit.</param>
    public void CountAnew(int unitId) => _stale.Add(unitId);

    /// <summary>Writes what was added.</summary>
    public void Flush()
    {
        foreach ((int unitId, Status status) in _arrived.Where(pair => !_stale.Contains(pair.Key)))
        {
            Write(unitId, status);
        }

        foreach (int unitId in _stale)
        {
            _deleteUnit.Run(unitId);
            if (Read(unitId) is { } status)
            {
                Write(unitId, status);
            }
        }

        _arrived.Clear();
        _stale.Clear();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _merge.Dispose();
        _deleteUnit.Dispose();
        _selectUnit.Dispose();
    }

    // Cleans by hand, part changes, visits, approvals and conditions are reported by people: the unit itself was not heard.
    private static DateTimeOffset? LastHeard(IncomingRecord record) => record switch
    {
        WashRecord wash => wash.AttestedBy is null ? wash.EndedAt ?? wash.At : null,
        FaultRecord fault => fault.ClearedAt ?? fault.At,
        FaultClearedRecord or MeterRecord or HeartbeatRecord => record.At,
        _ => null,
    };

    private Status? Read(int unitId)
    {
        using DbDataReader row = _selectUnit.Query(unitId);
        return row.Read() && !row.IsDBNull(2)
            ? new Status(row.IsDBNull(0) ? null : row.GetInt64(0), row.IsDBNull(1) ? null : row.GetInt64(1), row.GetInt64(2), row.GetInt64(3))
            : null;
    }

    private void Write(int unitId, Status status) =>
        _merge.Run(unitId, status.FirstHeardMs, status.LastHeardMs, status.LastRecordMs, status.WashesRun);

    private readonly record struct Status(long? FirstHeardMs, long? LastHeardMs, long LastRecordMs, long WashesRun)
    {
        public Status With(Status other) => new(
            FirstHeardMs is { } first && other.FirstHeardMs is { } otherFirst ? Math.Min(first, otherFirst) : FirstHeardMs ?? other.FirstHeardMs,
            LastHeardMs is { } last && other.LastHeardMs is { } otherLast ? Math.Max(last, otherLast) : LastHeardMs ?? other.LastHeardMs,
            Math.Max(LastRecordMs, other.LastRecordMs),
            WashesRun + other.WashesRun);
    }
}
