using System.Data.Common;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Ledger;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Reads all that moved a unit's charts of early signs, within a transaction.</summary>
/// <param name="session">The transaction.</param>
internal sealed class SignHistory(WriteSession session) : IDisposable
{
    /// <summary>Washes of a unit as the charts take them.</summary>
    public const string SelectWashes = """
        SELECT w.started_ms, w.ended_ms, w.programme, w.grade, w.outcome, w.detergent_left, w.attested
        FROM wash_span w WHERE w.unit_id = @unit_id AND w.started_ms > @after
        """;

    /// <summary>Instants at which something of a unit was mended.</summary>
    public const string SelectMended = """
        SELECT r.at_ms FROM part_change p JOIN record r ON r.seq = p.seq
        WHERE p.unit_id = @unit_id AND r.at_ms > @after AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = p.seq)
        UNION ALL
        SELECT s.left_ms FROM visit_span s
        WHERE s.unit_id = @unit_id AND s.left_ms > @after AND s.outcome IN ('proven', 'repaired_not_proven')
        """;

    private readonly Statement _washes = new(session, SelectWashes, "unit_id", "after");
    private readonly Statement _mended = new(session, SelectMended, "unit_id", "after");

    /// <summary>The events of a unit, in their order.</summary>
    /// <param name="unitId">The unit.</param>
    /// <param name="after">Only those after this instant; null: all.</param>
    public List<SignEvent> Of(int unitId, Instant? after)
    {
        long afterMs = after?.ToUnixTimeMilliseconds() ?? long.MinValue;
        var events = new List<SignEvent>();
        using (DbDataReader washes = _washes.Query(unitId, afterMs))
        {
            ReadWashes(washes, events);
        }

        using (DbDataReader mended = _mended.Query(unitId, afterMs))
        {
            ReadMended(mended, events);
        }

        events.Sort(SignEvents.Order);
        return events;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _washes.Dispose();
        _mended.Dispose();
    }

    /// <summary>Reads the answer to <see cref="SelectWashes"/>.</summary>
    /// <param name="rows">The answer.</param>
    /// <param name="events">Where the events are added, in any order.</param>
    public static void ReadWashes(DbDataReader rows, List<SignEvent> events)
    {
        while (rows.Read())
        {
            events.Add(SignEvents.Washed(
                rows.GetInt64(0), rows.IsDBNull(1) ? null : rows.GetInt64(1), rows.IsDBNull(2) ? null : rows.GetString(2),
                rows.GetString(3), EnumText<WashOutcome>.Parse(rows.GetString(4)),
                rows.IsDBNull(5) ? null : rows.GetInt64(5) != 0, rows.GetInt64(6) != 0));
        }
    }

    /// <summary>Reads the answer to <see cref="SelectMended"/>.</summary>
    /// <param name="rows">The answer.</param>
    /// <param name="events">Where the events are added, in any order.</param>
    public static void ReadMended(DbDataReader rows, List<SignEvent> events)
    {
        while (rows.Read())
        {
            events.Add(SignEvents.Mended(rows.GetInt64(0)));
        }
    }
}
