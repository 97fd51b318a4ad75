using DbUp.Engine;

namespace Washwear.Api.Storage;

/// <summary>Brings the database up to the scripts that this program carries in db, one folder an engine.</summary>
public static class Migrator
{
    /// <summary>Makes the database if the engine can and applies the scripts that it has not seen.</summary>
    /// <param name="database">The database.</param>
    /// <returns>Names of the scripts that were applied, in order; empty when the database was current.</returns>
    /// <exception cref="InvalidOperationException">A script failed; SQLite: nothing was applied, SQL Server: nothing of that script.</exception>
    public static IReadOnlyList<string> Migrate(Database database)
    {
        database.Engine.MakeReady();
        DatabaseUpgradeResult result = database.Engine.Upgrade().PerformUpgrade();
        if (!result.Successful)
        {
            string script = result.ErrorScript?.Name ?? "the list of applied scripts";
            throw new InvalidOperationException($"The database could not be brought up to date: {script} failed.", result.Error);
        }

        return [.. result.Scripts.Select(script => script.Name)];
    }

    /// <summary>Whether every script has been applied.</summary>
    /// <param name="database">The database.</param>
    public static bool IsCurrent(Database database) => database.Engine.Exists() && !database.Engine.Upgrade().IsUpgradeRequired();
}
