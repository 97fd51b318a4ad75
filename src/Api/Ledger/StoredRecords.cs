using System.Data.Common;
using System.Text.Json;
using Dapper;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>A record of the ledger as it was taken in, or why it cannot be read any more.</summary>
/// <param name="Seq">Its number.</param>
/// <param name="Source">Its source.</param>
/// <param name="Key">Its key.</param>
/// <param name="Type">Its type.</param>
/// <param name="Record">The record; null: what the tables hold is none.</param>
/// <param name="IsWhole">Whether it says what its hash was taken of: when it came, or when a name in it was replaced.</param>
internal sealed record StoredRecord(long Seq, string Source, string Key, string Type, IncomingRecord? Record, bool IsWhole);

/// <summary>Reads records back out of the tables of the ledger, and holds each against the hash of its content.</summary>
internal static class StoredRecords
{
    /// <summary>Types of records, each with its table; a heartbeat has none.</summary>
    public static readonly IReadOnlyList<string> Types =
        ["wash", "fault", "fault_cleared", "part_change", "meter", "heartbeat", "visit", "approval", "condition", "void"];

    private const string Common = "r.seq, r.source, r.\"key\", r.type, u.code, r.at_ms, r.replaces, COALESCE(x.content_hash, r.content_hash)";

    // Where the columns of a type begin, after the common ones.
    private const int First = 8;

    private static readonly Dictionary<string, string> Columns = new(StringComparer.Ordinal)
    {
        ["wash"] = "p.ended_ms, p.programme, p.grade, p.outcome, p.fault_code, p.detergent_doses, p.detergent_left, p.attested_by",
        ["fault"] = "p.code, p.cleared_ms",
        ["fault_cleared"] = "p.code",
        ["part_change"] = "p.position, p.removed_reason, p.failure_mode, p.mechanism, p.last_seen_good_ms, p.removed_fitted_ms, p.fitted, "
            + "p.part_number, p.batch, p.supplier, p.age_days, p.age_washes",
        ["meter"] = "p.washes_total, p.operating_hours_total",
        ["visit"] = "p.asked_ms, p.arrived_ms, p.left_ms, p.outcome, p.technician, p.note, p.faults, p.checks, p.findings, p.proofs, p.conditions",
        ["approval"] = "p.what, p.amount, p.fault_code, p.asked_ms, p.decision, p.decided_ms, p.decided_by, p.note",
        ["condition"] = "p.position, p.grade, p.note",
        ["void"] = "p.voids, p.reason",
    };

    // By the table of the type, so that a record that no longer says its type is found as well.
    private static readonly Dictionary<string, string> Selects = Types.ToDictionary(type => type, type => Columns.TryGetValue(type, out string? columns)
        ? $"""
            SELECT {Common}, {columns}
            FROM "{type}" p JOIN record r ON r.seq = p.seq LEFT JOIN unit u ON u.id = r.unit_id LEFT JOIN erased_record x ON x.seq = r.seq
            WHERE p.seq BETWEEN @from AND @to ORDER BY p.seq
            """
        : $"""
            SELECT {Common} FROM record r LEFT JOIN unit u ON u.id = r.unit_id LEFT JOIN erased_record x ON x.seq = r.seq
            WHERE r.type = '{type}' AND r.seq BETWEEN @from AND @to ORDER BY r.seq
            """);

    /// <summary>One record; null: there is none of this type under this number.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="type">The type.</param>
    /// <param name="seq">The number.</param>
    public static StoredRecord? Find(WriteSession session, string type, long seq) => Read(session.Connection, session.Transaction, type, seq, seq).FirstOrDefault();

    /// <summary>The records of a type, in the order of acceptance, whether they still count or not.</summary>
    /// <param name="connection">A connection.</param>
    /// <param name="transaction">Its transaction; null: none.</param>
    /// <param name="type">The type.</param>
    /// <param name="fromSeq">First number.</param>
    /// <param name="toSeq">Last number.</param>
    public static IEnumerable<StoredRecord> Read(DbConnection connection, DbTransaction? transaction, string type, long fromSeq, long toSeq)
    {
        var hash = new ContentHash();
        var asked = new { from = fromSeq, to = toSeq };
        using DbDataReader row = (DbDataReader)connection.ExecuteReader(Selects[type], asked, transaction, commandTimeout: 0);
        while (row.Read())
        {
            yield return Read(row, type, hash);
        }
    }

