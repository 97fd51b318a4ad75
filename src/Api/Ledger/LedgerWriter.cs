using System.Data.Common;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>What became of a record at the ledger.</summary>
internal enum Appended
{
    /// <summary>Written.</summary>
    Added,

    /// <summary>Written, but an earlier void or replacement names it: it does not count.</summary>
    AddedVoided,

    /// <summary>The same content is there under the same source and key.</summary>
    Duplicate,

    /// <summary>Other content is there under the same source and key.</summary>
    Conflict,
}

/// <summary>A record that is in the ledger already.</summary>
/// <param name="Seq">Its number.</param>
/// <param name="Type">Its type.</param>
/// <param name="UnitId">Its unit; null for a void.</param>
/// <param name="AtMs">When it happened.</param>
internal readonly record struct LedgerEntry(long Seq, string Type, int? UnitId, long AtMs);

/// <summary>Appends records within one transaction. Not safe for concurrent use.</summary>
internal sealed class LedgerWriter : IDisposable
{
    private const string InsertRecord = """
        INSERT INTO record (seq, source, key, type, unit_id, at_ms, received_ms, content_hash, replaces)
        VALUES (@seq, @source, @key, @type, @unit_id, @at_ms, @received_ms, @content_hash, @replaces)
        ON CONFLICT (source, key) DO NOTHING
        """;

    private const string SelectHash = "SELECT content_hash FROM record WHERE source = @source AND key = @key";
    private const string SelectEntry = "SELECT seq, type, unit_id, at_ms FROM record WHERE source = @source AND key = @key";
    private const string SelectLastSeq = "SELECT max(seq) FROM record";
    private const string SelectWaiting = "SELECT EXISTS (SELECT 1 FROM voided INDEXED BY voided_waiting WHERE target_seq IS NULL)";

    private const string MeetWaiting =
        "UPDATE voided SET target_seq = @seq WHERE source = @source AND key = @key AND target_seq IS NULL";

    private const string DropWaiting = "DELETE FROM voided WHERE source = @source AND key = @key AND target_seq IS NULL";

    private const string InsertVoided = """
        INSERT INTO voided (source, key, by_seq, target_seq) VALUES (@source, @key, @by_seq, @target_seq)
        ON CONFLICT (source, key) DO NOTHING
        """;

    private readonly ContentHash _hash = new();
    private readonly PayloadWriter _payload;
    private readonly Statement _insertRecord;
    private readonly Statement _selectHash;
    private readonly Statement _selectEntry;
    private readonly Statement _meetWaiting;
    private readonly Statement _dropWaiting;
    private readonly Statement _insertVoided;
    private readonly long _receivedMs;
    private long _lastSeq;
    private bool _anyWaiting;

    /// <summary>Begins to append.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="receivedAt">When the records came in.</param>
    public LedgerWriter(WriteSession session, DateTimeOffset receivedAt)
    {
        _receivedMs = receivedAt.ToUnixTimeMilliseconds();
        _payload = new PayloadWriter(session);
        _insertRecord = new(
            session, InsertRecord, "seq", "source", "key", "type", "unit_id", "at_ms", "received_ms", "content_hash", "replaces");
        _selectHash = new(session, SelectHash, "source", "key");
        _selectEntry = new(session, SelectEntry, "source", "key");
        _meetWaiting = new(session, MeetWaiting, "seq", "source", "key");
        _dropWaiting = new(session, DropWaiting, "source", "key");
        _insertVoided = new(session, InsertVoided, "source", "key", "by_seq", "target_seq");
        using var lastSeq = new Statement(session, SelectLastSeq);
        using var waiting = new Statement(session, SelectWaiting);
        _lastSeq = (long?)lastSeq.Value() ?? 0;
        _anyWaiting = (long)waiting.Value()! != 0;
    }

    /// <summary>Number of the record appended last.</summary>
    public long LastSeq => _lastSeq;

    /// <summary>Appends a record, unless there is one under its source and key.</summary>
    /// <param name="record">The record.</param>
    /// <param name="unitId">Its unit; null for a void.</param>
    public Appended Append(IncomingRecord record, int? unitId)
    {
        byte[] hash = _hash.Of(record);
        long seq = _lastSeq + 1;
        int written = _insertRecord.Run(
            seq, record.Source, record.Key, RecordJson.TypeOf(record), unitId, record.At.ToUnixTimeMilliseconds(), _receivedMs, hash,
            record.Replaces);
        if (written == 0)
        {
            byte[] there = (byte[])_selectHash.Value(record.Source, record.Key)!;
            return there.AsSpan().SequenceEqual(hash) ? Appended.Duplicate : Appended.Conflict;
        }

        _lastSeq = seq;
        _payload.Write(seq, unitId, record);
        if (!_anyWaiting)
        {
            return Appended.Added;
        }

        // A void that waited for a void waited for nothing: voids stay in force.
        return record is VoidRecord
            ? _dropWaiting.Run(record.Source, record.Key) > 0 ? Appended.AddedVoided : Appended.Added
            : _meetWaiting.Run(seq, record.Source, record.Key) > 0 ? Appended.AddedVoided : Appended.Added;
    }

    /// <summary>The record under a source and key; null if none has arrived.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public LedgerEntry? Find(string source, string key)
    {
        using DbDataReader row = _selectEntry.Query(source, key);
        return row.Read()
            ? new LedgerEntry(row.GetInt64(0), row.GetString(1), row.IsDBNull(2) ? null : row.GetInt32(2), row.GetInt64(3))
            : null;
    }

    /// <summary>Says that a key no longer counts, whether its record has arrived or not.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    /// <param name="target">Its record, if it has arrived.</param>
    /// <returns>Whether it counted until now.</returns>
    public bool Void(string source, string key, LedgerEntry? target)
    {
        _anyWaiting |= target is null;
        return _insertVoided.Run(source, key, _lastSeq, target?.Seq) > 0;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _payload.Dispose();
        foreach (Statement statement in
            (Statement[])[_insertRecord, _selectHash, _selectEntry, _meetWaiting, _dropWaiting, _insertVoided])
        {
            statement.Dispose();
        }
    }
}
