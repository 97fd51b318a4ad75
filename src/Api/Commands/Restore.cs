using System.CommandLine;
using System.Globalization;
using Washwear.Api.Integrity;
using Washwear.Api.Storage;

namespace Washwear.Api.Commands;

/// <summary>restore: a backup in the place of the database.</summary>
internal static class Restore
{
    private static readonly Argument<FileInfo> Backup = new("file") { Description = "The backup." };

    public static Command Create()
    {
        var command = new Command("restore", "Put a backup in the place of the database, which is kept beside it; the service must not run.") { Backup };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        FileInfo backup = asked.GetValue(Backup)!;
        Settings settings = CommandLine.SettingsOf(asked);
        if (!backup.Exists)
        {
            throw new CommandException($"There is no file {backup.FullName}.");
        }

        if (settings.Engine != "sqlite")
        {
            throw new CommandException("Only the embedded database is restored here; SQL Server is restored by its own means.");
        }

        string file = Path.GetFullPath(settings.Database);
        string unfinished = file + ".unfinished";
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        await CopyAsync(settings.With(("database", backup.FullName)), unfinished, cancellationToken);
        if (File.Exists(file))
        {
            string before = string.Create(CultureInfo.InvariantCulture, $"{file}.before-restore-{TimeProvider.System.GetUtcNow():yyyyMMdd'T'HHmmss}");
            DatabaseFiles.MoveAway(file, before);
            Console.Out.WriteLine($"What was there before is {before}.");
        }

        File.Move(unfinished, file);
        Console.Out.WriteLine($"{file} is as the backup was. Let senders send again what they sent since then: what is there already counts once.");
        return 0;
    }

    // Copied by the engine, which takes a log that lies beside the backup into account, and only if it is whole.
    private static async Task CopyAsync(Settings backup, string to, CancellationToken cancellationToken)
    {
        IntegrityReport report = await new IntegrityCheck(backup).RunAsync(quick: true, cancellationToken);
        if (report.Faults.Count > 0)
        {
            throw new CommandException($"The backup is damaged; nothing was changed. {report.Faults[0]}");
        }

        File.Delete(to);
        using var database = new Database(backup);
        await database.BackupAsync(to, cancellationToken);
    }
}
