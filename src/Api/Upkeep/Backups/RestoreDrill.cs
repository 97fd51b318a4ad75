using System.Data.Common;
using System.Globalization;
using Washwear.Api.Integrity;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Upkeep.Backups;

/// <summary>What a drill came to.</summary>
/// <param name="Backup">The backup that was tried; null: there was none.</param>
/// <param name="Done">What was done and seen, a line each.</param>
/// <param name="Faults">What is wrong, a line each; empty: the way back works.</param>
internal sealed record DrillReport(string? Backup, IReadOnlyList<string> Done, IReadOnlyList<string> Faults)
{
    /// <summary>All in one sentence.</summary>
    public string Sentence => Faults.Count == 0
        ? $"The way back works: {Backup} was restored aside, brought up to date and checked whole."
        : $"The way back would fail{(Backup is null ? "" : " with " + Backup)}: {Faults[0]}{(Faults.Count > 1 ? $" And {Faults.Count - 1} more." : "")}";
}

/// <summary>Tries the way back from a backup: restores it aside, brings it up to date, checks all of it and compares it with what was counted when
/// it was made. Nothing listens, and the database in use is not touched.</summary>
/// <param name="settings">The settings.</param>
/// <param name="clock">The clock.</param>
internal sealed class RestoreDrill(Settings settings, TimeProvider clock)
{
    // The restored file, the copy on which 'check' derives everything anew, and that copy's log.
    private const int RoomInFiles = 3;

    private const int MostFaultsTold = 20;

    /// <summary>Tries it.</summary>
    /// <param name="backup">The backup: a folder, or a file; null: the newest in the folder of backups.</param>
    /// <param name="scratch">Where to restore to, in a new folder; null: beside the backup.</param>
    /// <param name="cancellationToken">Stops; nothing is left.</param>
    public async Task<DrillReport> RunAsync(string? backup, string? scratch, CancellationToken cancellationToken)
    {
        if (Chosen(backup) is not { } chosen)
        {
            return new DrillReport(null, [], [$"There is no backup {(backup is null ? "in " + (settings.BackupFolder ?? "any folder: backup_folder is not set") : "at " + backup)}."]);
        }

        var done = new List<string>();
        string folder = Path.Combine(scratch ?? Path.GetDirectoryName(chosen)!, $"restore-drill-{Guid.NewGuid():N}");
        try
        {
            IReadOnlyList<string> faults = await TryAsync(chosen, folder, done, cancellationToken);
            return new DrillReport(chosen, done, faults.Count > MostFaultsTold ? [.. faults.Take(MostFaultsTold), "... and more."] : faults);
        }
        catch (Exception error) when (error is IOException or InvalidDataException or InvalidOperationException or UnauthorizedAccessException or DbException)
        {
            return new DrillReport(chosen, done, [error.Message]);
        }
        finally
        {
            if (Directory.Exists(folder))
            {
                Directory.Delete(folder, recursive: true);
            }
        }
    }

    private string? Chosen(string? backup) => backup is null
        ? settings.BackupFolder is { } folder ? BackupFolder.Newest(folder)?.Path : null
        : Directory.Exists(backup) || File.Exists(backup) ? Path.GetFullPath(backup) : null;

    private async Task<IReadOnlyList<string>> TryAsync(string backup, string folder, List<string> done, CancellationToken cancellationToken)
    {
        BackupManifest? manifest = null;
        if (Directory.Exists(backup))
        {
            manifest = BackupFolder.ManifestOf(backup);
            string[] spoilt = [.. BackupFolder.Spoilt(backup, manifest)];
            if (spoilt.Length > 0)
            {
                return spoilt;
            }

            done.Add(string.Create(CultureInfo.InvariantCulture, $"{manifest.Files.Count} files are, byte for byte, what was written at {manifest.MadeAt:u}."));
        }
        else
        {
            done.Add("A single file says nothing of what it held when it was made: it is checked by itself.");
        }

        Directory.CreateDirectory(folder);
        RefuseWithoutRoom(BackupRestore.DatabaseOf(backup), folder);
        string file = Path.Combine(folder, BackupManifest.DatabaseName);
        await BackupRestore.CopyAsync(settings.With(("engine", "sqlite"), ("database", BackupRestore.DatabaseOf(backup))), file, cancellationToken);
        return await LookAsync(settings.With(("engine", "sqlite"), ("database", file), ("migration_copy", "no")), manifest, done, cancellationToken);
    }

    private async Task<IReadOnlyList<string>> LookAsync(Settings restored, BackupManifest? manifest, List<string> done, CancellationToken cancellationToken)
    {
        HeldRows? said = manifest is null ? null : new HeldRows(manifest.LastSequence, manifest.Ledger, manifest.Tables);
        using (var database = new Database(restored))
        {
            string[] lost = said is null ? [] : [.. said.Differences(await BackupQueries.CountAsync(database, said.Tables.Keys, cancellationToken))];
            if (lost.Length > 0)
            {
                return lost;
            }

            using var registry = new RegistryCache(database);
            done.AddRange(await new UpToDate(database, registry, restored, clock).BringAsync(cancellationToken));
            HeldRows after = await BackupQueries.CountAsync(database, said?.Tables.Keys, cancellationToken);
            lost = said is null ? [] : [.. said.Differences(after)];
            if (lost.Length > 0)
            {
                return [.. lost.Select(line => "After it was brought up to date: " + line)];
            }

            done.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"{after.Tables.GetValueOrDefault("record")} records up to number {after.LastSequence}{(said is null ? "" : ", and as many rows of each table as when it was made")}."));
        }

        IntegrityReport report = await new IntegrityCheck(restored).RunAsync(quick: false, cancellationToken);
        done.Add(report.Verdict);
        return report.Faults;
    }

    private static void RefuseWithoutRoom(string file, string folder)
    {
        long needed = DurableFiles.SizeOf(file) * RoomInFiles;
        long free = new DriveInfo(folder).AvailableFreeSpace;
        if (free < needed)
        {
            throw new IOException(string.Create(
                CultureInfo.InvariantCulture,
                $"There is no room to try it: it needs {(needed >> 20) + 1} MiB in {Path.GetDirectoryName(folder)}, {free >> 20} MiB are free. Name another folder with --scratch."));
        }
    }
}
