using System.CommandLine;
using Washwear.Api.Upkeep.Backups;

namespace Washwear.Api.Commands;

/// <summary>restore-drill: whether the way back from a backup works, without touching the database in use.</summary>
internal static class RestoreDrillCommand
{
    private static readonly Argument<string?> Backup = new("backup")
    {
        Description = "The backup, a folder or a file. Default: the newest in backup_folder.",
        Arity = ArgumentArity.ZeroOrOne,
    };

    private static readonly Option<DirectoryInfo?> Scratch = new("--scratch")
    {
        Description = "Folder to restore into, in a new folder that is deleted afterwards; needs three times the backup's room. Default: beside the backup.",
    };

    public static Command Create()
    {
        var command = new Command("restore-drill", "Try the way back from a backup: restore it aside, bring it up to date, check all of it.") { Backup, Scratch };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        var drill = new RestoreDrill(CommandLine.SettingsOf(asked), TimeProvider.System);
        DrillReport report = await drill.RunAsync(asked.GetValue(Backup), asked.GetValue(Scratch)?.FullName, cancellationToken);
        foreach (string line in report.Done)
        {
            Console.Out.WriteLine(line);
        }

        foreach (string fault in report.Faults)
        {
            Console.Error.WriteLine(fault);
        }

        Console.Out.WriteLine(report.Sentence);
        return report.Faults.Count == 0 ? 0 : 1;
    }
}
