using Washwear.Api.Integrity;
using Washwear.Api.Storage;

namespace Washwear.Api.Upkeep.Backups;

/// <summary>The way back from a backup, as far as it touches no database that is in use.</summary>
internal static class BackupRestore
{
    /// <summary>Name of the folder of cookie keys, beside a database and in a backup.</summary>
    public const string CookieKeys = "cookie-keys";

    /// <summary>The database file of a backup.</summary>
    /// <param name="backup">A folder that the program made, or a file that 'backup' made.</param>
    public static string DatabaseOf(string backup) => Directory.Exists(backup) ? Path.Combine(backup, BackupManifest.DatabaseName) : backup;

    /// <summary>Copies the database of a backup, if it is whole, by the engine: a log that lies beside it is taken into account.</summary>
    /// <param name="backup">Settings that name it.</param>
    /// <param name="to">Where to; is overwritten.</param>
    /// <param name="cancellationToken">Stops.</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static async Task CopyAsync(Settings backup, string to, CancellationToken cancellationToken)
    {
        IntegrityReport report = await new IntegrityCheck(backup).RunAsync(quick: true, cancellationToken);
        if (report.Faults.Count > 0)
        {
            throw new InvalidDataException($"The backup is damaged; nothing was changed. {report.Faults[0]}");
        }

        File.Delete(to);
        using var database = new Database(backup);
        await database.BackupAsync(to, cancellationToken);
    }

    /// <summary>Puts back the cookie keys of a backup that are not there.</summary>
    /// <param name="backup">The backup.</param>
    /// <param name="database">The database file that was restored.</param>
    /// <returns>How many were put back.</returns>
    public static int PutBackKeys(string backup, string database)
    {
        string from = Path.Combine(backup, CookieKeys);
        if (!Directory.Exists(from))
        {
            return 0;
        }

        DirectoryInfo to = Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(database)!, CookieKeys));
        if (!OperatingSystem.IsWindows())
        {
            to.UnixFileMode = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
        }

        string[] missing = [.. Directory.GetFiles(from).Where(key => !File.Exists(Path.Combine(to.FullName, Path.GetFileName(key))))];
        Array.ForEach(missing, key => File.Copy(key, Path.Combine(to.FullName, Path.GetFileName(key))));
        return missing.Length;
    }
}
