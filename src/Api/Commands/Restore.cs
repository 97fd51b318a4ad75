using System.CommandLine;
using System.Globalization;
using Washwear.Api.Audit;
using Washwear.Api.Storage;
using Washwear.Api.Upkeep.Backups;

namespace Washwear.Api.Commands;

/// <summary>restore: a backup in the place of the database.</summary>
internal static class Restore
{
    private static readonly Argument<string> Backup = new("backup") { Description = "The backup: a folder in backup_folder, or a file." };

    public static Command Create()
    {
        var command = new Command("restore", "Put a backup in the place of the database, which is kept beside it; the service must not run.") { Backup };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        string backup = Path.GetFullPath(asked.GetValue(Backup)!);
        string source = BackupRestore.DatabaseOf(backup);
        Settings settings = CommandLine.SettingsOf(asked);
        if (!File.Exists(source))
        {
            throw new CommandException($"There is no file {source}.");
        }

        if (settings.Engine != "sqlite")
        {
            throw new CommandException("Only the embedded database is restored here; SQL Server is restored by its own means.");
        }

        string file = Path.GetFullPath(settings.Database);
        string unfinished = file + ".unfinished";
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        RefuseSpoilt(backup);
        await BackupRestore.CopyAsync(settings.With(("database", source)), unfinished, cancellationToken);
        if (File.Exists(file))
        {
            string before = string.Create(CultureInfo.InvariantCulture, $"{file}.before-restore-{TimeProvider.System.GetUtcNow():yyyyMMdd'T'HHmmss}");
            DatabaseFiles.MoveAway(file, before);
            Console.Out.WriteLine($"What was there before is {before}.");
        }

        File.Move(unfinished, file);
        BackupRestore.PutBackKeys(backup, file);
        await NoteAsync(settings);
        Console.Out.WriteLine($"{file} is as the backup was. Let senders send again what they sent since then: what is there already counts once.");
        return 0;
    }

    // The audit of the database as it is now knows that it was put there; one of an older version is left as it is.
    private static async Task NoteAsync(Settings settings)
    {
        await using WebApplication app = Program.Build(settings.With(("log_level", "warning")));
        if (Migrator.IsCurrent(app.Services.GetRequiredService<Database>()))
        {
            await app.Services.GetRequiredService<AuditLog>().CommandAsync("database.restore", "restore", () => Task.FromResult(0));
        }
        else
        {
            Console.Out.WriteLine("The backup is of an older version, so that the audit cannot tell that it was restored.");
        }
    }

    private static void RefuseSpoilt(string backup)
    {
        if (Directory.Exists(backup) && BackupFolder.Spoilt(backup, BackupFolder.ManifestOf(backup)).FirstOrDefault() is { } spoilt)
        {
            throw new CommandException($"The backup is damaged; nothing was changed. {spoilt}");
        }
    }
}
