using Microsoft.Data.Sqlite;
using Washwear.Api.Storage;

namespace Washwear.Api.Tests.Storage;

/// <summary>A database file that the scripts of db/sqlite have made.</summary>
internal static class SqliteSchema
{
    /// <summary>Makes one and opens it.</summary>
    /// <param name="folder">Where to.</param>
    public static SqliteConnection Migrated(string folder)
    {
        string file = Path.Combine(folder, "washwear.db");
        using var database = new Database(Settings.Load(new Dictionary<string, string> { ["database"] = file }));
        Migrator.Migrate(database);
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ConnectionString);
        connection.Open();
        return connection;
    }
}
