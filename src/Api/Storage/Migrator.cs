using DbUp;
using DbUp.Engine;
using Microsoft.Data.Sqlite;

namespace Washwear.Api.Storage;

/// <summary>Brings the database up to the scripts that this program carries in db/sqlite.</summary>
public static class Migrator
{
    private const string ScriptFolder = "db/sqlite/";

    /// <summary>Creates the file if need be and applies, in one transaction, the scripts that it has not seen.</summary>
    /// <param name="database">The database.</param>
    /// <returns>Names of the scripts that were applied, in order; empty when the database was current.</returns>
    /// <exception cref="InvalidOperationException">A script failed; nothing was applied.</exception>
    public static IReadOnlyList<string> Migrate(Database database)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(database.File)!);
        UseWriteAheadLog(database);
        DatabaseUpgradeResult result = Engine(database).PerformUpgrade();
        if (!result.Successful)
        {
            string script = result.ErrorScript?.Name ?? "the list of applied scripts";
            throw new InvalidOperationException($"The database could not be brought up to date: {script} failed.", result.Error);
        }

        return [.. result.Scripts.Select(script => script.Name)];
    }

    /// <summary>Whether every script has been applied.</summary>
    /// <param name="database">The database.</param>
    public static bool IsCurrent(Database database) => File.Exists(database.File) && !Engine(database).IsUpgradeRequired();

    private static UpgradeEngine Engine(Database database) =>
        DeployChanges.To
            .SqliteDatabase(database.CreatingConnectionString)
            .WithScriptsEmbeddedInAssembly(typeof(Migrator).Assembly, name => name.StartsWith(ScriptFolder, StringComparison.Ordinal))
            .WithVariablesDisabled()
            .WithTransaction()
            .LogToNowhere()
            .Build();

    // The journal mode is stored in the file and cannot change inside a transaction.
    private static void UseWriteAheadLog(Database database)
    {
        using var connection = new SqliteConnection(database.CreatingConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "PRAGMA journal_mode = WAL;";
        command.ExecuteScalar();
    }
}
