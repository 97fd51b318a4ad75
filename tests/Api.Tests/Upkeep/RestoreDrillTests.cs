using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using Washwear.Api.Http;
using Washwear.Api.Storage;
using Washwear.Api.Tests.Commands;
using Washwear.Api.Upkeep.Backups;
using Washwear.Faults.FullDisk;

namespace Washwear.Api.Tests.Upkeep;

/// <summary>The way back, tried as a person tries it: the real program over real backups, whole and spoilt.</summary>
public sealed class RestoreDrillTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("washwear-drill-test-").FullName;

    private string Backups => Path.Combine(_folder, "backups");

    [Fact]
    public async Task A_good_backup_is_told_to_be_good_and_nothing_is_left_behind()
    {
        await BackUpAsync();

        CommandRun drill = await RunAsync("restore-drill");

        Assert.Equal((0, ""), (drill.Code, drill.Complaint));
        Assert.Contains("360 records up to number 360, and as many rows of each table as when it was made.", drill.Out, StringComparison.Ordinal);
        Assert.Contains("The way back works", drill.Out, StringComparison.Ordinal);
        Assert.Single(Directory.EnumerateFileSystemEntries(Backups));
    }

    [Theory]
    [InlineData("flipped", "has other bytes than were written")]
    [InlineData("truncated", "bytes; ")]
    [InlineData("gone", "is gone")]
    [InlineData("no manifest", "no manifest that can be read")]
    public async Task A_spoilt_backup_is_told_to_be_spoilt_and_is_not_restored_either(string harm, string complaint)
    {
        string backup = await BackUpAsync();
        Harm(backup, harm);

        CommandRun drill = await RunAsync("restore-drill", backup);
        Assert.Equal(1, drill.Code);
        Assert.Contains(complaint, drill.Complaint, StringComparison.Ordinal);
        Assert.Contains("The way back would fail", drill.Out, StringComparison.Ordinal);

        byte[] before = await File.ReadAllBytesAsync(Path.Combine(_folder, "washwear.db"));
        CommandRun restore = await RunAsync("restore", backup);
        Assert.Equal(1, restore.Code);
        Assert.Equal(before, await File.ReadAllBytesAsync(Path.Combine(_folder, "washwear.db")));
        Assert.Single(Directory.EnumerateFileSystemEntries(Backups));
    }

    [Fact]
    public async Task What_was_lost_before_the_files_were_described_is_found_by_the_counts()
    {
        string backup = await BackUpAsync();
        string file = Path.Combine(backup, BackupManifest.DatabaseName);
        Change(file, "DELETE FROM meter WHERE seq = (SELECT max(seq) FROM meter)");
        BackupManifest manifest = BackupFolder.ManifestOf(backup);
        Write(backup, manifest with { Files = [.. manifest.Files.Where(one => one.Name != BackupManifest.DatabaseName), BackupFolder.DescriptionOf(backup, file)] });

        CommandRun drill = await RunAsync("restore-drill");

        Assert.Equal(1, drill.Code);
        Assert.Contains("Table meter has 8 rows; it had 9 when the backup was made.", drill.Complaint, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_single_file_whose_figures_changed_is_found_by_what_was_hashed_when_records_came()
    {
        await BackUpAsync();
        string file = Path.Combine(_folder, "single.db");
        Assert.Equal(0, (await RunAsync("backup", file)).Code);
        Assert.Equal(0, (await RunAsync("restore-drill", file)).Code);
        Change(file, "UPDATE wash SET detergent_doses = 99 WHERE seq = (SELECT max(seq) FROM wash)");

        CommandRun drill = await RunAsync("restore-drill", file);

        Assert.Equal(1, drill.Code);
        Assert.Contains("no longer says what was taken in", drill.Complaint, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_of_an_older_schema_is_brought_up_to_date_on_the_way()
    {
        string backup = Path.Combine(Backups, BackupFolder.NameOf(new DateTimeOffset(2026, 3, 1, 2, 0, 0, TimeSpan.Zero)));
        Directory.CreateDirectory(backup);
        string file = OldDatabase.In(backup);
        using (var old = new Database(Settings.Load(new Dictionary<string, string> { ["database"] = file })))
        {
            HeldRows held = await BackupQueries.CountAsync(old, ["unit", "record", "wash", "part_change", "refused"], CancellationToken.None);
            Write(backup, new BackupManifest(1, DateTimeOffset.UnixEpoch, OldDatabase.First, held.LastSequence, held.Ledger, held.Tables, [BackupFolder.DescriptionOf(backup, file)]));
        }

        CommandRun drill = await RunAsync("restore-drill");

        Assert.Equal((0, ""), (drill.Code, drill.Complaint));
        Assert.Contains("What is derived of 6 units was derived anew", drill.Out, StringComparison.Ordinal);
        Assert.Contains("360 records", drill.Out, StringComparison.Ordinal);
        Assert.Empty(BackupFolder.Spoilt(backup, BackupFolder.ManifestOf(backup)));
    }

    [Fact]
    public async Task Without_any_backup_it_says_so()
    {
        Directory.CreateDirectory(Backups);

        CommandRun empty = await RunAsync("restore-drill");
        CommandRun none = await RunAsync("restore-drill", "nowhere");

        Assert.Equal((1, 1), (empty.Code, none.Code));
        Assert.Contains("There is no backup in " + Backups, empty.Complaint, StringComparison.Ordinal);
        Assert.Contains("There is no backup at nowhere", none.Complaint, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_room_it_says_how_much_is_needed_and_neither_backup_nor_drill_leaves_anything()
    {
        await BackUpAsync();
        using var small = SmallDisk.Make(Path.Combine(_folder, "disk"));
        if (!small.Way.Contains("tmpfs", StringComparison.Ordinal))
        {
            // No file system can be mounted here: there is no disk without room.
            return;
        }

        small.Leave(200_000, Environment.ProcessId);

        CommandRun drill = await RunAsync("restore-drill", "--scratch", small.Folder);
        Assert.Equal(1, drill.Code);
        Assert.Contains("There is no room to try it: it needs", drill.Complaint, StringComparison.Ordinal);

        CommandRun backup = await CommandRun.OfAsync(_folder, "backup", "--database", "washwear.db", "--backup-folder", Path.Combine(small.Folder, "backups"));
        Assert.Equal(1, backup.Code);
        Assert.Contains("There is no room for a backup", backup.Complaint, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFileSystemEntries(Path.Combine(small.Folder, "backups")));
    }

    [Fact]
    public async Task A_restore_from_a_folder_brings_the_keys_of_cookies_back()
    {
        Directory.CreateDirectory(Path.Combine(_folder, "cookie-keys"));
        await File.WriteAllTextAsync(Path.Combine(_folder, "cookie-keys", "key-1.xml"), "<key/>");
        string backup = await BackUpAsync();
        Directory.Delete(Path.Combine(_folder, "cookie-keys"), recursive: true);

        CommandRun restore = await RunAsync("restore", backup);

        Assert.Equal((0, ""), (restore.Code, restore.Complaint));
        Assert.Equal("<key/>", await File.ReadAllTextAsync(Path.Combine(_folder, "cookie-keys", "key-1.xml")));
        Assert.Equal(0, (await RunAsync("check")).Code);
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    private static void Harm(string backup, string harm)
    {
        string file = Path.Combine(backup, BackupManifest.DatabaseName);
        switch (harm)
        {
            case "flipped":
                byte[] bytes = File.ReadAllBytes(file);
                bytes[bytes.Length / 2] ^= 1;
                File.WriteAllBytes(file, bytes);
                break;
            case "truncated":
                using (FileStream stream = File.OpenWrite(file))
                {
                    stream.SetLength(stream.Length - 4096);
                }

                break;
            case "gone":
                File.Delete(file);
                break;
            default:
                File.WriteAllText(Path.Combine(backup, BackupManifest.FileName), "{");
                break;
        }
    }

    private static void Write(string backup, BackupManifest manifest) =>
        File.WriteAllText(Path.Combine(backup, BackupManifest.FileName), JsonSerializer.Serialize(manifest, Json.Options));

    private static void Change(string file, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False");
        connection.Execute(sql);
    }

    private async Task<string> BackUpAsync()
    {
        OldDatabase.In(_folder);
        Assert.Equal(0, (await RunAsync("migrate", "--migration-copy", "no")).Code);
        CommandRun backup = await RunAsync("backup");
        Assert.Equal((0, ""), (backup.Code, backup.Complaint));
        return BackupFolder.Newest(Backups)!.Path;
    }

    private Task<CommandRun> RunAsync(params string[] arguments) =>
        CommandRun.OfAsync(_folder, [.. arguments, "--database", "washwear.db", "--backup-folder", Backups]);
}
