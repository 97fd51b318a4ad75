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

/// <summary>Appends records within one transaction. Not safe for concurrent use.</summary>
internal sealed class LedgerWriter : IDisposable
{
    private const string SelectLastSeq = "SELECT max(r.seq) FROM record r";

    private static readonly Sql SelectWaiting = new(
        Sqlite: "SELECT EXISTS (SELECT 1 FROM voided INDEXED BY voided_waiting WHERE target_seq IS NULL)",
        SqlServer: "SELECT CASE WHEN EXISTS (SELECT 1 FROM voided v WHERE v.target_seq IS NULL) THEN 1 ELSE 0 END");

    private readonly ContentHash _hash = new();
    private readonly LedgerRows _rows;
    private readonly PayloadWriter _payload;
    private readonly long _receivedMs;
    private long _lastSeq;
    private bool _anyWaiting;

    /// <summary>Begins to append.</summary>
    /// <param name="session">The transaction.</param>
    /// <param name="receivedAt">When the records came in.</param>
    public LedgerWriter(WriteSession session, DateTimeOffset receivedAt)
    {
        _receivedMs = receivedAt.ToUnixTimeMilliseconds();
        _rows = LedgerRows.Of(session);
        _payload = new PayloadWriter(session);
        using var lastSeq = new Statement(session, SelectLastSeq);
        using var waiting = new Statement(session, SelectWaiting);
        _lastSeq = lastSeq.Number();
        _anyWaiting = waiting.Number() != 0;
    }

    /// <summary>Number of the record appended last.</summary>
    public long LastSeq => _lastSeq;

    /// <summary>Says which records will come, so that the ledger can be asked for their keys at once.</summary>
    /// <param name="records">The records.</param>
    public void Expect(IEnumerable<IncomingRecord> records) => _rows.Expect(records.SelectMany(KeysOf));

    /// <summary>Appends a record, unless there is one under its source and key.</summary>
    /// <param name="record">The record.</param>
    /// <param name="unitId">Its unit; null for a void.</param>
    public Appended Append(IncomingRecord record, int? unitId)
    {
        byte[] hash = _hash.Of(record);
        long seq = _lastSeq + 1;
        if (_rows.Add(seq, record, unitId, _receivedMs, hash) is { } there)
        {
            return there.AsSpan().SequenceEqual(hash) ? Appended.Duplicate : Appended.Conflict;
        }

        _lastSeq = seq;
        _payload.Write(seq, unitId, record);
        if (!_anyWaiting)
        {
            return Appended.Added;
        }

        // A void that waited for a void waited for nothing: voids stay in force.
        bool isAwaited = record is VoidRecord
            ? _rows.DropWaiting(record.Source, record.Key)
            : _rows.MeetWaiting(seq, record.Source, record.Key);
        return isAwaited ? Appended.AddedVoided : Appended.Added;
    }

    /// <summary>The record under a source and key; null if none has arrived.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public LedgerEntry? Find(string source, string key) => _rows.Find(source, key);

    /// <summary>Says that a key no longer counts, whether its record has arrived or not.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    /// <param name="target">Its record, if it has arrived.</param>
    /// <returns>Whether it counted until now.</returns>
    public bool Void(string source, string key, LedgerEntry? target)
    {
        _anyWaiting |= target is null;
        return _rows.Void(source, key, _lastSeq, target?.Seq);
    }

    /// <summary>Writes what waits; to be called before the ledger is read.</summary>
    public void Flush()
    {
        _rows.Flush();
        _payload.Flush();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _rows.Dispose();
        _payload.Dispose();
    }

    private static IEnumerable<(string Source, string Key)> KeysOf(IncomingRecord record)
    {
        yield return (record.Source, record.Key);
        if (((record as VoidRecord)?.Voids ?? record.Replaces) is { } named)
        {
            yield return (record.Source, named);
        }
    }
}
