using System.CommandLine;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Api.Storage;
using Washwear.Api.Upkeep;

namespace Washwear.Api.Commands;

/// <summary>serve: the API and the pages.</summary>
public static class Serve
{
    /// <summary>Describes the command.</summary>
    public static Command Create()
    {
        var command = new Command("serve", "Serve the API and the pages; what happens when no command is given.");
        command.SetAction(RunAsync);
        return command;
    }

    /// <summary>Serves until a signal comes.</summary>
    /// <param name="asked">What was asked for.</param>
    /// <param name="cancellationToken">Stops serving.</param>
    /// <returns>0.</returns>
    public static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        Settings settings = CommandLine.SettingsOf(asked);
        await using WebApplication app = Program.Build(settings);
        string? key = await PrepareAsync(app.Services, cancellationToken);
        if (key is not null)
        {
            Console.Out.WriteLine($"The first administrator's key, shown this once: {key}");
        }

        await app.StartAsync(cancellationToken);
        Console.Out.WriteLine($"Washwear listens on {string.Join(" ", app.Urls)}, database {app.Services.GetRequiredService<Database>().Engine.Place}");
        await app.WaitForShutdownAsync(cancellationToken);
        return 0;
    }

    /// <summary>Brings the database and what is derived in it up to date and makes sure that there is a key.</summary>
    /// <param name="services">The program's services.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>The administrator's key if it was made just now: show it once, keep it nowhere.</returns>
    public static async Task<string?> PrepareAsync(IServiceProvider services, CancellationToken cancellationToken)
    {
        Database database = services.GetRequiredService<Database>();
        await services.GetRequiredService<UpToDate>().BringAndTellAsync(cancellationToken);
        RegistrySnapshot registry = await services.GetRequiredService<RegistryCache>().CurrentAsync(cancellationToken);
        await database.WriteAsync(
            session =>
            {
                Projector.DeriveCleaning(session, registry);
                EarlySignTable.DeriveMissing(session);
                return Task.CompletedTask;
            },
            cancellationToken);
        string? chosen = services.GetRequiredService<Settings>().AdminKey;
        return await services.GetRequiredService<Keys>().EnsureFirstAsync(chosen, cancellationToken);
    }
}
