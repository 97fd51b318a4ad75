using System.CommandLine;
using Washwear.Api.Storage;
using Washwear.Api.Upkeep;

namespace Washwear.Api.Commands;

/// <summary>The program without its web server, for commands that work on the database. No key is made: only serve shows one.</summary>
internal static class Offline
{
    /// <summary>Puts the program together over an existing database, brought up to date; nothing listens.</summary>
    /// <param name="asked">What was asked for.</param>
    /// <exception cref="CommandException">There is no database.</exception>
    public static Task<WebApplication> OpenAsync(ParseResult asked) => OpenAsync(Existing(CommandLine.SettingsOf(asked)));

    /// <summary>Puts the program together over a database that is made if there is none; nothing listens.</summary>
    /// <param name="asked">What was asked for.</param>
    public static Task<WebApplication> OpenOrCreateAsync(ParseResult asked) => OpenAsync(CommandLine.SettingsOf(asked));

    /// <summary>The settings, if their database exists; a command that only reads makes none.</summary>
    /// <param name="settings">The settings.</param>
    /// <exception cref="CommandException">There is none.</exception>
    public static Settings Existing(Settings settings)
    {
        using var database = new Database(settings);
        return database.Engine.Exists()
            ? settings
            : throw new CommandException($"There is no database at {database.Engine.Place}; name it with --database.");
    }

    private static async Task<WebApplication> OpenAsync(Settings settings)
    {
        WebApplication app = Program.Build(settings.With(("log_level", "warning")));
        try
        {
            await app.Services.GetRequiredService<UpToDate>().BringAsync(CancellationToken.None);
            return app;
        }
        catch
        {
            await app.DisposeAsync();
            throw;
        }
    }
}
