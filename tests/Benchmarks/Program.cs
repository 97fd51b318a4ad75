using Washwear.Benchmarks;
using Washwear.Benchmarks.Cleaning;
using Washwear.Benchmarks.EarlySigns;
using Washwear.Benchmarks.Ingest;
using Washwear.Benchmarks.Pages;
using Washwear.Benchmarks.PartLife;

// Prints each measurement beside the limit that it is held to. Which ones run is chosen by name; none chosen: all of them.
// The large fleet takes a quarter of an hour and 4 GB on disk: 'fleet-small' is the same with a tenth of the units.
(string Name, Func<Task> Run)[] all =
[
    ("weibull", WeibullBenchmark.RunAsync),
    ("refit", FleetRefitBenchmark.RunAsync),
    ("ingest", IngestBenchmark.RunAsync),
    ("early-signs", DetectionBenchmark.RunAsync),
    ("pages", PagesBenchmark.RunAsync),
    ("fleet-small", () => FleetBenchmark.RunAsync(1_000)),
    ("fleet", () => FleetBenchmark.RunAsync(10_000)),
];

string[] unknown = [.. args.Where(arg => !all.Any(one => one.Name == arg))];
if (unknown.Length > 0)
{
    await Console.Error.WriteLineAsync($"No benchmark '{unknown[0]}'; there are {string.Join(", ", all.Select(one => one.Name))}.");
    return 2;
}

Report.Machine();
foreach ((string name, Func<Task> run) in all.Where(one => args.Length == 0 || args.Contains(one.Name)))
{
    Report.Title(name);
    await run();
}

return 0;
