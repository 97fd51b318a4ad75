using System.Globalization;
using System.Text.Json;
using NodaTime;
using Washwear.Api.Http;
using Washwear.Api.Integrity;
using Washwear.Api.Storage;

namespace Washwear.Api.Upkeep.Backups;

/// <summary>Makes backups while the database is in use. What has its name is whole and was looked at; what is older goes only afterwards.</summary>
/// <param name="database">The database.</param>
/// <param name="settings">Where to, and how many are kept.</param>
/// <param name="clock">The clock.</param>
internal sealed class BackupMaker(Database database, Settings settings, TimeProvider clock)
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    // One that a kill left behind; younger ones may be in the making.
    private static readonly TimeSpan Abandoned = TimeSpan.FromDays(1);

    /// <summary>Copies the database to one file.</summary>
    /// <param name="file">Where to; must not exist.</param>
    /// <param name="cancellationToken">Stops; nothing has the name then.</param>
    /// <exception cref="IOException">There is no room, or the copy is not whole.</exception>
    public async Task CopyAsync(string file, CancellationToken cancellationToken)
    {
        string unfinished = file + BackupFolder.Unfinished;
        DurableFiles.Delete(unfinished);
        try
        {
            await CheckedCopyAsync(unfinished, cancellationToken);
        }
        catch
        {
            DurableFiles.Delete(unfinished);
            throw;
        }

        File.Move(unfinished, file);
    }

    /// <summary>Makes a backup in the folder of backups, and then lets go of those that need not be kept.</summary>
    /// <param name="folder">The folder; is made.</param>
    /// <param name="cancellationToken">Stops; what is unfinished is deleted.</param>
    /// <returns>The backup, and how many older ones were deleted.</returns>
    /// <exception cref="IOException">There is no room, or the copy is not whole; no older one was touched.</exception>
    public async Task<(BackupEntry Made, int Pruned)> MakeAsync(string folder, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        string backup = Path.Combine(Path.GetFullPath(folder), BackupFolder.NameOf(now));
        string unfinished = backup + BackupFolder.Unfinished;
        MakeFolder(unfinished);
        try
        {
            RefuseWithoutRoom(unfinished);
            await FillAsync(unfinished, now, cancellationToken);
        }
        catch
        {
            Directory.Delete(unfinished, recursive: true);
            throw;
        }

        Directory.Move(unfinished, backup);
        return (new BackupEntry(backup, now), Prune(folder, now));
    }

    private async Task FillAsync(string unfinished, DateTimeOffset now, CancellationToken cancellationToken)
    {
        string file = Path.Combine(unfinished, BackupManifest.DatabaseName);
        await CheckedCopyAsync(file, cancellationToken);
        HeldRows held;
        string schema;
        using (var copy = new Database(settings.With(("database", file))))
        {
            held = await BackupQueries.CountAsync(copy, null, cancellationToken);
            schema = Migrator.SchemaOf(copy)!;
        }

        CopyCookieKeys(unfinished);
        var manifest = new BackupManifest(
            BackupManifest.CurrentFormat, now, schema, held.LastSequence, held.Ledger, held.Tables,
            [.. Directory.GetFiles(unfinished, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(one => BackupFolder.DescriptionOf(unfinished, one))]);
        string text = Path.Combine(unfinished, BackupManifest.FileName);
        await File.WriteAllTextAsync(text, JsonSerializer.Serialize(manifest, Json.Options), cancellationToken);
        DurableFiles.Flush(text);
    }

    private async Task CheckedCopyAsync(string file, CancellationToken cancellationToken)
    {
        await database.BackupAsync(file, cancellationToken);
        DatabaseFiles.Settle(file);
        IntegrityReport report = await new IntegrityCheck(settings.With(("database", file))).RunAsync(quick: true, cancellationToken);
        if (report.Faults.Count > 0)
        {
            throw new IOException($"The copy is not whole: {report.Faults[0]} Run 'check' on the database.");
        }

        DurableFiles.Flush(file);
    }

    // Sign-ins and forms of people hold on after a restore only with the keys that were in use.
    private void CopyCookieKeys(string unfinished)
    {
        string from = Path.Combine(Path.GetDirectoryName(database.File)!, BackupRestore.CookieKeys);
        if (!Directory.Exists(from))
        {
            return;
        }

        string to = Path.Combine(unfinished, BackupRestore.CookieKeys);
        MakeFolder(to);
        foreach (string key in Directory.GetFiles(from, "*.xml"))
        {
            string copy = Path.Combine(to, Path.GetFileName(key));
            File.Copy(key, copy);
            DurableFiles.Flush(copy);
        }
    }

    private int Prune(string folder, DateTimeOffset now)
    {
        DateTimeZone zone = DateTimeZoneProviders.Tzdb[settings.BackupTimeZone];
        IReadOnlyList<BackupEntry> all = BackupFolder.All(folder);
        IReadOnlySet<DateTimeOffset> kept = settings.BackupKeeping.Kept(all.Select(entry => entry.MadeAt), zone);
        BackupEntry[] gone = [.. all.Where(entry => !kept.Contains(entry.MadeAt))];
        foreach (BackupEntry entry in gone)
        {
            // Under another name first: a kill half-way leaves nothing that looks like a backup.
            Directory.Move(entry.Path, entry.Path + BackupFolder.Unfinished);
            Directory.Delete(entry.Path + BackupFolder.Unfinished, recursive: true);
        }

        foreach (string left in Directory.GetDirectories(folder, "washwear-*" + BackupFolder.Unfinished).Where(left => now - Directory.GetLastWriteTimeUtc(left) > Abandoned))
        {
            Directory.Delete(left, recursive: true);
        }

        return gone.Length;
    }

    private void RefuseWithoutRoom(string folder)
    {
        long needed = DurableFiles.SizeOf(database.File);
        long free = new DriveInfo(folder).AvailableFreeSpace;
        if (free < needed)
        {
            throw new IOException(string.Create(
                CultureInfo.InvariantCulture, $"There is no room for a backup: it needs {needed >> 20} MiB in {Path.GetDirectoryName(folder)}, {free >> 20} MiB are free."));
        }
    }

    private static void MakeFolder(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(folder);
        }
        else
        {
            Directory.CreateDirectory(folder, OwnerOnly);
        }
    }
}
