using System.Diagnostics;
using Washwear.Api.Operation;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Ingest;

/// <summary>
/// Writes the portions of all requests: whatever waits when a transaction ends goes into the next one, so that many small requests share
/// one wait for the disk, and none waits for company. Safe for concurrent use.
/// </summary>
/// <param name="database">The database.</param>
/// <param name="registryCache">The registry.</param>
/// <param name="clock">The clock.</param>
/// <param name="meter">Counts what is written.</param>
internal sealed class IngestWriter(Database database, RegistryCache registryCache, TimeProvider clock, IngestMeter meter)
{
    // Bounds how long a small request waits behind large ones.
    private const int RowsPerTransaction = 20_000;

    // Share of the latest transaction in the smoothed speed.
    private const double Newest = 0.2;

    private readonly Lock _gate = new();
    private readonly LinkedList<IngestPortion> _waiting = [];
    private bool _writing;
    private int _waitingRows;
    private double _rowsPerSecond;
    private double _bytesPerSecond;
    private long _transactions;
    private long _portions;
    private long _rows;

    /// <summary>Bytes of rows that a second of writing lets go of, smoothed; 0: nothing was written yet.</summary>
    public double BytesPerSecond => Volatile.Read(ref _bytesPerSecond);

    /// <summary>Writes a portion.</summary>
    /// <param name="portion">The portion.</param>
    /// <returns>What became of its rows, once that is on disk.</returns>
    public Task<IReadOnlyList<RowResult>> WriteAsync(IngestPortion portion)
    {
        lock (_gate)
        {
            _waiting.AddLast(portion);
            _waitingRows += portion.Rows.Count;
            if (!_writing)
            {
                _writing = true;
                _ = Task.Run(WriteAllAsync);
            }
        }

        return portion.Written;
    }

    /// <summary>Completes what is known of the load.</summary>
    /// <param name="load">What the writer does not know.</param>
    public IngestLoad Complete(IngestLoad load)
    {
        lock (_gate)
        {
            return load with
            {
                WaitingRows = _waitingRows,
                RowsPerSecond = _rowsPerSecond,
                Transactions = _transactions,
                Portions = _portions,
                Rows = _rows,
            };
        }
    }

    private async Task WriteAllAsync()
    {
        // It works for all of them, not for the request that happened to begin it.
        Activity.Current = null;
        while (Next() is { Count: > 0 } portions)
        {
            await WriteAsync(portions);
        }
    }

    // The oldest always goes, and with it, in their order, all that fit: small ones need not wait for large ones before them.
    private List<IngestPortion> Next()
    {
        lock (_gate)
        {
            var next = new List<IngestPortion>();
            int rows = 0;
            for (LinkedListNode<IngestPortion>? node = _waiting.First; node is not null && rows < RowsPerTransaction;)
            {
                LinkedListNode<IngestPortion>? following = node.Next;
                int more = node.Value.Rows.Count;
                if (rows == 0 || rows + more <= RowsPerTransaction)
                {
                    next.Add(node.Value);
                    rows += more;
                    _waiting.Remove(node);
                }

                node = following;
            }

            _waitingRows -= rows;
            _writing = next.Count > 0;
            return next;
        }
    }

    private async Task WriteAsync(List<IngestPortion> portions)
    {
        IReadOnlyList<IReadOnlyList<RowResult>> results;
        TimeSpan took;
        try
        {
            long start = Stopwatch.GetTimestamp();
            using (Telemetry.Committing(portions.Select(portion => portion.Request)))
            {
                results = await database.WriteAsync(
                    async session =>
                    {
                        // No other writer can change the registry while this transaction is open.
                        RegistrySnapshot registry = await registryCache.CurrentAsync(CancellationToken.None);
                        return await IngestTransaction.WriteAsync(session, portions, registry, clock.GetUtcNow());
                    },
                    CancellationToken.None);
            }

            took = Stopwatch.GetElapsedTime(start);
        }
        catch (Exception error)
        {
            await WriteOneByOneAsync(portions, error);
            return;
        }

        Count(portions, took);
        for (int index = 0; index < portions.Count; index++)
        {
            portions[index].Done(results[index]);
        }

        // Nobody waits for this any more.
        meter.Committed(portions.Select((portion, index) => (portion.Rows, results[index])), took, clock.GetUtcNow());
    }

    // One that cannot be written must not take the others with it; where the database itself cannot be written to, none can.
    private async Task WriteOneByOneAsync(List<IngestPortion> portions, Exception error)
    {
        if (portions.Count > 1 && !DatabaseFault.StopsEveryone(error))
        {
            foreach (IngestPortion portion in portions)
            {
                await WriteAsync([portion]);
            }

            return;
        }

        foreach (IngestPortion portion in portions)
        {
            portion.Failed(error);
        }
    }

    private void Count(List<IngestPortion> portions, TimeSpan took)
    {
        int rows = portions.Sum(portion => portion.Rows.Count);
        double seconds = Math.Max(took.TotalSeconds, 1e-6);
        lock (_gate)
        {
            _rowsPerSecond = Smoothed(_rowsPerSecond, rows / seconds);
            _bytesPerSecond = Smoothed(_bytesPerSecond, portions.Sum(portion => portion.HeldBytes) / seconds);
            _transactions++;
            _portions += portions.Count;
            _rows += rows;
        }
    }

    private static double Smoothed(double before, double now) => before == 0 ? now : before + (Newest * (now - before));
}
