using System.Globalization;
using Washwear.Benchmarks;
using Washwear.Benchmarks.Cleaning;
using Washwear.Benchmarks.Diagnosis;
using Washwear.Benchmarks.EarlySigns;
using Washwear.Benchmarks.Failures;
using Washwear.Benchmarks.Ingest;
using Washwear.Benchmarks.Pages;
using Washwear.Benchmarks.PartLife;
using Washwear.Benchmarks.Planning;
using Washwear.Benchmarks.Repeats;
using Washwear.Benchmarks.Visits;

// Prints each measurement beside the limit that it is held to. Which ones run is chosen by name; none chosen: all benchmarks. Studies
// take minutes and run only when named; a number after a name says how large a study is, as in 'fuzz 1000000'.
// The large fleet takes a quarter of an hour and 4 GB on disk: 'fleet-small' is the same with a tenth of the units.
if (args is [ServedAlone.Name])
{
    return await ServedAlone.RunAsync();
}

(string Name, bool IsStudy, Func<int?, Task> Run)[] all =
[
    ("weibull", false, _ => WeibullBenchmark.RunAsync()),
    ("refit", false, _ => FleetRefitBenchmark.RunAsync()),
    ("ingest", false, _ => IngestBenchmark.RunAsync()),
    ("ingest-singles", false, _ => SinglesBenchmark.RunAsync()),
    ("early-signs", false, _ => DetectionBenchmark.RunAsync()),
    ("repeats", false, RepeatsBenchmark.RunAsync),
    ("plan", false, PlanBenchmark.RunAsync),
    ("plan-speed", false, PlanSpeedBenchmark.RunAsync),
    ("diagnosis", false, _ => DiagnosisBenchmark.RunAsync()),
    ("failures", false, _ => FailuresBenchmark.RunAsync()),
    ("visits", false, VisitsBenchmark.RunAsync),
    ("pages", false, _ => PagesBenchmark.RunAsync()),
    ("fleet-small", false, _ => FleetBenchmark.RunAsync(1_000)),
    ("fleet", false, _ => FleetBenchmark.RunAsync(10_000)),
    ("ingest-long", true, LongIngestBenchmark.RunAsync),
    ("coverage", true, CoverageStudy.RunAsync),
    ("fuzz", true, FuzzStudy.RunAsync),
];

string[] unknown = [.. args.Where(arg => !IsSize(arg) && !all.Any(one => one.Name == arg))];
if (unknown.Length > 0)
{
    await Console.Error.WriteLineAsync($"No benchmark '{unknown[0]}'; there are {string.Join(", ", all.Select(one => one.Name))}.");
    return 2;
}

Report.Machine();
foreach ((string name, _, Func<int?, Task> run) in all.Where(one => args.Length == 0 ? !one.IsStudy : args.Contains(one.Name)))
{
    Report.Title(name);
    string? next = args.ElementAtOrDefault(Array.IndexOf(args, name) + 1);
    await run(args.Contains(name) && next is not null && IsSize(next) ? int.Parse(next, CultureInfo.InvariantCulture) : null);
}

return Environment.ExitCode;

static bool IsSize(string arg) => int.TryParse(arg, NumberStyles.None, CultureInfo.InvariantCulture, out int size) && size > 0;
