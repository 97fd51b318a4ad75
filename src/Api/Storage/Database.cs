using System.Data;
using System.Data.Common;
using System.Diagnostics;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>The database, whichever engine holds it: readers in any number, one writer at a time. Safe for concurrent use.</summary>
public sealed class Database : IDisposable
{
    private const int MostTries = 5;

    // A lock that comes free within this time is that of somebody at work, not of somebody who keeps it.
    private static readonly TimeSpan LockPatience = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan BetweenTries = TimeSpan.FromMilliseconds(50);

    private readonly SemaphoreSlim _writer;
    private readonly ScopedReads? _within;
    private long _waitingSince;

    /// <summary>Describes the database; nothing is opened or created yet.</summary>
    /// <param name="settings">Which engine, where, and how long to wait for a lock.</param>
    public Database(Settings settings)
        : this(settings, settings.Engine == "sqlserver" ? new SqlServerEngine(settings) : new SqliteEngine(settings))
    {
    }

    /// <summary>Describes a database with a given engine.</summary>
    /// <param name="settings">Where, and how long to wait for a lock.</param>
    /// <param name="engine">The engine.</param>
    internal Database(Settings settings, Engine engine)
    {
        File = Path.GetFullPath(settings.Database);
        TypeHandlers.Register();
        Engine = engine;
        _writer = new SemaphoreSlim(1, 1);
    }

    private Database(Database whole, DataScope scope)
    {
        File = whole.File;
        Engine = whole.Engine;
        Scope = scope;
        _writer = whole._writer;
        _within = Engine.Within(scope);
    }

    /// <summary>Full path of the database file; with SQL Server there is none, only its folder is used.</summary>
    public string File { get; }

    /// <summary>What its connections for reading see; null: everything.</summary>
    public DataScope? Scope { get; }

    /// <summary>What the engine does in its own way.</summary>
    internal Engine Engine { get; }

    /// <summary>Opens a connection that is only read from; the caller disposes of it.</summary>
    /// <remarks>Statements see the latest commit each; use <see cref="BeginReading"/> where several must see the same one.</remarks>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <exception cref="DbException">The database cannot be opened.</exception>
    public Task<DbConnection> OpenReadAsync(CancellationToken cancellationToken) =>
        _within is null ? Engine.OpenReadAsync(cancellationToken) : _within.OpenAsync(cancellationToken);

    /// <summary>The same database as somebody sees it who may see a part of it alone: in connections for reading, a row outside of the scope
    /// does not exist. Writing is not scoped, and waits for its turn with all other writing.</summary>
    /// <param name="scope">The part.</param>
    /// <returns>To be disposed of before this one, which lets go of its connections.</returns>
    /// <exception cref="InvalidOperationException">This one is scoped itself.</exception>
    public Database Within(DataScope scope) => Scope is null
        ? new Database(this, scope)
        : throw new InvalidOperationException($"What sees {Scope} alone cannot be opened to {scope}.");

    /// <summary>Begins to see one commit on a connection that is only read from; writers are not kept waiting.</summary>
    /// <param name="connection">A connection from <see cref="OpenReadAsync"/>.</param>
    public static DbTransaction BeginReading(DbConnection connection) => connection is SqliteConnection sqlite
        ? sqlite.BeginTransaction(deferred: true)
        : connection.BeginTransaction(IsolationLevel.Snapshot);

    /// <summary>Runs work in one transaction of the only writer: committed when the work returns, rolled back when it throws.</summary>
    /// <remarks>Writers of this process queue; a lock held by another process is waited for, the waiting time being a setting.
    /// Where the engine undid a transaction for a passing reason (a deadlock, a lost connection), the work is run again: it must leave no
    /// trace outside of the session until it has returned.</remarks>
    /// <typeparam name="T">What the work gives back.</typeparam>
    /// <param name="work">The work; it must not keep the session.</param>
    /// <param name="cancellationToken">Stops waiting for the turn; after the work has returned, the commit is not given up.</param>
    /// <exception cref="DbException">The database stayed busy, or a statement failed.</exception>
    public async Task<T> WriteAsync<T>(Func<WriteSession, Task<T>> work, CancellationToken cancellationToken)
    {
        await _writer.WaitAsync(cancellationToken);
        try
        {
            var lost = new List<(WriteMark Mark, T Result)>();
            for (int attempt = 1; ; attempt++)
            {
                try
                {
                    return await OnceAsync(work, lost, cancellationToken);
                }
                catch (DbException error) when (attempt < MostTries && Engine.MayTryAgain(error))
                {
                    await Task.Delay(Backoff.After(attempt, Random.Shared.NextDouble()), cancellationToken);
                }
            }
        }
        finally
        {
            _writer.Release();
        }
    }

