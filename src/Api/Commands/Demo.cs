using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Api.Security;

namespace Washwear.Api.Commands;

/// <summary>demo: an invented fleet in a fresh database, served with a link that signs in.</summary>
internal static class Demo
{
    private const int UsualSeed = 2026;
    private const int RecordsPerLine = 50_000;

    private static readonly Option<string?> Folder =
        new("--folder") { Description = "Folder for the database, new or empty. Default: a new one under the system's temporary folder." };

    private static readonly Option<int> Seed =
        new("--seed") { Description = "Seed of the fleet: the same seed lives the same life.", DefaultValueFactory = _ => UsualSeed };

    private static readonly Option<int> Units =
        new("--units") { Description = "How many units, 1 to 10,000.", DefaultValueFactory = _ => new SimulationOptions().Units };

    public static Command Create()
    {
        var command = new Command("demo", "Fill a fresh database with an invented fleet and serve it.") { Folder, Seed, Units };
        command.SetAction(RunAsync);
        return command;
    }

    private static async Task<int> RunAsync(ParseResult asked, CancellationToken cancellationToken)
    {
        // Nothing is written before the whole command line is known to be good.
        int units = asked.GetValue(Units);
        if (units is < 1 or > SimulationOptions.MostUnits)
        {
            throw new CommandException($"--units must be from 1 to {SimulationOptions.MostUnits}.");
        }

        string folder = FreshFolder(asked.GetValue(Folder));
        Settings chosen = CommandLine.SettingsOf(asked);
        Settings settings = chosen.With(
            ("database", Path.Combine(folder, "washwear.db")), ("invented_data", "yes"), ("urls", FreeAddress(chosen.Urls)),
            ("log_level", "warning"));
        await using WebApplication app = Program.Build(settings);
        await Serve.PrepareAsync(app.Services, cancellationToken);
        await LoadAsync(app.Services, asked.GetValue(Seed), units, cancellationToken);
        await app.StartAsync(cancellationToken);
        string? link = await app.Services.GetRequiredService<Keys>().AddSignInLinkAsync(Keys.FirstName, cancellationToken);
        Console.Out.WriteLine($"Database in {folder}. Everything in it is invented.");
        Console.Out.WriteLine($"Open {app.Urls.First()}{link}");
        Console.Out.WriteLine("The link signs in once, within an hour. Stop with Ctrl+C.");
        await app.WaitForShutdownAsync(cancellationToken);
        return 0;
    }

    private static async Task LoadAsync(IServiceProvider services, int seed, int units, CancellationToken cancellationToken)
    {
        var watch = Stopwatch.StartNew();
        DateTimeOffset asOf = services.GetRequiredService<TimeProvider>().GetUtcNow();
        SimulatedFleet fleet = FleetSimulator.Simulate(seed, asOf, new SimulationOptions { Units = units });
        (RegistryOutcome? outcome, IReadOnlyList<Http.FieldProblem> problems) =
            await services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, cancellationToken);
        if (outcome is null)
        {
            throw new CommandException($"The invented registry was refused: {problems[0].Field}: {problems[0].Detail}");
        }

        Console.Out.WriteLine($"Invented {fleet.Registry.Sites.Count} sites and {units} units; living their years ...");
        IngestAnswer answer = await services.GetRequiredService<IngestService>().TakeInAsync(Counted(fleet.Records()), cancellationToken);
        Console.Out.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"Took in {answer.Accepted:N0} records in {watch.Elapsed.TotalSeconds:F1} s " +
            $"({answer.Duplicate:N0} sent twice, {answer.Refused:N0} refused)."));
    }

    private static IEnumerable<IncomingRecord> Counted(IEnumerable<IncomingRecord> records)
    {
        int count = 0;
        foreach (IncomingRecord record in records)
        {
            if (++count % RecordsPerLine == 0)
            {
                Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {count:N0} records, up to {record.At:yyyy-MM-dd}"));
            }

            yield return record;
        }
    }

    private static string FreshFolder(string? asked)
    {
        if (asked is null)
        {
            return Directory.CreateTempSubdirectory("washwear-demo-").FullName;
        }

        string folder = Path.GetFullPath(asked);
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
        {
            throw new CommandException(
                $"{folder} is not empty: the demo only fills a fresh folder. Name another one, or leave --folder out.");
        }

        return Directory.CreateDirectory(folder).FullName;
    }

    // A second demo beside the first one is no reason to stop.
    private static string FreeAddress(string urls)
    {
        if (!Uri.TryCreate(urls, UriKind.Absolute, out Uri? address) || address.Port == 0
            || !IPAddress.TryParse(address.Host, out IPAddress? host))
        {
            return urls;
        }

        try
        {
            using var probe = new TcpListener(host, address.Port);
            probe.Start();
            return urls;
        }
        catch (SocketException)
        {
            Console.Out.WriteLine($"{urls} is taken; serving at a free port instead.");
            return $"{address.Scheme}://{address.Host}:0";
        }
    }
}
