using System.Data.Common;
using System.Diagnostics;
using Washwear.Api.Ingest;
using Washwear.Api.Storage;
using Washwear.Api.Upkeep;

namespace Washwear.Api.Operation;

/// <summary>Looks at how the service fares, however many ask: at most ten times a second, and never longer than they can wait. Safe for concurrent
/// use.</summary>
/// <param name="database">The database.</param>
/// <param name="queries">Asks the database.</param>
/// <param name="ingest">The one way in.</param>
/// <param name="backups">How backups stand.</param>
/// <param name="clock">The clock.</param>
internal sealed class Lookout(Database database, OperationQueries queries, IngestService ingest, BackupState backups, TimeProvider clock)
{
    /// <summary>How long a look may take; a database that needs longer does not answer.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(700);

    private static readonly TimeSpan Fresh = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan RefusalsLast = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan BetweenCounts = TimeSpan.FromMinutes(1);

    private readonly Lock _gate = new();
    private Task<ServiceLook>? _looking;
    private ServiceLook? _latest;
    private long _latestAt;
    private (long Count, long? GrewAt) _refused;
    private long? _heldSince;
    private (int Units, long At)? _stale;

    /// <summary>What the latest look found; null: there was none.</summary>
    public ServiceLook? Latest
    {
        get
        {
            lock (_gate)
            {
                return _latest;
            }
        }
    }

    /// <summary>Looks, unless somebody has just now.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task<ServiceLook> LookAsync(CancellationToken cancellationToken)
    {
        Task<ServiceLook> looking;
        lock (_gate)
        {
            if (_latest is { } latest && Stopwatch.GetElapsedTime(_latestAt) < Fresh)
            {
                return latest;
            }

            // The embedded engine holds the thread that asks it.
            looking = _looking ??= Task.Run(TakeAsync, CancellationToken.None);
        }

        try
        {
            return await looking.WaitAsync(Patience, cancellationToken);
        }
        catch (TimeoutException)
        {
            ServiceLook unanswered = Begin() with { DatabaseProblem = "The database did not answer in time." };
            Keep(unanswered);
            return unanswered;
        }
    }

    private async Task<ServiceLook> TakeAsync()
    {
        ServiceLook look = Begin();
        try
        {
            look = await AskAsync(look);
        }
        catch (Exception error) when (error is DbException or IOException or InvalidOperationException or TimeoutException)
        {
            look = look with { DatabaseProblem = "The database does not answer." };
        }

        lock (_gate)
        {
            _looking = null;
        }

        Keep(look);
        return look;
    }

    private async Task<ServiceLook> AskAsync(ServiceLook look)
    {
        // The library that knows which scripts are missing would make the file.
        if (!database.Engine.Exists())
        {
            return look with { DatabaseProblem = "There is no database." };
        }

        IReadOnlyList<string> missing = Migrator.Missing(database);
        if (missing.Count > 0)
        {
            return look with { MissingScripts = missing };
        }

        WriterLock state = await database.LockOfWritersAsync();
        _heldSince = state == WriterLock.Held ? _heldSince ?? Stopwatch.GetTimestamp() : null;
        bool isCounted = _stale is { } counted && Stopwatch.GetElapsedTime(counted.At) < BetweenCounts;
        ServiceFigures figures = await queries.FiguresAsync(isCounted ? _stale!.Value.Units : null, CancellationToken.None);
        _stale = isCounted ? _stale : (figures.StaleUnits, Stopwatch.GetTimestamp());
        return look with
        {
            Figures = figures,
            Lock = state,
            LockedFor = _heldSince is { } since ? Stopwatch.GetElapsedTime(since) : TimeSpan.Zero,
        };
    }

    // What needs no database.
    private ServiceLook Begin()
    {
        IngestLoad load = ingest.Load;
        bool refusedLately;
        lock (_gate)
        {
            _refused = (load.RefusedRequests, load.RefusedRequests > _refused.Count ? Stopwatch.GetTimestamp() : _refused.GrewAt);
            refusedLately = _refused.GrewAt is { } at && Stopwatch.GetElapsedTime(at) < RefusalsLast;
        }

        (long? free, long? file, long? log) = DatabaseSpace.Of(database);
        return new ServiceLook(
            clock.GetUtcNow(), load, refusedLately, null, [], null, WriterLock.Free, TimeSpan.Zero,
            free, file, log, backups is { IsOverdue: true, LastSuccessAt: null });
    }

    private void Keep(ServiceLook look)
    {
        lock (_gate)
        {
            _latest = look;
            _latestAt = Stopwatch.GetTimestamp();
        }
    }
}
