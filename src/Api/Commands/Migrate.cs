using System.CommandLine;
using Washwear.Api.Upkeep;

namespace Washwear.Api.Commands;

/// <summary>migrate: brings the database up to date without serving.</summary>
internal static class Migrate
{
    public static Command Create()
    {
        var command = new Command("migrate", "Create the database or bring it up to date.");
        command.SetAction(async (asked, cancellationToken) =>
        {
            await using WebApplication app = Program.Build(CommandLine.SettingsOf(asked).With(("log_level", "warning")));
            if (!await app.Services.GetRequiredService<UpToDate>().BringAndTellAsync(cancellationToken))
            {
                Console.Out.WriteLine("The database is up to date.");
            }

            return 0;
        });
        return command;
    }
}
