using System.Globalization;

namespace Washwear.Api.Storage;

/// <summary>Keeps a copy of a database file beside it before its schema is changed, so that there is a way back.</summary>
internal static class MigrationCopy
{
    private const int Kept = 2;
    private const string Unfinished = ".unfinished";

    /// <summary>Makes the copy; older copies but the last are deleted once it is whole.</summary>
    /// <param name="database">The database.</param>
    /// <param name="schema">Number of its schema.</param>
    /// <param name="now">The instant, for the copy's name.</param>
    /// <param name="cancellationToken">Stops before the copy has its name.</param>
    /// <returns>The copy.</returns>
    /// <exception cref="IOException">There is no room, or the disk cannot be written; nothing was changed.</exception>
    public static async Task<string> MakeAsync(Database database, string schema, DateTimeOffset now, CancellationToken cancellationToken)
    {
        RefuseWithoutRoom(database.File);
        string copy = string.Create(CultureInfo.InvariantCulture, $"{Prefix(database.File)}{schema}-{now:yyyyMMdd'T'HHmmss'Z'}");
        string unfinished = copy + Unfinished;
        try
        {
            await database.BackupAsync(unfinished, cancellationToken);
            DurableFiles.Flush(unfinished);
        }
        catch
        {
            DurableFiles.Delete(unfinished);
            throw;
        }

        File.Move(unfinished, copy);
        foreach (string old in Of(database.File).SkipLast(Kept))
        {
            File.Delete(old);
        }

        return copy;
    }

    /// <summary>The copies of a database, oldest first.</summary>
    /// <param name="file">The database.</param>
    public static IReadOnlyList<string> Of(string file) =>
    [
        .. Directory.GetFiles(Path.GetDirectoryName(file)!, Path.GetFileName(Prefix(file)) + "*")
            .Where(copy => !copy.EndsWith(Unfinished, StringComparison.Ordinal))
            .OrderBy(File.GetLastWriteTimeUtc).ThenBy(copy => copy, StringComparer.Ordinal),
    ];

    private static string Prefix(string file) => file + ".schema-";

    private static void RefuseWithoutRoom(string file)
    {
        long needed = DurableFiles.SizeOf(file);
        long free = new DriveInfo(Path.GetDirectoryName(file)!).AvailableFreeSpace;
        if (free < needed)
        {
            throw new IOException(string.Create(
                CultureInfo.InvariantCulture,
                $"The database is of an older version, and there is no room for the copy that is kept before it is brought up to date: it needs {Mib(needed)} MiB beside {file}, {Mib(free)} MiB are free. "
                + $"Nothing was changed. Make room, or back up elsewhere and set migration_copy to no."));
        }
    }

    private static long Mib(long bytes) => (bytes + (1 << 20) - 1) >> 20;
}
