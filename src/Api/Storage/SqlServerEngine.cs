using System.Data;
using System.Data.Common;
using DbUp;
using DbUp.Engine;
using Microsoft.Data.SqlClient;

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

    // Deadlock victim, lock wait, the server's and the network's passing faults, as the server's documentation lists them.
    private static readonly HashSet<int> Passing = [1205, 1222, 3960, -2, 20, 64, 233, 10053, 10054, 10060, 40197, 40501, 40613, 49918, 49919, 49920, 4060];

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
            command.Parameters.AddWithValue("@resource", WriterLock);
            command.Parameters.AddWithValue("@wait_ms", _busyTimeoutMs);
            SqlParameter turn = command.Parameters.Add("@turn", SqlDbType.Int);
            turn.Direction = ParameterDirection.Output;
            await command.ExecuteNonQueryAsync(cancellationToken);
            if ((int)turn.Value < 0)
            {
                throw new DatabaseBusyException();
            }

            return transaction;
        }
        catch
        {
            await transaction.DisposeAsync();
            throw;
        }
    }

    public override bool MayTryAgain(DbException error) =>
        error is SqlException fault && fault.Errors.Cast<SqlError>().Any(one => Passing.Contains(one.Number));

    // Whoever runs the server makes the database and says who may use it.
    public override void MakeReady()
    {
    }

    public override UpgradeEngine Upgrade() =>
        DeployChanges.To
            .SqlDatabase(_connectionString)
            .WithScriptsEmbeddedInAssembly(typeof(SqlServerEngine).Assembly, name => name.StartsWith(ScriptFolder, StringComparison.Ordinal))
            .WithVariablesDisabled()
            .WithTransactionPerScript()
            .LogToNowhere()
            .Build();

    public override Task BackupAsync(string file, CancellationToken cancellationToken) =>
        throw new NotSupportedException("SQL Server is backed up by its own means (BACKUP DATABASE); 'export --all' writes a copy that any engine takes in.");

    public override void LetGo()
    {
        using var pool = new SqlConnection(_connectionString);
        SqlConnection.ClearPool(pool);
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
}
