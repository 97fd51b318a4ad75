using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Projections;

/// <summary>Keeps approval_span: approvals that count, each as its record says.</summary>
/// <param name="session">The transaction.</param>
internal sealed class ApprovalSpanTable(WriteSession session)
    : LedgerSpanTable(session, new LedgerSpanSql("approval_span", Columns, InsertRow, DeleteRow, DeleteUnit, InsertUnit))
{
    private const string InsertRow = """
        INSERT INTO approval_span (unit_id, from_ms, seq, asked_ms, decided_ms, granted)
        VALUES (@unit_id, @from_ms, @seq, @asked_ms, @decided_ms, @granted)
        """;

    private const string DeleteRow = "DELETE FROM approval_span WHERE unit_id = @unit_id AND from_ms = @from_ms AND seq = @seq";
    private const string DeleteUnit = "DELETE FROM approval_span WHERE unit_id = @unit_id";

    private const string InsertUnit = """
        INSERT INTO approval_span (unit_id, from_ms, seq, asked_ms, decided_ms, granted)
        SELECT r.unit_id, r.at_ms, r.seq, x.asked_ms, x.decided_ms,
            CASE WHEN x.decision IS NULL THEN NULL WHEN x.decision = 'granted' THEN 1 ELSE 0 END
        FROM record r JOIN approval x ON x.seq = r.seq
        WHERE r.unit_id = @unit_id AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.target_seq = r.seq)
        """;

    private static readonly string[] Columns = ["unit_id", "from_ms", "seq", "asked_ms", "decided_ms", "granted"];

    /// <summary>Adds one.</summary>
    /// <param name="unitId">Its unit.</param>
    /// <param name="seq">Its number.</param>
    /// <param name="approval">The approval.</param>
    public void Add(int unitId, long seq, ApprovalRecord approval) => Insert(
        unitId, approval.At.ToUnixTimeMilliseconds(), seq, Ms(approval.AskedAt), Ms(approval.DecidedAt),
        approval.Decision is { } decision ? (decision == ApprovalDecision.Granted ? 1L : 0L) : null);
}
