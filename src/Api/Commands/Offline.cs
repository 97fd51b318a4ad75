using System.CommandLine;
using Washwear.Api.Storage;

namespace Washwear.Api.Commands;

/// <summary>The program without its web server, for commands that work on the database.</summary>
internal static class Offline
{
    /// <summary>Puts the program together over an existing database, brought up to date; nothing listens.</summary>
    /// <param name="asked">What was asked for.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public static async Task<WebApplication> OpenAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        WebApplication app = Program.Build(CommandLine.SettingsOf(asked).With(("log_level", "warning")));
        await Serve.PrepareAsync(app.Services, cancellationToken);
        return app;
    }

    /// <summary>The database's file; a command that only reads makes none.</summary>
    /// <param name="settings">The settings.</param>
    /// <exception cref="CommandException">There is none.</exception>
    public static Database Existing(Settings settings) => File.Exists(settings.Database)
        ? new Database(settings)
        : throw new CommandException($"There is no database at {Path.GetFullPath(settings.Database)}; name it with --database.");
}
