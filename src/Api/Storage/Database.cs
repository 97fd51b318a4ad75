using System.Data.Common;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>The embedded SQLite database: readers in any number, one writer at a time. Safe for concurrent use.</summary>
public sealed class Database : IDisposable
{
    private readonly SemaphoreSlim _writer = new(1, 1);
    private readonly string _connectionString;
    private readonly string _readPragmas;
    private readonly string _writePragmas;
    private readonly int _busyTimeoutSeconds;

    /// <summary>Describes the database; nothing is opened or created yet.</summary>
    /// <param name="settings">Where the file is and how long to wait for a lock.</param>
    public Database(Settings settings)
    {
        File = Path.GetFullPath(settings.Database);
        TypeHandlers.Register();
        _connectionString = new SqliteConnectionStringBuilder
        {
            DataSource = File,
            Mode = SqliteOpenMode.ReadWrite,
            ForeignKeys = true,
            DefaultTimeout = settings.CommandTimeoutSeconds,
        }.ConnectionString;
        _busyTimeoutSeconds = settings.BusyTimeoutSeconds;
        string wait = FormattableString.Invariant($"PRAGMA busy_timeout = {settings.BusyTimeoutSeconds * 1000};");
        _readPragmas = wait + "PRAGMA query_only = ON;";
        _writePragmas = wait + "PRAGMA query_only = OFF; PRAGMA synchronous = FULL;";
    }

    /// <summary>Full path of the database file.</summary>
    public string File { get; }

    /// <summary>Connection string that creates the file if need be, for the migrator.</summary>
    internal string CreatingConnectionString =>
        new SqliteConnectionStringBuilder(_connectionString) { Mode = SqliteOpenMode.ReadWriteCreate, Pooling = false }.ConnectionString;

    /// <summary>Opens a connection that can only read; the caller disposes of it.</summary>
    /// <remarks>Statements see the latest commit each; use <see cref="BeginReading"/> where several must see the same one.</remarks>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <exception cref="SqliteException">The file cannot be opened.</exception>
    public async Task<DbConnection> OpenReadAsync(CancellationToken cancellationToken) =>
        await OpenAsync(_readPragmas, cancellationToken);

    /// <summary>Begins to see one commit on a connection that can only read; writers are not kept waiting.</summary>
    /// <param name="connection">A connection from <see cref="OpenReadAsync"/>.</param>
    public static DbTransaction BeginReading(DbConnection connection) => ((SqliteConnection)connection).BeginTransaction(deferred: true);

    /// <summary>Runs work in one immediate transaction: committed when the work returns, rolled back when it throws.</summary>
    /// <remarks>Writers of this process queue; a lock held by another process is waited for, the waiting time being a setting.
    /// The work itself is never run twice.</remarks>
    /// <typeparam name="T">What the work gives back.</typeparam>
    /// <param name="work">The work; it must not keep the session.</param>
    /// <param name="cancellationToken">Stops waiting for the turn; after the work has returned, the commit is not given up.</param>
    /// <exception cref="SqliteException">The database stayed busy, or a statement failed.</exception>
    public async Task<T> WriteAsync<T>(Func<WriteSession, Task<T>> work, CancellationToken cancellationToken)
    {
        await _writer.WaitAsync(cancellationToken);
        try
        {
            await using SqliteConnection connection = await OpenAsync(_writePragmas, cancellationToken);
            await using SqliteTransaction transaction = Begin(connection);
            T result = await work(new WriteSession(connection, transaction));
            await transaction.CommitAsync(CancellationToken.None);
            return result;
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

    /// <summary>Copies the database to a file while it is in use.</summary>
    /// <param name="file">Where to; must not exist.</param>
    /// <param name="cancellationToken">Stops opening the database.</param>
    public async Task BackupAsync(string file, CancellationToken cancellationToken)
    {
        await using SqliteConnection source = await OpenAsync(_readPragmas, cancellationToken);
        string target = new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ConnectionString;
        await using var copy = new SqliteConnection(target);
        await copy.OpenAsync(cancellationToken);
        source.BackupDatabase(copy);
    }

    /// <summary>Lets go of pooled connections, so that the file can be moved or deleted.</summary>
    public void Dispose()
    {
        using var pool = new SqliteConnection(_connectionString);
        SqliteConnection.ClearPool(pool);
        _writer.Dispose();
    }

    private async Task<SqliteConnection> OpenAsync(string pragmas, CancellationToken cancellationToken)
    {
        var connection = new SqliteConnection(_connectionString);
        try
        {
            await connection.OpenAsync(cancellationToken);
            await connection.ExecuteAsync(new CommandDefinition(pragmas, cancellationToken: cancellationToken));
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    // The engine's library tries a busy statement again for as long as the statement may take, whatever the busy timeout says.
    private SqliteTransaction Begin(SqliteConnection connection)
    {
        int usual = connection.DefaultTimeout;
        connection.DefaultTimeout = _busyTimeoutSeconds;
        try
        {
            return connection.BeginTransaction(deferred: false);
        }
        finally
        {
            connection.DefaultTimeout = usual;
        }
    }
}
