using System.Data.Common;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;

namespace Washwear.Api.Ledger;

/// <summary>A record that is in the ledger already.</summary>
/// <param name="Seq">Its number.</param>
/// <param name="Type">Its type.</param>
/// <param name="UnitId">Its unit; null for a void.</param>
/// <param name="AtMs">When it happened.</param>
internal readonly record struct LedgerEntry(long Seq, string Type, int? UnitId, long AtMs);

/// <summary>The rows of record and voided, as a transaction asks for them and adds to them. SQLite is asked for each key; SQL Server is
/// asked for all keys of a portion at once, see <see cref="KnownLedgerRows"/>.</summary>
/// <param name="session">The transaction.</param>
internal class LedgerRows(WriteSession session) : IDisposable
{
    private const string SelectHash = "SELECT r.content_hash FROM record r WHERE r.source = @source AND r.\"key\" = @key";
    private const string SelectEntry = "SELECT r.seq, r.type, r.unit_id, r.at_ms FROM record r WHERE r.source = @source AND r.\"key\" = @key";

    private const string MeetWaitingRow =
        "UPDATE voided SET target_seq = @seq WHERE source = @source AND \"key\" = @key AND target_seq IS NULL";

    private const string DropWaitingRow = "DELETE FROM voided WHERE source = @source AND \"key\" = @key AND target_seq IS NULL";

    private const string NewRecord = """
        INSERT INTO record (seq, source, "key", type, unit_id, at_ms, received_ms, content_hash, replaces)
        VALUES (@seq, @source, @key, @type, @unit_id, @at_ms, @received_ms, @content_hash, @replaces)
        """;

    private const string NewVoided = """
        INSERT INTO voided (source, "key", by_seq, target_seq) VALUES (@source, @key, @by_seq, @target_seq)
        """;

    // SQL Server adds only keys that it was asked for before.
    private static readonly Sql InsertRecord = new(Sqlite: NewRecord + "\nON CONFLICT (source, key) DO NOTHING", SqlServer: NewRecord);
    private static readonly Sql InsertVoided = new(Sqlite: NewVoided + "\nON CONFLICT (source, key) DO NOTHING", SqlServer: NewVoided);

    private readonly Statement _selectHash = new(session, SelectHash, "source", "key");
    private readonly Statement _selectEntry = new(session, SelectEntry, "source", "key");
    private readonly Statement _meetWaiting = new(session, MeetWaitingRow, "seq", "source", "key");
    private readonly Statement _dropWaiting = new(session, DropWaitingRow, "source", "key");

    /// <summary>The way of the engine that a transaction belongs to.</summary>
    /// <param name="session">The transaction.</param>
    public static LedgerRows Of(WriteSession session) => session.GathersRows ? new KnownLedgerRows(session) : new LedgerRows(session);

    /// <summary>New records.</summary>
    protected Appender Records { get; } = Appender.Of(
        session, "record", InsertRecord, "seq", "source", "key", "type", "unit_id", "at_ms", "received_ms", "content_hash", "replaces");

    /// <summary>Keys that no longer count.</summary>
    protected Appender Voided { get; } = Appender.Of(session, "voided", InsertVoided, "source", "key", "by_seq", "target_seq");

    /// <summary>Says which keys will be asked for.</summary>
    /// <param name="keys">Source and key of each.</param>
    public virtual void Expect(IEnumerable<(string Source, string Key)> keys)
    {
    }

    /// <summary>Adds a record.</summary>
    /// <param name="seq">Its number.</param>
    /// <param name="record">The record.</param>
    /// <param name="unitId">Its unit; null for a void.</param>
    /// <param name="receivedMs">When it came in.</param>
    /// <param name="hash">Hash of its content.</param>
    /// <returns>Null: it was added; else the hash of the record that is there under its source and key.</returns>
    public virtual byte[]? Add(long seq, IncomingRecord record, int? unitId, long receivedMs, byte[] hash) =>
        Records.Add(
            seq, record.Source, record.Key, RecordJson.TypeOf(record), unitId, record.At.ToUnixTimeMilliseconds(), receivedMs, hash, record.Replaces)
            ? null
            : (byte[])_selectHash.Value(record.Source, record.Key)!;

    /// <summary>The record under a source and key; null if none has arrived.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    public virtual LedgerEntry? Find(string source, string key)
    {
        using DbDataReader row = _selectEntry.Query(source, key);
        return row.Read()
            ? new LedgerEntry(row.GetInt64(0), row.GetString(1), row.IsDBNull(2) ? null : (int)row.GetInt64(2), row.GetInt64(3))
            : null;
    }

    /// <summary>Says that a key no longer counts.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    /// <param name="bySeq">The record that says so.</param>
    /// <param name="targetSeq">The record under the key, if it has arrived.</param>
    /// <returns>Whether it counted until now.</returns>
    public virtual bool Void(string source, string key, long bySeq, long? targetSeq) => Voided.Add(source, key, bySeq, targetSeq);

    /// <summary>A record has arrived that a void may have waited for.</summary>
    /// <param name="seq">Its number.</param>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    /// <returns>Whether one had.</returns>
    public virtual bool MeetWaiting(long seq, string source, string key) => _meetWaiting.Run(seq, source, key) > 0;

    /// <summary>A void has arrived that a void may have waited for, in vain.</summary>
    /// <param name="source">Source.</param>
    /// <param name="key">Key.</param>
    /// <returns>Whether one had.</returns>
    public virtual bool DropWaiting(string source, string key) => _dropWaiting.Run(source, key) > 0;

    /// <summary>Writes what waits.</summary>
    public void Flush()
    {
        Records.Flush();
        Voided.Flush();
    }

    /// <inheritdoc/>
    public virtual void Dispose()
    {
        Records.Dispose();
        Voided.Dispose();
        foreach (Statement statement in (Statement[])[_selectHash, _selectEntry, _meetWaiting, _dropWaiting])
        {
            statement.Dispose();
        }
    }
}
