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
        using DbDataReader washes = _washes.Query(unitId, afterMs);
        using DbDataReader mended = _mended.Query(unitId, afterMs);
        return Read(washes, mended);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _washes.Dispose();
        _mended.Dispose();
    }

    /// <summary>Reads the events from the answers to the two questions.</summary>
    /// <param name="washes">Answer to <see cref="SelectWashes"/>.</param>
    /// <param name="mended">Answer to <see cref="SelectMended"/>.</param>
    public static List<SignEvent> Read(DbDataReader washes, DbDataReader mended)
    {
        var events = new List<SignEvent>();
        while (washes.Read())
        {
            events.Add(SignEvents.Washed(
                washes.GetInt64(0), washes.IsDBNull(1) ? null : washes.GetInt64(1), washes.IsDBNull(2) ? null : washes.GetString(2),
                washes.GetString(3), EnumText<WashOutcome>.Parse(washes.GetString(4)),
                washes.IsDBNull(5) ? null : washes.GetInt64(5) != 0, washes.GetInt64(6) != 0));
        }

        while (mended.Read())
        {
            events.Add(SignEvents.Mended(mended.GetInt64(0)));
        }

        events.Sort(SignEvents.Order);
        return events;
    }
}
