using System.Diagnostics;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api;
using Washwear.Api.Commands;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Faults.Served;
using Washwear.Load.Measured;

namespace Washwear.Load.Fleet;

/// <summary>Fills a fresh database with an invented fleet, past HTTP, so that several runs can use it.</summary>
internal static class Preparation
{
    private const int RecordsPerLine = 500_000;

    /// <summary>Fills it, lets the program under test bring it up to date, and makes the keys.</summary>
    /// <param name="options">Where.</param>
    /// <param name="units">How many units.</param>
    /// <param name="years">Years of records.</param>
    /// <returns>0; 2: the folder holds a fleet already.</returns>
    public static async Task<int> RunAsync(LoadOptions options, int units, int years)
    {
        if (File.Exists(options.Database))
        {
            await Console.Error.WriteLineAsync($"{options.Folder} holds a database already: name another folder.");
            return 2;
        }

        var report = new LoadReport("prepare", options);
        report.Machine();
        long start = Stopwatch.GetTimestamp();
        DateTimeOffset asOf = TimeProvider.System.GetUtcNow();
        SimulatedFleet fleet = FleetSimulator.Simulate(options.Seed, asOf, new SimulationOptions(units, years));
        IngestAnswer taken = await FillAsync(options, fleet, report, start);
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        PreparedFleet prepared = PreparedFleet.Of(fleet.Registry, asOf, years, taken.Accepted, seconds);
        prepared.Write(options.Folder);
        report.Line($"{units} units ({prepared.Units.Count} in use) at {fleet.Registry.Sites.Count} sites, {years} years: {taken.Accepted} records in {seconds:0} s ({taken.Accepted / seconds:0} a second; {taken.Duplicate} were sent twice), {new FileInfo(options.Database).Length / 1e6:0} MB");
        await StartOnceAsync(options, report);
        report.Against(new Limit("records refused", taken.Refused, 0));
        return report.End(asOf);
    }

    private static async Task<IngestAnswer> FillAsync(LoadOptions options, SimulatedFleet fleet, LoadReport report, long start)
    {
        await using WebApplication app = Api.Program.Build(Settings.Load(new Dictionary<string, string>
        {
            ["database"] = options.Database,
            ["admin_key"] = ServedProgram.AdminKey,
            ["invented_data"] = "yes",
            ["log_level"] = "error",
        }));
        await Serve.PrepareAsync(app.Services, CancellationToken.None);
        await app.Services.GetRequiredService<RegistryWriter>().PutAsync(fleet.Registry, CancellationToken.None);
        return await app.Services.GetRequiredService<IngestService>().TakeInAsync(Counted(fleet.Records(), report, start), CancellationToken.None);
    }

    private static IEnumerable<IncomingRecord> Counted(IEnumerable<IncomingRecord> records, LoadReport report, long start)
    {
        long count = 0;
        foreach (IncomingRecord record in records)
        {
            if (++count % RecordsPerLine == 0)
            {
                report.Line($"  {count} records, up to {record.At:yyyy-MM-dd}, after {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s");
            }

            yield return record;
        }
    }

    // What a newer program derives otherwise, it derives now and not while it is measured.
    private static async Task StartOnceAsync(LoadOptions options, LoadReport report)
    {
        await KeyRing.ReadOrMakeAsync(options, PreparedFleet.Read(options.Folder));
        long start = Stopwatch.GetTimestamp();
        await using ServedProgram program = await options.ServeAsync();
        report.Line($"The program listens {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s after its start.");
        await program.StopAsync();
    }
}