    private static StoredRecord Read(DbDataReader row, string type, ContentHash hash)
    {
        long seq = row.GetInt64(0);
        string source = row.GetString(1);
        string key = row.GetString(2);
        string said = row.GetString(3);
        IncomingRecord? record = null;
        try
        {
            record = RecordOf(row, type, source, key);
            return new StoredRecord(seq, source, key, type, record, said == type && hash.Of(record).AsSpan().SequenceEqual((byte[])row[7]));
        }
        catch (Exception error) when (error is FormatException or JsonException or ArgumentException or InvalidCastException or OverflowException)
        {
            return new StoredRecord(seq, source, key, type, record, false);
        }
    }

    private static IncomingRecord RecordOf(DbDataReader row, string type, string source, string key)
    {
        string unit = Text(row, 4) ?? string.Empty;
        DateTimeOffset at = At(row, 5)!.Value;
        string? replaces = Text(row, 6);
        int c = First;
        return type switch
        {
            "wash" => new WashRecord(
                source, key, unit, at, replaces, At(row, c), Text(row, c + 1), Word<ProgrammeGrade>(row, c + 2), Word<WashOutcome>(row, c + 3)!.Value,
                Text(row, c + 4), Number(row, c + 5), Whole(row, c + 6) is { } left ? left != 0 : null, Text(row, c + 7)),
            "fault" => new FaultRecord(source, key, unit, at, replaces, row.GetString(c), At(row, c + 1)),
            "fault_cleared" => new FaultClearedRecord(source, key, unit, at, replaces, row.GetString(c)),
            "part_change" => new PartChangeRecord(source, key, unit, at, replaces, row.GetString(c), Removed(row, c + 1), Fitted(row, c + 6)),
            "meter" => new MeterRecord(source, key, unit, at, replaces, Number(row, c), Number(row, c + 1)),
            "heartbeat" => new HeartbeatRecord(source, key, unit, at, replaces),
            "visit" => new VisitRecord(
                source, key, unit, at, replaces, At(row, c), At(row, c + 1), At(row, c + 2), Word<VisitOutcome>(row, c + 3), Text(row, c + 4), Text(row, c + 5),
                List<string>(row, c + 6), List<VisitCheck>(row, c + 7), List<VisitFinding>(row, c + 8), List<VisitProof>(row, c + 9), List<PartCondition>(row, c + 10)),
            "approval" => new ApprovalRecord(
                source, key, unit, at, replaces, Text(row, c), Number(row, c + 1), Text(row, c + 2), At(row, c + 3), Word<ApprovalDecision>(row, c + 4),
                At(row, c + 5), Text(row, c + 6), Text(row, c + 7)),
            "condition" => new ConditionRecord(source, key, unit, at, replaces, row.GetString(c), Word<ConditionGrade>(row, c + 1)!.Value, Text(row, c + 2)),
            "void" => new VoidRecord(source, key, at, row.GetString(c), row.GetString(c + 1)),
            _ => throw new ArgumentOutOfRangeException(nameof(type), type, "No such type of record."),
        };
    }

    private static RemovedPart? Removed(DbDataReader row, int c) => Word<RemovalReason>(row, c) is { } reason
        ? new RemovedPart(reason, Text(row, c + 1), Text(row, c + 2), At(row, c + 3), At(row, c + 4))
        : null;

    private static NewPart? Fitted(DbDataReader row, int c) => Whole(row, c) is 1
        ? new NewPart(Text(row, c + 1), Text(row, c + 2), Text(row, c + 3), Number(row, c + 4), Number(row, c + 5))
        : null;

    private static string? Text(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private static double? Number(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    private static long? Whole(DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt64(column);

    private static DateTimeOffset? At(DbDataReader row, int column) =>
        Whole(row, column) is { } ms ? DateTimeOffset.FromUnixTimeMilliseconds(ms) : null;

    private static T? Word<T>(DbDataReader row, int column)
        where T : struct, Enum => Text(row, column) is { } word ? EnumText<T>.Parse(word) : null;

    private static List<T>? List<T>(DbDataReader row, int column) =>
        Text(row, column) is { } json ? JsonSerializer.Deserialize<List<T>>(json, Json.Options) : null;
}
