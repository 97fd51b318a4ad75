using System.CommandLine;
using System.Globalization;
using Washwear.Api.Upkeep.Retention;

namespace Washwear.Api.Commands;

/// <summary>prune: lets go of what is kept only for a time, as the service does each day.</summary>
internal static class Prune
{
    private static readonly Option<bool> DryRun = new("--dry-run") { Description = "Only count what would go." };

    public static Command Create()
    {
        var command = new Command("prune", "Let go of what is older than the settings that end in keep_days say; records are kept for ever.") { DryRun };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        await using WebApplication app = await Offline.OpenAsync(asked);
        Pruning pruning = app.Services.GetRequiredService<Pruning>();
        bool dry = asked.GetValue(DryRun);
        IReadOnlyList<PrunedKind> kinds = dry ? await pruning.CountAsync(cancellationToken) : await pruning.RunAsync(cancellationToken);
        foreach (PrunedKind kind in kinds)
        {
            string kept = kind.Days == 0 ? "kept for ever" : string.Create(CultureInfo.InvariantCulture, $"kept for {kind.Days} {(kind.Days == 1 ? "day" : "days")}");
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{kind.Rows,10:N0} {kind.Name} {(dry ? "would go" : "went")} ({kept})"));
        }

        return 0;
    }
}
