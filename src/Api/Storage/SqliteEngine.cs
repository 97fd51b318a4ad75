using System.Data.Common;
using Dapper;
using DbUp;
using DbUp.Builder;
using DbUp.Engine;
using Microsoft.Data.Sqlite;
using SQLitePCL;
using Washwear.Api.Storage.Scopes;

namespace Washwear.Api.Storage;

/// <summary>The embedded engine: one file, readers in any number, one writer at a time.</summary>
internal sealed class SqliteEngine : Engine
{
    private const string ScriptFolder = "db/sqlite/";

    // What a writer reads again and again: the ends of many units' records. The log is brought into the file when it holds 64 MiB, since
    // what several transactions change then goes there once; a log that grew beyond is cut.
    private const string KeptPragmas = "PRAGMA synchronous = FULL; PRAGMA cache_size = -24576; PRAGMA wal_autocheckpoint = 16384; PRAGMA journal_size_limit = 134217728;";

    private readonly string _connectionString;
    private readonly string _writerConnectionString;
    private readonly string _readPragmas;
    private readonly string _writePragmas;
    private readonly int _busyTimeoutSeconds;
    private readonly string _file;
    private Writer? _writer;
    private bool _hasLetGo;

    public SqliteEngine(Settings settings)
    {
        _file = Path.GetFullPath(settings.Database);
        _connectionString = new SqliteConnectionStringBuilder
        {
            DataSource = _file,
            Mode = SqliteOpenMode.ReadWrite,
            ForeignKeys = true,
            DefaultTimeout = settings.CommandTimeoutSeconds,
        }.ConnectionString;
        _busyTimeoutSeconds = settings.BusyTimeoutSeconds;
        string wait = FormattableString.Invariant($"PRAGMA busy_timeout = {settings.BusyTimeoutSeconds * 1000};");
        _readPragmas = wait + "PRAGMA query_only = ON;";
        _writePragmas = wait + KeptPragmas;
        _writerConnectionString = new SqliteConnectionStringBuilder(_connectionString) { Pooling = false }.ConnectionString;
    }

    public override string Name => "sqlite";

    public override string Place => _file;

    private string CreatingConnectionString =>
        new SqliteConnectionStringBuilder(_connectionString) { Mode = SqliteOpenMode.ReadWriteCreate, Pooling = false }.ConnectionString;

    public override bool Exists() => File.Exists(_file);

    public override async Task<DbConnection> OpenReadAsync(CancellationToken cancellationToken) =>
        await OpenAsync(_connectionString, _readPragmas, cancellationToken);

    public override ScopedReads Within(DataScope scope) => new SqliteScopedReads(_connectionString, _readPragmas, scope);

    // The writer's connection stays open: what it has read stays in its memory, and its statements stay prepared.
    public override async Task<Writer> TakeWriterAsync(CancellationToken cancellationToken) =>
        Interlocked.Exchange(ref _writer, null) ?? new Writer(await OpenAsync(_writerConnectionString, _writePragmas, cancellationToken));

    public override ValueTask GiveBackAsync(Writer writer, bool isSound) =>
        !isSound || _hasLetGo || Interlocked.CompareExchange(ref _writer, writer, null) is not null
            ? writer.DisposeAsync()
            : ValueTask.CompletedTask;

    // The engine's library tries a busy statement again for as long as the statement may take, whatever the busy timeout says.
    public override Task<DbTransaction> BeginWritingAsync(DbConnection connection, CancellationToken cancellationToken)
    {
        var sqlite = (SqliteConnection)connection;
        int usual = sqlite.DefaultTimeout;
        sqlite.DefaultTimeout = _busyTimeoutSeconds;
        try
        {
            return Task.FromResult<DbTransaction>(sqlite.BeginTransaction(deferred: false));
        }
        finally
        {
            sqlite.DefaultTimeout = usual;
        }
    }

    // Asked of the engine itself: its library tries a busy statement again and again.
    public override async Task<WriterLock> LockOfWritersAsync()
    {
        await using SqliteConnection connection = await OpenAsync(_writerConnectionString, "PRAGMA busy_timeout = 0;", CancellationToken.None);
        int result = raw.sqlite3_exec(connection.Handle, "BEGIN IMMEDIATE");
        if (result == raw.SQLITE_OK)
        {
            raw.sqlite3_exec(connection.Handle, "ROLLBACK");
        }

        return result switch
        {
            raw.SQLITE_BUSY => WriterLock.Held,
            raw.SQLITE_READONLY => WriterLock.ReadOnly,
            _ => WriterLock.Free,
        };
    }

    // The lock is taken at the begin, so nothing that another does can undo a transaction.
    public override bool MayTryAgain(DbException error) => false;

    // The journal mode is stored in the file and cannot change inside a transaction.
    public override void MakeReady()
    {
        Directory.CreateDirectory(Path.GetDirectoryName(_file)!);
        using var connection = new SqliteConnection(CreatingConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "PRAGMA journal_mode = WAL;";
        command.ExecuteScalar();
    }

    public override UpgradeEngine Upgrade() => Deploying().WithTransaction().Build();

    // With a transaction the library takes the lock of writers, even to find out that there is nothing to do.
    public override UpgradeEngine Scripts() => Deploying().WithoutTransaction().Build();

    public override async Task BackupAsync(string file, CancellationToken cancellationToken)
    {
        await using SqliteConnection source = await OpenAsync(_connectionString, _readPragmas, cancellationToken);
        string target = new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ConnectionString;
        await using var copy = new SqliteConnection(target);
        await copy.OpenAsync(cancellationToken);
        source.BackupDatabase(copy);
    }

    public override Task OverwriteAsync(WriteSession session, bool on) =>
        session.Connection.ExecuteAsync(on ? "PRAGMA secure_delete = ON" : "PRAGMA secure_delete = OFF");

    public override async Task ForgetLogAsync(CancellationToken cancellationToken)
    {
        await using SqliteConnection connection = await OpenAsync(_writerConnectionString, _writePragmas, cancellationToken);
        await connection.ExecuteAsync(new CommandDefinition("PRAGMA wal_checkpoint(TRUNCATE)", cancellationToken: cancellationToken));
    }

    public override void LetGo()
    {
        _hasLetGo = true;
        if (Interlocked.Exchange(ref _writer, null) is { } writer)
        {
            writer.Statements.Dispose();
            writer.Connection.Dispose();
        }

        using var pool = new SqliteConnection(_connectionString);
        SqliteConnection.ClearPool(pool);
    }

    private UpgradeEngineBuilder Deploying() =>
        DeployChanges.To
            .SqliteDatabase(CreatingConnectionString)
            .WithScriptsEmbeddedInAssembly(typeof(SqliteEngine).Assembly, name => name.StartsWith(ScriptFolder, StringComparison.Ordinal))
            .WithVariablesDisabled()
            .LogToNowhere();

    private static async Task<SqliteConnection> OpenAsync(string connectionString, string pragmas, CancellationToken cancellationToken)
    {
        var connection = new SqliteConnection(connectionString);
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
}
