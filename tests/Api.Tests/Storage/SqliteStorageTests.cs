namespace Washwear.Api.Tests.Storage;

/// <summary>The suite on the embedded engine.</summary>
public sealed class SqliteStorageTests : StorageSuite
{
    protected override Task<(string Name, string Value)[]> MakeDatabaseAsync(string folder) =>
        Task.FromResult<(string, string)[]>([("database", Path.Combine(folder, "suite.db"))]);

    protected override Task DropDatabaseAsync() => Task.CompletedTask;
}
