using System.Data.Common;
using System.Text.Json;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>The rows of record and voided for SQL Server: what is there under the keys of a portion is asked for once, what comes is kept
/// beside it and written together. No other transaction can change them meanwhile, as there is one writer over all nodes.</summary>
/// <param name="session">The transaction.</param>
internal sealed class KnownLedgerRows(WriteSession session) : LedgerRows(session)
{
    private static readonly Sql SelectKeys = new(
        Sqlite: """
            SELECT k.value ->> '$.source' AS source, k.value ->> '$.key' AS "key", r.seq, r.type, r.unit_id, r.at_ms, r.content_hash, v.by_seq, v.target_seq
            FROM json_each(@keys) k
            LEFT JOIN record r ON r.source = k.value ->> '$.source' AND r.key = k.value ->> '$.key'
            LEFT JOIN voided v ON v.source = k.value ->> '$.source' AND v.key = k.value ->> '$.key'
            """,
        SqlServer: """
            SELECT k.source, k."key", r.seq, r.type, r.unit_id, r.at_ms, r.content_hash, v.by_seq, v.target_seq
            FROM OPENJSON(@keys) WITH (source NVARCHAR(64) '$.source', "key" NVARCHAR(200) '$.key') k
            LEFT JOIN record r ON r.source = k.source COLLATE Latin1_General_BIN2 AND r."key" = k."key" COLLATE Latin1_General_BIN2
            LEFT JOIN voided v ON v.source = k.source COLLATE Latin1_General_BIN2 AND v."key" = k."key" COLLATE Latin1_General_BIN2
            """);

    private readonly Dictionary<(string Source, string Key), Known> _known = [];
    private readonly Statement _select = new(session, SelectKeys, "keys");

    public override void Expect(IEnumerable<(string Source, string Key)> keys)
    {
        (string Source, string Key)[] unknown = [.. keys.Select(Comparable).Distinct().Where(key => !_known.ContainsKey(key))];
        if (unknown.Length == 0)
        {
            return;
        }

        foreach ((string, string) key in unknown)
        {
            _known[key] = new Known();
        }

        Read(JsonSerializer.Serialize(unknown.Select(key => new { source = key.Source, key = key.Key })));
    }

    public override byte[]? Add(long seq, IncomingRecord record, int? unitId, long receivedMs, byte[] hash)
    {
        Known known = Of(record.Source, record.Key);
        if (known.Hash is { } there)
        {
            return there;
        }

        base.Add(seq, record, unitId, receivedMs, hash);
        known.Hash = hash;
        known.Entry = new LedgerEntry(seq, RecordJson.TypeOf(record), unitId, record.At.ToUnixTimeMilliseconds());
        return null;
    }

    public override LedgerEntry? Find(string source, string key) => Of(source, key).Entry;

    public override bool Void(string source, string key, long bySeq, long? targetSeq)
    {
        Known known = Of(source, key);
        if (known.IsVoided)
        {
            return false;
        }

        known.IsVoided = true;
        known.IsAwaited = targetSeq is null;
        return base.Void(source, key, bySeq, targetSeq);
    }

    public override bool MeetWaiting(long seq, string source, string key)
    {
        if (!Of(source, key).TakeAwaited())
        {
            return false;
        }

        // The row that waits may itself wait to be written, and refers to the record.
        Flush();
        return base.MeetWaiting(seq, source, key);
    }

    public override bool DropWaiting(string source, string key)
    {
        Known known = Of(source, key);
        if (!known.TakeAwaited())
        {
            return false;
        }

        known.IsVoided = false;
        Flush();
        return base.DropWaiting(source, key);
    }

    public override void Dispose()
    {
        _select.Dispose();
        base.Dispose();
    }

    // To SQL Server, texts that differ in blanks at their end alone are equal.
    private static (string Source, string Key) Comparable((string Source, string Key) key) => (key.Source.TrimEnd(' '), key.Key.TrimEnd(' '));

    private Known Of(string source, string key)
    {
        if (!_known.TryGetValue(Comparable((source, key)), out Known? known))
        {
            Expect([(source, key)]);
            known = _known[Comparable((source, key))];
        }

        return known;
    }

    private void Read(string keys)
    {
        using DbDataReader row = _select.Query(keys);
        while (row.Read())
        {
            Known known = _known[(row.GetString(0), row.GetString(1))];
            if (!row.IsDBNull(2))
            {
                known.Entry = new LedgerEntry(row.GetInt64(2), row.GetString(3), row.IsDBNull(4) ? null : (int)row.GetInt64(4), row.GetInt64(5));
                known.Hash = row.GetFieldValue<byte[]>(6);
            }

            known.IsVoided = !row.IsDBNull(7);
            known.IsAwaited = known.IsVoided && row.IsDBNull(8);
        }
    }

    private sealed class Known
    {
        public LedgerEntry? Entry { get; set; }

        public byte[]? Hash { get; set; }

        public bool IsVoided { get; set; }

        public bool IsAwaited { get; set; }

        public bool TakeAwaited()
        {
            bool awaited = IsAwaited;
            IsAwaited = false;
            return awaited;
        }
    }
}
