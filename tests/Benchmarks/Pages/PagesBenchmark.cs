using Washwear.Api.Demo;
using Washwear.Browser;

namespace Washwear.Benchmarks.Pages;

/// <summary>Every page and chart of the demo fleet over HTTP, warm: those that links lead to from the first one.</summary>
internal static class PagesBenchmark
{
    private const int Runs = 5;
    private const double MostMilliseconds = 150;
    private static readonly DateTimeOffset AsOf = TimeProvider.System.GetUtcNow();

    private static readonly string[] Also =
    [
        "/part-life?position=wash-pump&clock=washes", "/units/OVEN-0001", "/units/OVEN-0001/visit-sheet?fault=flow-low",
        "/visits/new?unit=OVEN-0001", "/failures?of=parts&compare=model&by=part_number",
    ];

    public static async Task RunAsync()
    {
        await using Served served = await Served.StartAsync();
        await served.LoadAsync(FleetSimulator.Simulate(2026, AsOf, new SimulationOptions()), withRecords: true);
        FleetWalk walk = await FleetWalk.ThroughAsync(address => ReadAsync(served, address), Also);
        foreach (string address in walk.Pages.Concat(walk.Found.Where(pair => FleetWalk.IsChart(pair.Key)).SelectMany(pair => pair.Value)))
        {
            await MeasureAsync(served, address);
        }
    }

    private static async Task MeasureAsync(Served served, string address)
    {
        long bytes = 0;
        double seconds = await Report.MedianSecondsAsync(Runs, async () =>
        {
            byte[] body = await served.Client.GetByteArrayAsync(address);
            bytes = body.Length;
        });
        Report.Against($"{address} ({bytes / 1024} KiB), ms", 1000 * seconds, MostMilliseconds, least: false);
    }

    private static async Task<string?> ReadAsync(Served served, string address)
    {
        using HttpResponseMessage answer = await served.Client.GetAsync(address);
        return answer.IsSuccessStatusCode && answer.Content.Headers.ContentType?.MediaType == "text/html" ? await answer.Content.ReadAsStringAsync() : null;
    }
}
