using System.Data.Common;
using DbUp.Engine;

namespace Washwear.Api.Storage;

/// <summary>What the engines do each in their own way. Safe for concurrent use.</summary>
internal abstract class Engine
{
    /// <summary>Name of the engine, as the setting has it.</summary>
    public abstract string Name { get; }

    /// <summary>Where the database is, for people; without secrets.</summary>
    public abstract string Place { get; }

    /// <summary>Whether the database is there; its tables may be missing or old.</summary>
    public abstract bool Exists();

    /// <summary>Opens a connection for reading.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public abstract Task<DbConnection> OpenReadAsync(CancellationToken cancellationToken);

    /// <summary>Connections for reading that see one scope.</summary>
    /// <param name="scope">The scope.</param>
    public abstract ScopedReads Within(DataScope scope);

    /// <summary>Takes a connection for one transaction.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public abstract Task<Writer> TakeWriterAsync(CancellationToken cancellationToken);

    /// <summary>Takes the connection back after its transaction has ended.</summary>
    /// <param name="writer">The connection.</param>
    /// <param name="isSound">Whether the transaction was committed.</param>
    public virtual ValueTask GiveBackAsync(Writer writer, bool isSound) => writer.DisposeAsync();

    /// <summary>Begins a transaction that keeps every other writer waiting, of this process and of others.</summary>
    /// <param name="connection">A connection for writing.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <exception cref="DbException">The turn did not come in time.</exception>
    public abstract Task<DbTransaction> BeginWritingAsync(DbConnection connection, CancellationToken cancellationToken);

    /// <summary>Whether the lock of writers could be had at this moment, without waiting for it; free where the engine cannot tell.</summary>
    public virtual Task<WriterLock> LockOfWritersAsync() => Task.FromResult(WriterLock.Free);

    /// <summary>Whether a transaction that failed so was undone and may be tried again.</summary>
    /// <param name="error">What the engine reported.</param>
    public abstract bool MayTryAgain(DbException error);

    /// <summary>Whether other nodes may work on the same database, reached over a network that can fail at any moment.</summary>
    public virtual bool IsShared => false;

    /// <summary>Commits.</summary>
    /// <param name="transaction">The transaction.</param>
    public virtual Task CommitAsync(DbTransaction transaction) => transaction.CommitAsync(CancellationToken.None);

    /// <summary>Becomes the only node that does something, until the result is disposed of.</summary>
    /// <remarks>With one node it always is. Two processes on one file both do their work, which is why each piece of work can bear that.</remarks>
    /// <param name="name">What is done.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>Null: another node does it.</returns>
    public virtual Task<IAsyncDisposable?> TryBecomeOnlyAsync(string name, CancellationToken cancellationToken) =>
        Task.FromResult<IAsyncDisposable?>(Alone.Instance);

    /// <summary>Makes the database where it can be made here, and what must be set outside of a transaction.</summary>
    public abstract void MakeReady();

    /// <summary>What applies the scripts of this engine.</summary>
    public abstract UpgradeEngine Upgrade();

    /// <summary>What knows which scripts there are and which were applied, without taking the lock of writers.</summary>
    public virtual UpgradeEngine Scripts() => Upgrade();

    /// <summary>Copies the database to a file while it is in use.</summary>
    /// <param name="file">Where to; must not exist.</param>
    /// <param name="cancellationToken">Stops opening the database.</param>
    /// <exception cref="NotSupportedException">The engine is backed up by its own means.</exception>
    public abstract Task BackupAsync(string file, CancellationToken cancellationToken);

    /// <summary>Begins, or ends, to overwrite what is deleted or replaced, so that nothing of it can be read in the file.</summary>
    /// <param name="session">The transaction in which it is deleted.</param>
    /// <param name="on">Whether from now on.</param>
    public virtual Task OverwriteAsync(WriteSession session, bool on) => Task.CompletedTask;

    /// <summary>Brings the log into the file and empties it, as far as nobody reads in it at this moment.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public virtual Task ForgetLogAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    /// <summary>Lets go of pooled connections.</summary>
    public abstract void LetGo();

    private sealed class Alone : IAsyncDisposable
    {
        public static readonly Alone Instance = new();

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
