using System.Diagnostics;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Planning;

/// <summary>The plan of a large fleet over HTTP, asked right after a start and again: 10,000 units with six positions each.</summary>
internal static class PlanSpeedBenchmark
{
    private const int Units = 10_000;
    private const double MostColdSeconds = 10;

    private static readonly string[] Paths =
        ["/v1/plan/visits", "/planning", "/v1/plan/replacements", "/v1/plan/failures", "/v1/plan/stock", "/v1/plan/companions", "/v1/plan/calendar.ics"];

    /// <summary>Runs it.</summary>
    /// <param name="units">How many units; null: 10,000.</param>
    public static async Task RunAsync(int? units)
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        Report.Line($"Once with few units, not counted, so that the program is warm:");
        await MeasureAsync(new WearingFleet(60, now));
        await MeasureAsync(new WearingFleet(units ?? Units, now));
    }

    private static async Task MeasureAsync(WearingFleet fleet)
    {
        Served served = await Served.StartAsync();
        try
        {
            await served.Service<RegistryWriter>().PutAsync(fleet.Registry(), CancellationToken.None);
            IngestAnswer loaded = await served.Service<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
            Report.Line($"{loaded.Accepted} records");
            served = await served.AnewAsync();
            Report.Against("plan, cold, s", await AskAsync(served, Paths[0]), MostColdSeconds, least: false);
            foreach (string path in Paths)
            {
                double first = await AskAsync(served, path);
                Report.Line($"{path}: {1000 * first:F0} ms, again {1000 * await AskAsync(served, path):F0} ms");
            }
        }
        finally
        {
            await served.DisposeAsync();
        }
    }

    private static async Task<double> AskAsync(Served served, string path)
    {
        long begin = Stopwatch.GetTimestamp();
        using HttpResponseMessage answer = await served.Client.GetAsync(path);
        byte[] body = await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync();
        return body.Length > 0 ? Stopwatch.GetElapsedTime(begin).TotalSeconds : double.NaN;
    }
}
