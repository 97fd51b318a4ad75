using Washwear.Api.Demo;

namespace Washwear.Benchmarks.Pages;

/// <summary>Pages, reports and charts of the demo fleet over HTTP, warm.</summary>
internal static class PagesBenchmark
{
    private const int Runs = 9;
    private const double MostMilliseconds = 300;
    private static readonly DateTimeOffset AsOf = TimeProvider.System.GetUtcNow();

    private static readonly string[] Paths =
    [
        "/", "/cleaning", "/part-life?position=wash-pump&clock=washes", "/units", "/units/OVEN-0001", "/units/OVEN-0001/visit-sheet?fault=flow-low",
        "/visits/new?unit=OVEN-0001", "/v1/cleaning/status", "/v1/cleaning/compliance?days=90",
        "/charts/part-life/wash-pump/survival.svg", "/charts/part-life/wash-pump/probability.png", "/charts/units/OVEN-0001/washes.svg",
        "/charts/cleaning/on-time.svg",
    ];

    public static async Task RunAsync()
    {
        await using Served served = await Served.StartAsync();
        await served.LoadAsync(FleetSimulator.Simulate(2026, AsOf, new SimulationOptions()), withRecords: true);
        foreach (string path in Paths)
        {
            long bytes = 0;
            double seconds = await Report.MedianSecondsAsync(Runs, async () =>
            {
                byte[] body = await served.Client.GetByteArrayAsync(path);
                bytes = body.Length;
            });
            Report.Against($"{path} ({bytes / 1024} KiB), ms", 1000 * seconds, MostMilliseconds, least: false);
        }
    }
}
