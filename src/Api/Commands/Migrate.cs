using System.CommandLine;
using Washwear.Api.Storage;

namespace Washwear.Api.Commands;

/// <summary>migrate: brings the database up to date without serving.</summary>
internal static class Migrate
{
    public static Command Create()
    {
        var command = new Command("migrate", "Create the database or bring it up to date.");
        command.SetAction(asked =>
        {
            using var database = new Database(CommandLine.SettingsOf(asked));
            IReadOnlyList<string> applied = Migrator.Migrate(database);
            Console.Out.WriteLine(applied.Count == 0 ? "The database is up to date." : $"Applied {string.Join(", ", applied)}.");
        });
        return command;
    }
}
