using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps visit_span: visits that count, each as its record says.</summary>
/// <param name="session">The transaction.</param>
internal sealed class VisitSpanTable(WriteSession session)
    : LedgerSpanTable(session, new LedgerSpanSql("visit_span", Columns, InsertRow, DeleteRow, DeleteUnit, InsertUnit))
{
    private const string InsertRow = """
        INSERT INTO visit_span (unit_id, from_ms, seq, asked_ms, arrived_ms, left_ms, outcome)
        VALUES (@unit_id, @from_ms, @seq, @asked_ms, @arrived_ms, @left_ms, @outcome)
        """;

    private const string DeleteRow = "DELETE FROM visit_span WHERE unit_id = @unit_id AND from_ms = @from_ms AND seq = @seq";
    private const string DeleteUnit = "DELETE FROM visit_span WHERE unit_id = @unit_id";

    private const string InsertUnit = """
        INSERT INTO visit_span (unit_id, from_ms, seq, asked_ms, arrived_ms, left_ms, outcome)
        SELECT r.unit_id, r.at_ms, r.seq, x.asked_ms, x.arrived_ms, x.left_ms, x.outcome
        FROM record r JOIN visit x ON x.seq = r.seq
        WHERE r.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        """;

    private static readonly string[] Columns = ["unit_id", "from_ms", "seq", "asked_ms", "arrived_ms", "left_ms", "outcome"];

    /// <summary>Adds one.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="seq">Its number.</param>
    /// <param name="visit">The visit.</param>
    public void Add(int unitId, long seq, VisitRecord visit) => Insert(
        unitId, visit.At.ToUnixTimeMilliseconds(), seq, Ms(visit.AskedAt), Ms(visit.ArrivedAt), Ms(visit.LeftAt),
        visit.Outcome is { } outcome ? EnumText<VisitOutcome>.Of(outcome) : null);
}
