using System.Data;
using System.Data.Common;
using DbUp;
using DbUp.Builder;
using DbUp.Engine;
using Microsoft.Data.SqlClient;
using Washwear.Api.Storage.Scopes;

namespace Washwear.Api.Storage;

/// <summary>SQL Server, shared by any number of nodes: readers see the last commit, one writer at a time over all nodes.</summary>
/// <remarks>One writer at a time is what the rest of the program relies on: a number in the ledger is given once, and what a
/// transaction read still holds when it writes. An application lock keeps the turn; the transaction lets go of it at its end.</remarks>
internal sealed class SqlServerEngine : Engine
{
    private const string ScriptFolder = "db/sqlserver/";
    private const string WriterLock = "washwear.writer";

    private const string TakeTurn =
        "EXEC @turn = sp_getapplock @Resource = @resource, @LockMode = 'Exclusive', @LockOwner = 'Transaction', @LockTimeout = @wait_ms";

    private const string LetGoOfTurn = "EXEC sp_releaseapplock @Resource = @resource, @LockOwner = 'Session'";

    private const string BecomeOnly =
        "EXEC @turn = sp_getapplock @Resource = @resource, @LockMode = 'Exclusive', @LockOwner = 'Session', @LockTimeout = 0";

    // Nothing is found where the server keeps versions of rows anyway and has no such switches.
    private const string FindSwitches = """
        SELECT CAST(is_read_committed_snapshot_on AS INT), CAST(snapshot_isolation_state AS INT)
        FROM sys.databases WHERE name = DB_NAME() AND SERVERPROPERTY('BabelfishVersion') IS NULL
        """;

    private const string FindPolicies = "SELECT 1 WHERE SERVERPROPERTY('BabelfishVersion') IS NULL";
    private const string AllowSnapshots = "ALTER DATABASE CURRENT SET ALLOW_SNAPSHOT_ISOLATION ON";
    private const string ReadCommitted = "ALTER DATABASE CURRENT SET READ_COMMITTED_SNAPSHOT ON WITH NO_WAIT";

    private static readonly SqlScriptOptions AfterAll = new() { RunGroupOrder = int.MaxValue };

    private readonly string _connectionString;
    private readonly int _busyTimeoutMs;

    public SqlServerEngine(Settings settings)
    {
        var builder = new SqlConnectionStringBuilder(settings.SqlServer)
        {
            ApplicationName = "Washwear",
            CommandTimeout = settings.CommandTimeoutSeconds,
            MultipleActiveResultSets = false,
        };
        _connectionString = builder.ConnectionString;
        _busyTimeoutMs = settings.BusyTimeoutSeconds * 1000;
        TypeHandlers.RegisterNumbers();
        Place = $"{builder.InitialCatalog} on {builder.DataSource}";
    }

    public override string Name => "sqlserver";

    public override string Place { get; }

    public override bool IsShared => true;

    public override bool Exists()
    {
        try
        {
            using var connection = new SqlConnection(_connectionString);
            connection.Open();
            return true;
        }
        catch (SqlException)
        {
            return false;
        }
    }

    public override async Task<DbConnection> OpenReadAsync(CancellationToken cancellationToken) => await OpenAsync(cancellationToken);

    public override ScopedReads Within(DataScope scope) => new SqlServerScopedReads(_connectionString, scope);

    public override async Task<Writer> TakeWriterAsync(CancellationToken cancellationToken) => new(await OpenAsync(cancellationToken));

    public override async Task<DbTransaction> BeginWritingAsync(DbConnection connection, CancellationToken cancellationToken)
    {
        DbTransaction transaction = await connection.BeginTransactionAsync(IsolationLevel.ReadCommitted, cancellationToken);
        try
        {
            await using var command = (SqlCommand)connection.CreateCommand();
            command.Transaction = (SqlTransaction)transaction;
            command.CommandText = TakeTurn;
            command.CommandTimeout = (_busyTimeoutMs / 1000) + 5;
            command.Parameters.AddWithValue("@wait_ms", _busyTimeoutMs);
            return await TurnAsync(command, WriterLock, cancellationToken) ? transaction : throw new DatabaseBusyException();
        }
        catch
        {
            await transaction.DisposeAsync();
            throw;
        }
    }

    public override bool MayTryAgain(DbException error) =>
        error is SqlException fault && SqlServerFaults.MayTryAgain(fault.Errors.Cast<SqlError>().Select(one => one.Number));

