using System.Diagnostics;
using System.Net.Http.Headers;
using System.Text;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Benchmarks.Failures;

/// <summary>Failures of a large fleet over HTTP: 10,000 units with 200,000 failures in three years, asked right after a start and after a new
/// failure. Cold: the program has started and says that it is well, its code is compiled, and nothing that the page shows has been read or
/// computed.</summary>
internal static class FailuresBenchmark
{
    private const int Units = 10_000;
    private const double MostColdSeconds = 1;

    /// <summary>Runs it.</summary>
    public static async Task RunAsync()
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        Report.Line($"Once with few units, not counted, so that the program is warm:");
        await MeasureAsync(new FailingFleet(100, now), now);
        await MeasureAsync(new FailingFleet(Units, now), now);
    }

    private static async Task MeasureAsync(FailingFleet fleet, DateTimeOffset now)
    {
        Served served = await Served.StartAsync();
        try
        {
            await served.Service<RegistryWriter>().PutAsync(fleet.Registry(), CancellationToken.None);
            long start = Stopwatch.GetTimestamp();
            IngestAnswer loaded = await served.Service<IngestService>().TakeInAsync(fleet.Records(), CancellationToken.None);
            Report.Line($"{fleet.Units} units: {loaded.Accepted} records in {Stopwatch.GetElapsedTime(start).TotalSeconds:F0} s, {fleet.Failures} failures");
            served = await served.AnewAsync();
            Report.Line($"/failures, part by part:");
            await PagePhases.PrintAsync(served, now);
            foreach (string path in Paths)
            {
                served = await served.AnewAsync();
                Report.Against($"{path}, cold, s", await AskAsync(served, path), MostColdSeconds, least: false);
                Report.Line($"{path}, again: {1000 * await AskAsync(served, path):F0} ms");
                await PostAsync(served, fleet.Next());
                Report.Line($"{path}, after a new fault: {1000 * await AskAsync(served, path):F0} ms");
            }
        }
        finally
        {
            await served.DisposeAsync();
        }
    }

    private static readonly string[] Paths = ["/failures", "/v1/failures/rates"];

    private static async Task<double> AskAsync(Served served, string path)
    {
        long begin = Stopwatch.GetTimestamp();
        using HttpResponseMessage answer = await served.Client.GetAsync(path);
        byte[] body = await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync();
        return body.Length > 0 ? Stopwatch.GetElapsedTime(begin).TotalSeconds : double.NaN;
    }

    private static async Task PostAsync(Served served, string body)
    {
        using var content = new ByteArrayContent(Encoding.UTF8.GetBytes(body));
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using HttpResponseMessage answer = await served.Client.PostAsync("/v1/records", content);
        answer.EnsureSuccessStatusCode();
    }
}
