using System.Globalization;
using DbUp.Engine;

namespace Washwear.Api.Storage;

/// <summary>Brings the database up to the scripts that this program carries in db, one folder an engine.</summary>
public static class Migrator
{
    /// <summary>Begin of the names of scripts that are not numbered: they are made anew when what they are made from changes.</summary>
    internal const string UnnumberedFolder = "made/";

    /// <summary>Makes the database if the engine can and applies the scripts that it has not seen.</summary>
    /// <param name="database">The database.</param>
    /// <returns>Names of the scripts that were applied, in order; empty when the database was current.</returns>
    /// <exception cref="InvalidOperationException">The database is of a newer version, or a script failed; SQLite: nothing was applied, SQL
    /// Server: nothing of that script.</exception>
    public static IReadOnlyList<string> Migrate(Database database)
    {
        RefuseNewer(database);
        database.Engine.MakeReady();
        DatabaseUpgradeResult result = database.Engine.Upgrade().PerformUpgrade();
        if (!result.Successful)
        {
            string script = result.ErrorScript?.Name ?? "the list of applied scripts";
            throw new InvalidOperationException($"The database could not be brought up to date: {script} failed.", result.Error);
        }

        return [.. result.Scripts.Select(script => script.Name)];
    }

    /// <summary>Scripts that have not been applied, in order. Only reads: no writer keeps it waiting.</summary>
    /// <param name="database">The database; must be there.</param>
    /// <exception cref="System.Data.Common.DbException">The database cannot be opened.</exception>
    public static IReadOnlyList<string> Missing(Database database) =>
        [.. database.Engine.Scripts().GetScriptsToExecute().Select(script => script.Name)];

    /// <summary>Whether every script has been applied.</summary>
    /// <param name="database">The database.</param>
    public static bool IsCurrent(Database database) => database.Engine.Exists() && Missing(database).Count == 0;

    /// <summary>Number of the database's schema: of the last script that was applied.</summary>
    /// <param name="database">The database.</param>
    /// <returns>Such as 0024; null: there is no database, or none of its scripts was applied.</returns>
    public static string? SchemaOf(Database database) =>
        Applied(database).Order(StringComparer.Ordinal).LastOrDefault() is { } last ? NumberOf(last) : null;

    /// <summary>Refuses a database that knows scripts which this program does not.</summary>
    /// <param name="database">The database; need not exist.</param>
    /// <exception cref="InvalidOperationException">It is of a newer version.</exception>
    public static void RefuseNewer(Database database)
    {
        string[] own = [.. Numbered(database.Engine.Scripts().GetDiscoveredScripts().Select(script => script.Name))];
        string? newer = Applied(database).Except(own, StringComparer.Ordinal).Order(StringComparer.Ordinal).LastOrDefault();
        if (newer is not null)
        {
            throw new InvalidOperationException(string.Create(
                CultureInfo.InvariantCulture,
                $"The database is of a newer version than this program: it has schema {NumberOf(newer)}, this program knows schemas up to {NumberOf(own.Max(StringComparer.Ordinal)!)}. "
                + $"Nothing was changed. Start the newer program again, or restore a backup, or the copy named .schema-NUMBER beside the database, that is from before the upgrade."));
        }
    }

    private static List<string> Applied(Database database) => database.Engine.Exists() ? [.. Numbered(database.Engine.Scripts().GetExecutedScripts())] : [];

    private static IEnumerable<string> Numbered(IEnumerable<string> scripts) =>
        scripts.Where(name => !name.StartsWith(UnnumberedFolder, StringComparison.Ordinal));

    private static string NumberOf(string script) => Path.GetFileName(script).Split('_')[0];
}