    public override async Task<IAsyncDisposable?> TryBecomeOnlyAsync(string name, CancellationToken cancellationToken)
    {
        SqlConnection connection = await OpenAsync(cancellationToken);
        await using SqlCommand command = connection.CreateCommand();
        command.CommandText = BecomeOnly;
        if (await TurnAsync(command, "washwear." + name, cancellationToken))
        {
            return new Turn(connection, "washwear." + name);
        }

        await connection.DisposeAsync();
        return null;
    }

    // Whoever runs the server makes the database and says who may use it. The switches cannot be set within a transaction.
    public override void MakeReady()
    {
        using var connection = new SqlConnection(_connectionString);
        connection.Open();
        (bool readCommitted, bool snapshots)? on = Switches(connection);
        if (on is { readCommitted: true, snapshots: true } or null)
        {
            return;
        }

        try
        {
            Run(connection, on.Value.snapshots ? null : AllowSnapshots);
            Run(connection, on.Value.readCommitted ? null : ReadCommitted);
        }
        catch (SqlException error)
        {
            throw new InvalidOperationException(
                $"Readers would wait for writers in {Place}. Whoever runs the server must set, while nobody else uses the database: "
                    + $"{AllowSnapshots}; {ReadCommitted}.",
                error);
        }
    }

    public override UpgradeEngine Upgrade()
    {
        UpgradeEngineBuilder scripts = DeployChanges.To
            .SqlDatabase(_connectionString)
            .WithScriptsEmbeddedInAssembly(typeof(SqlServerEngine).Assembly, name => name.StartsWith(ScriptFolder, StringComparison.Ordinal));
        return (KeepsScopes() ? scripts.WithScripts(new SqlScript(SqlServerScopes.ScriptName, SqlServerScopes.Script, AfterAll)) : scripts)
            .WithVariablesDisabled()
            .WithTransactionPerScript()
            .LogToNowhere()
            .Build();
    }

    public override Task BackupAsync(string file, CancellationToken cancellationToken) =>
        throw new NotSupportedException("SQL Server is backed up by its own means (BACKUP DATABASE); 'export --all' writes a copy that any engine takes in.");

    public override void LetGo()
    {
        using var pool = new SqlConnection(_connectionString);
        SqlConnection.ClearPool(pool);
    }

    // Elsewhere nothing can be read within a scope, which the attempt says.
    private bool KeepsScopes()
    {
        using var connection = new SqlConnection(_connectionString);
        connection.Open();
        using SqlCommand command = connection.CreateCommand();
        command.CommandText = FindPolicies;
        return command.ExecuteScalar() is not null;
    }

    private async Task<SqlConnection> OpenAsync(CancellationToken cancellationToken)
    {
        var connection = new SqlConnection(_connectionString);
        try
        {
            await connection.OpenAsync(cancellationToken);
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    private static async Task<bool> TurnAsync(SqlCommand command, string resource, CancellationToken cancellationToken)
    {
        command.Parameters.AddWithValue("@resource", resource);
        SqlParameter turn = command.Parameters.Add("@turn", SqlDbType.Int);
        turn.Direction = ParameterDirection.Output;
        await command.ExecuteNonQueryAsync(cancellationToken);
        return (int)turn.Value >= 0;
    }

    private static (bool ReadCommitted, bool Snapshots)? Switches(SqlConnection connection)
    {
        using SqlCommand command = connection.CreateCommand();
        command.CommandText = FindSwitches;
        using SqlDataReader row = command.ExecuteReader();
        return row.Read() ? (row.GetInt32(0) == 1, row.GetInt32(1) == 1) : null;
    }

    private static void Run(SqlConnection connection, string? statement)
    {
        if (statement is not null)
        {
            using SqlCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // One of two constants.
            command.CommandText = statement;
#pragma warning restore CA2100
            command.ExecuteNonQuery();
        }
    }

    // The lock belongs to the connection: where letting go of it fails, the server does when the connection ends.
    private sealed class Turn(SqlConnection connection, string resource) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            try
            {
                await using SqlCommand command = connection.CreateCommand();
                command.CommandText = LetGoOfTurn;
                command.Parameters.AddWithValue("@resource", resource);
                await command.ExecuteNonQueryAsync(CancellationToken.None);
            }
            catch (SqlException)
            {
                SqlConnection.ClearPool(connection);
            }

            await connection.DisposeAsync();
        }
    }
}
