using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Dapper;
using Washwear.Api.Ledger;

namespace Washwear.Api.Integrity;

/// <summary>Holds what the database keeps against the hashes that were taken when it came, and the ledger against itself.</summary>
/// <param name="connection">A connection that sees one commit.</param>
/// <param name="transaction">Its transaction.</param>
internal sealed class ContentQueries(DbConnection connection, DbTransaction transaction)
{
    private const string Photos = "SELECT id, source, visit_key, sha256, body FROM visit_photo ORDER BY id";
    private const string Refused = "SELECT id, source, body_hash, body FROM refused ORDER BY id";

    private const string VoidedByNobody = """
        SELECT v.source AS Source, v."key" AS "Key" FROM voided v
        LEFT JOIN record r ON r.seq = v.by_seq
        LEFT JOIN void d ON d.seq = v.by_seq
        WHERE r.seq IS NULL OR r.source <> v.source OR COALESCE(d.voids, r.replaces, '') <> v."key"
        """;

    private const string VoidedElsewhere = """
        SELECT v.source AS Source, v."key" AS "Key" FROM voided v
        LEFT JOIN record t ON t.source = v.source AND t."key" = v."key"
        WHERE COALESCE(v.target_seq, -1) <> COALESCE(t.seq, -1)
        """;

    // A void that names a void does nothing.
    private const string VoidLost = """
        SELECT r.source AS Source, r."key" AS "Key" FROM void d
        JOIN record r ON r.seq = d.seq
        LEFT JOIN record t ON t.source = r.source AND t."key" = d.voids
        WHERE (t.type IS NULL OR t.type <> 'void')
            AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.source = r.source AND v."key" = d.voids)
        """;

    private const string ReplacementLost = """
        SELECT r.source AS Source, r."key" AS "Key" FROM record r
        LEFT JOIN record t ON t.source = r.source AND t."key" = r.replaces
        WHERE r.replaces IS NOT NULL AND (t.type IS NULL OR t.type <> 'void')
            AND NOT EXISTS (SELECT 1 FROM voided v WHERE v.source = r.source AND v."key" = r.replaces)
        """;

    private static readonly string[] WithoutContent =
    [
        .. StoredRecords.Types.Where(type => type != "heartbeat").Select(type => $"""
            SELECT r.source AS Source, r."key" AS "Key" FROM record r
            WHERE r.type = '{type}' AND NOT EXISTS (SELECT 1 FROM "{type}" p WHERE p.seq = r.seq)
            """),
    ];

    /// <summary>Records that no longer say what was taken in.</summary>
    public IEnumerable<string> Records() => StoredRecords.Types
        .SelectMany(type => StoredRecords.Read(connection, transaction, type, long.MinValue, long.MaxValue))
        .Where(record => !record.IsWhole)
        .Select(record => Line($"Record {record.Seq} ({record.Type}, source '{record.Source}', key '{record.Key}') no longer says what was taken in."));

    /// <summary>Records whose content is gone.</summary>
    public IEnumerable<string> Missing() =>
        WithoutContent.SelectMany(Rows).Select(row => $"The content of the record with source '{row.Source}' and key '{row.Key}' is gone.");

    /// <summary>Keys that count, or do not, against what the records say.</summary>
    public IEnumerable<string> Voids() =>
        new[] { VoidedByNobody, VoidedElsewhere }.SelectMany(Rows)
            .Select(row => $"The list of records that no longer count is wrong about source '{row.Source}', key '{row.Key}'.")
            .Concat(new[] { VoidLost, ReplacementLost }.SelectMany(Rows)
                .Select(row => $"What the record with source '{row.Source}' and key '{row.Key}' takes back still counts."));

    /// <summary>Photos and refused rows that are not what came.</summary>
    public IEnumerable<string> Kept() =>
        Hashed(Photos, row => (byte[])row[4], 3).Select(row => Line($"Photo {row[0]} of the visit with source '{row[1]}' and key '{row[2]}' is not the one that came."))
            .Concat(Hashed(Refused, row => Encoding.UTF8.GetBytes((string)row[3]), 2).Select(row => Line($"Refused row {row[0]} of source '{row[1]}' is not the one that came.")));

    private IEnumerable<object[]> Hashed(string sql, Func<object[], byte[]> body, int hashColumn)
    {
        using DbDataReader row = (DbDataReader)connection.ExecuteReader(sql, null, transaction, commandTimeout: 0);
        while (row.Read())
        {
            object[] values = new object[row.FieldCount];
            row.GetValues(values);
            if (!SHA256.HashData(body(values)).AsSpan().SequenceEqual((byte[])values[hashColumn]))
            {
                yield return values;
            }
        }
    }

    private IEnumerable<SourceKey> Rows(string sql) => connection.Query<SourceKey>(sql, null, transaction, buffered: false, commandTimeout: 0);

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private sealed record SourceKey(string Source, string Key);
}
