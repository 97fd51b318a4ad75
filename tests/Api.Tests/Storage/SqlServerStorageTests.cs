using Microsoft.Data.SqlClient;

namespace Washwear.Api.Tests.Storage;

/// <summary>The suite on the server that WASHWEAR_TEST_SQLSERVER names: in a database of its own, made with a random name and dropped.</summary>
public sealed class SqlServerStorageTests : StorageSuite
{
    private readonly string _database = "washwear_test_" + Guid.NewGuid().ToString("N")[..12];

    private static string Server => Environment.GetEnvironmentVariable(StorageCase.Variable)!;

    protected override async Task<(string Name, string Value)[]> MakeDatabaseAsync(string folder)
    {
        await RunAsync($"CREATE DATABASE {_database}");
        string connection = new SqlConnectionStringBuilder(Server) { InitialCatalog = _database }.ConnectionString;
        return [("engine", "sqlserver"), ("sql_server", connection), ("database", Path.Combine(folder, "unused.db"))];
    }

    protected override Task DropDatabaseAsync()
    {
        SqlConnection.ClearAllPools();
        return RunAsync($"DROP DATABASE {_database}");
    }

    private static async Task RunAsync(string statement)
    {
        await using var connection = new SqlConnection(Server);
        await connection.OpenAsync();
        await using SqlCommand command = connection.CreateCommand();
        command.CommandText = statement;
        await command.ExecuteNonQueryAsync();
    }
}
