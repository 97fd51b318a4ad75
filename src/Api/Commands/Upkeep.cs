using System.CommandLine;
using System.Data.Common;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Storage;

namespace Washwear.Api.Commands;

/// <summary>rebuild, backup and check: what keeps a database well.</summary>
internal static class Upkeep
{
    private static readonly Argument<FileInfo> Target = new("file") { Description = "Where to; must not exist." };

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
        var command = new Command("check", "Check that the database is whole.");
        command.SetAction(CheckAsync);
        return command;
    }

    private static async Task<int> RebuildAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = Offline.Open(asked);
        RegistryCache registry = app.Services.GetRequiredService<RegistryCache>();
        int units = await app.Services.GetRequiredService<Database>().WriteAsync(
            async session => Projector.Rebuild(session, await registry.CurrentAsync(cancellationToken)), cancellationToken);
        Console.Out.WriteLine($"Projections of {units} units derived from the ledger.");
        return 0;
    }

    private static async Task<int> BackupAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        FileInfo target = asked.GetValue(Target)!;
        if (target.Exists)
        {
            throw new CommandException($"{target.FullName} exists already; a backup overwrites nothing.");
        }

        using var database = new Database(Offline.Existing(CommandLine.SettingsOf(asked)));
        await database.BackupAsync(target.FullName, cancellationToken);
        Console.Out.WriteLine($"Copied to {target.FullName}.");
        return 0;
    }

    private static async Task<int> CheckAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        using var database = new Database(Offline.Existing(CommandLine.SettingsOf(asked)));
        if (!Migrator.IsCurrent(database))
        {
            throw new CommandException("The database is of an older version; run 'migrate' first.");
        }

        await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
        IReadOnlyList<string> faults = await IntegrityQueries.FaultsAsync(connection, cancellationToken);
        foreach (string fault in faults)
        {
            Console.Error.WriteLine(fault);
        }

        Console.Out.WriteLine(faults.Count == 0
            ? "The database is whole."
            : "The database is damaged: restore a backup, or 'export' what can still be read.");
        return faults.Count == 0 ? 0 : 1;
    }
}
