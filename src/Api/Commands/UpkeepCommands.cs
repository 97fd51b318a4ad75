using System.CommandLine;
using Washwear.Api.Audit;
using Washwear.Api.Integrity;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Api.Upkeep.Backups;

namespace Washwear.Api.Commands;

/// <summary>rebuild, backup, check and salvage: what keeps a database well.</summary>
internal static class UpkeepCommands
{
    private static readonly Argument<FileInfo?> Target = new("file")
    {
        Description = "Where to; must not exist. Default: a new folder in backup_folder, as each night.",
        Arity = ArgumentArity.ZeroOrOne,
    };

    private static readonly Argument<DirectoryInfo> Folder = new("folder") { Description = "Where to; is made, or is empty." };

    private static readonly Option<bool> Quick = new("--quick") { Description = "Only whether the file can be read, not what its records say." };

    public static Command CreateSalvage()
    {
        var command = new Command("salvage", "Write what can still be read of a damaged database into files for 'import'.") { Folder };
        command.SetAction(SalvageAsync);
        return command;
    }

    public static Command CreateRebuild()
    {
        var command = new Command("rebuild", "Derive every projection from the ledger anew.");
        command.SetAction(RebuildAsync);
        return command;
    }

    public static Command CreateBackup()
    {
        var command = new Command("backup", "Copy the database while it is in use.") { Target };
        command.SetAction(BackupAsync);
        return command;
    }

    public static Command CreateCheck()
    {
        var command = new Command("check", "Check that the database is whole: the file, what the records say, and what is derived from them.") { Quick };
        command.SetAction(CheckAsync);
        return command;
    }

    private static async Task<int> RebuildAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = await Offline.OpenAsync(asked);
        return await app.Services.GetRequiredService<AuditLog>().CommandAsync("database.rebuild", "rebuild", () => RebuildAsync(app, cancellationToken));
    }

    private static async Task<int> RebuildAsync(WebApplication app, CancellationToken cancellationToken)
    {
        RegistryCache registry = app.Services.GetRequiredService<RegistryCache>();
        int units = await app.Services.GetRequiredService<Database>().WriteAsync(
            async session =>
            {
                int derived = Projector.Rebuild(session, await registry.CurrentAsync(cancellationToken));
                await ProjectionKind.NoteAsync(session);
                return derived;
            },
            cancellationToken);
        Console.Out.WriteLine($"Projections of {units} units derived from the ledger.");
        return 0;
    }

    private static async Task<int> BackupAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        FileInfo? target = asked.GetValue(Target);
        Settings settings = CommandLine.SettingsOf(asked);
        if (target is null && settings.BackupFolder is null)
        {
            throw new SettingException("Say where to: name a file, or set backup_folder.");
        }

        if (target is { Exists: true })
        {
            throw new CommandException($"{target.FullName} exists already; a backup overwrites nothing.");
        }

        using var database = new Database(Offline.Existing(settings));
        var maker = new BackupMaker(database, settings, TimeProvider.System);
        if (target is not null)
        {
            await maker.CopyAsync(target.FullName, cancellationToken);
            Console.Out.WriteLine($"Copied to {target.FullName}.");
            return 0;
        }

        (BackupEntry made, int pruned) = await maker.MakeAsync(settings.BackupFolder!, cancellationToken);
        Console.Out.WriteLine($"Made {made.Path} and checked it; {pruned} older ones were let go.");
        return 0;
    }

    private static async Task<int> CheckAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        Settings settings = Offline.Existing(CommandLine.SettingsOf(asked));
        using (var database = new Database(settings))
        {
            Migrator.RefuseNewer(database);
            if (!Migrator.IsCurrent(database))
            {
                throw new CommandException("The database is of an older version; run 'migrate' first.");
            }
        }

        IntegrityReport report = await new IntegrityCheck(settings).RunAsync(asked.GetValue(Quick), cancellationToken);
        foreach (string fault in report.Faults)
        {
            Console.Error.WriteLine(fault);
        }

        Console.Out.WriteLine(report.Verdict);
        return report.Faults.Count == 0 ? 0 : 1;
    }

    private static async Task<int> SalvageAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        DirectoryInfo folder = asked.GetValue(Folder)!;
        if (folder.Exists && folder.EnumerateFileSystemInfos().Any())
        {
            throw new CommandException($"{folder.FullName} is not empty; nothing is overwritten.");
        }

        using var database = new Database(Offline.Existing(CommandLine.SettingsOf(asked)));
        folder.Create();
        foreach (string line in await new SalvagedFiles(database, folder.FullName).WriteAsync(cancellationToken))
        {
            Console.Out.WriteLine(line);
        }

        return 0;
    }
}
