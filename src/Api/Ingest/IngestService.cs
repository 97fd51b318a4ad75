using System.Diagnostics;
using Washwear.Api.Operation;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Ingest;

/// <summary>The one way in for records, from requests, files, messages and the demo alike. Safe for concurrent use.</summary>
/// <remarks>Rows are taken in by portions of at most 10,000 rows and 8 MiB of text, each acknowledged after its commit, so that a
/// long request neither holds the database nor the memory; while one is written, the rows of the next are read. Portions of several
/// requests share a transaction. All-or-nothing requests are one portion and hold all rows till then. How much may be read and not yet
/// written is bounded over all requests: those under way wait, those that begin wait or are refused.</remarks>
/// <param name="database">The database.</param>
/// <param name="registryCache">The registry.</param>
/// <param name="settings">How much may wait.</param>
/// <param name="clock">The clock.</param>
/// <param name="meter">Counts what is taken in.</param>
public sealed class IngestService(Database database, RegistryCache registryCache, Settings settings, TimeProvider clock, IngestMeter meter)
{
    /// <summary>Most rows of one all-or-nothing request.</summary>
    public const int MostRowsAllOrNothing = 100_000;

    private const int LongestRetrySeconds = 60;

    private readonly IngestRoom _room = new(settings.IngestQueueRequests, settings.IngestQueueBytes);
    private readonly IngestWriter _writer = new(database, registryCache, clock, meter);

    /// <summary>How busy it is.</summary>
    public IngestLoad Load
    {
        get
        {
            (int requests, long bytes, long refused) = _room.Use;
            return _writer.Complete(new IngestLoad(requests, bytes, 0, 0, 0, 0, 0, refused));
        }
    }

    /// <summary>When a request that was refused for want of room may be sent again: how long it takes to write what waits, whole seconds, 1 to 60.</summary>
    public int RetryAfterSeconds => _writer.BytesPerSecond is > 0 and var speed
        ? (int)Math.Clamp(Math.Ceiling(_room.Use.Bytes / speed), 1, LongestRetrySeconds)
        : 1;

    /// <summary>Takes records in that were never a text, such as those of the demo.</summary>
    /// <param name="records">The records; row numbers in the answer count from 1.</param>
    /// <param name="cancellationToken">Stops between portions.</param>
    /// <returns>What became of them, once that is on disk.</returns>
    public Task<IngestAnswer> TakeInAsync(IEnumerable<IncomingRecord> records, CancellationToken cancellationToken)
    {
        IEnumerable<IncomingRow> rows =
            records.Select((record, index) => new IncomingRow(index + 1, record, null, record.Source, record.Key, null, null));
        return TakeInAsync(rows.ToAsyncEnumerable(), new IngestOptions(), cancellationToken);
    }

    /// <summary>Takes one record in that is made within the transaction, from what no one can change meanwhile.</summary>
    /// <param name="make">Makes the record; null: nothing is taken in. May be asked again if the transaction has to be.</param>
    /// <param name="cancellationToken">Stops waiting for the turn.</param>
    /// <returns>What became of it, and its number in the ledger if it is an approval that was accepted; null: nothing was made.</returns>
    internal async Task<(RowResult Result, long? Seq)?> TakeInMadeAsync(
        Func<WriteSession, RegistrySnapshot, Task<IncomingRecord?>> make, CancellationToken cancellationToken)
    {
        long start = Stopwatch.GetTimestamp();
        (IncomingRow Row, RowResult Result, long? Seq)? taken = await database.WriteAsync(
            async session =>
            {
                RegistrySnapshot registry = await registryCache.CurrentAsync(CancellationToken.None);
                if (await make(session, registry) is not { } record)
                {
                    return ((IncomingRow Row, RowResult Result, long? Seq)?)null;
                }

                var row = new IncomingRow(1, record, null, record.Source, record.Key, null, null);
                (RowResult result, long? seq) = await IngestTransaction.WriteOneAsync(session, row, registry, clock.GetUtcNow());
                return (row, result, seq);
            },
            cancellationToken);
        if (taken is not { } one)
        {
            return null;
        }

        meter.Committed([([one.Row], [one.Result])], Stopwatch.GetElapsedTime(start), clock.GetUtcNow());
        return (one.Result, one.Seq);
    }

    /// <summary>Takes rows in by one transaction that are made within it, from what no one can change meanwhile.</summary>
    /// <param name="make">Makes the rows; may read and write in the transaction, and may be asked again if the transaction has to be.</param>
    /// <param name="cancellationToken">Stops waiting for the turn.</param>
    /// <returns>What became of each row.</returns>
    internal async Task<IReadOnlyList<RowResult>> TakeInMadeRowsAsync(
        Func<WriteSession, RegistrySnapshot, Task<IReadOnlyList<IncomingRow>>> make, CancellationToken cancellationToken)
    {
        long start = Stopwatch.GetTimestamp();
        (IReadOnlyList<IncomingRow> Rows, IReadOnlyList<RowResult> Results) taken = await database.WriteAsync(
            async session =>
            {
                RegistrySnapshot registry = await registryCache.CurrentAsync(CancellationToken.None);
                IReadOnlyList<IncomingRow> rows = await make(session, registry);
                var portion = new IngestPortion(rows, new IngestOptions(), new NearestCode(), 0);
                return (rows, (await IngestTransaction.WriteAsync(session, [portion], registry, clock.GetUtcNow()))[0]);
            },
            cancellationToken);
        meter.Committed([taken], Stopwatch.GetElapsedTime(start), clock.GetUtcNow());
        return taken.Results;
    }

    /// <summary>Takes rows in as they are read.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="options">How.</param>
    /// <param name="cancellationToken">Stops waiting and reading; what was handed over is written all the same.</param>
    /// <param name="keyed">Where the answer is kept, in the transaction that takes in the last rows; null: nowhere.</param>
    /// <returns>What became of them, once that is on disk.</returns>
    /// <exception cref="UnreadableBodyException">Nothing was taken in, because nothing could be read, or not all of an all-or-nothing
    /// request.</exception>
    /// <exception cref="IngestFullException">Nothing was taken in, because too much waits to be written; only where the options say so.</exception>
    internal async Task<IngestAnswer> TakeInAsync(
        IAsyncEnumerable<IncomingRow> rows, IngestOptions options, CancellationToken cancellationToken, KeyedRequest? keyed = null)
    {
        using IngestRoom.Stay stay = await _room.EnterAsync(options, cancellationToken);
        return await new IngestRun(_writer, stay, options, keyed).TakeInAsync(rows, cancellationToken);
    }
}