    /// <summary>Runs work that gives nothing back; see the other overload.</summary>
    /// <param name="work">The work; it must not keep the session.</param>
    /// <param name="cancellationToken">Stops waiting for the turn.</param>
    public Task WriteAsync(Func<WriteSession, Task> work, CancellationToken cancellationToken) =>
        WriteAsync(
            async session =>
            {
                await work(session);
                return true;
            },
            cancellationToken);

    /// <summary>Becomes the only node that does something, until the result is disposed of; see <see cref="Storage.Engine"/>.</summary>
    /// <param name="name">What is done.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Null: another node does it.</returns>
    internal Task<IAsyncDisposable?> TryBecomeOnlyAsync(string name, CancellationToken cancellationToken) =>
        Engine.TryBecomeOnlyAsync(name, cancellationToken);

    /// <summary>Copies the database to a file while it is in use.</summary>
    /// <param name="file">Where to; must not exist.</param>
    /// <param name="cancellationToken">Stops opening the database.</param>
    /// <exception cref="NotSupportedException">The engine is backed up by its own means.</exception>
    /// <exception cref="InvalidOperationException">It would be a copy of more than this one sees.</exception>
    public Task BackupAsync(string file, CancellationToken cancellationToken) => Scope is null
        ? Engine.BackupAsync(file, cancellationToken)
        : throw new InvalidOperationException($"What sees {Scope} alone cannot copy the whole.");

    /// <summary>Lets go of pooled connections, so that the file can be moved or deleted.</summary>
    public void Dispose()
    {
        if (_within is not null)
        {
            _within.LetGo();
            return;
        }

        Engine.LetGo();
        _writer.Dispose();
    }

    /// <summary>Whether the lock of writers can be had; takes no longer than 0.3 s, and keeps no writer waiting.</summary>
    internal async Task<WriterLock> LockOfWritersAsync()
    {
        long start = Stopwatch.GetTimestamp();
        while (true)
        {
            long waiting = Interlocked.Read(ref _waitingSince);
            WriterLock found = waiting == 0 ? await LookAtLockAsync() : WriterLock.Held;
            bool isSure = found != WriterLock.Held || Stopwatch.GetElapsedTime(waiting == 0 ? start : Math.Min(start, waiting)) > LockPatience;
            if (isSure)
            {
                return found;
            }

            await Task.Delay(BetweenTries);
        }
    }

    // While this process is in a transaction, the lock is its own.
    private async Task<WriterLock> LookAtLockAsync() => _writer.CurrentCount == 0 ? WriterLock.Free : await Engine.LockOfWritersAsync();

    private async Task<DbTransaction> BeginWritingAsync(Writer writer, CancellationToken cancellationToken)
    {
        Interlocked.Exchange(ref _waitingSince, Stopwatch.GetTimestamp());
        try
        {
            return await Engine.BeginWritingAsync(writer.Connection, cancellationToken);
        }
        finally
        {
            Interlocked.Exchange(ref _waitingSince, 0);
        }
    }

    // Once a commit was lost, its fate is asked for before the work is run again.
    private async Task<T> OnceAsync<T>(Func<WriteSession, Task<T>> work, List<(WriteMark Mark, T Result)> lost, CancellationToken cancellationToken)
    {
        Writer writer = await Engine.TakeWriterAsync(cancellationToken);
        WriteCompanion? companion = WriteCompanion.Take();
        bool isSound = false;
        try
        {
            await using DbTransaction transaction = await BeginWritingAsync(writer, cancellationToken);
            var session = new WriteSession(writer.Connection, transaction) { Statements = writer.Statements };
            foreach ((WriteMark earlier, T known) in lost)
            {
                if (await earlier.IsThereAsync(session))
                {
                    companion?.Settle();
                    return known;
                }
            }

            T result = await work(session);
            if (companion is not null)
            {
                await companion.WriteAsync(session);
            }

            if (Engine.IsShared)
            {
                var mark = new WriteMark();
                await mark.WriteAsync(session);
                lost.Add((mark, result));
            }

            await Engine.CommitAsync(transaction);
            companion?.Settle();
            isSound = true;
            return result;
        }
        finally
        {
            companion?.GiveBack();
            await Engine.GiveBackAsync(writer, isSound);
        }
    }
}
