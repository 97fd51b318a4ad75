using System.Diagnostics;
using System.Net.Http.Headers;
using System.Text;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Benchmarks.Failures;

namespace Washwear.Benchmarks.Visits;

/// <summary>
/// What a technician opens, in a fleet of 10,000 units and three years: visit sheet, form and receipt over HTTP, each right after a new
/// fault came in.
/// </summary>
internal static class VisitsBenchmark
{
    private const int Usual = 10_000;
    private const int Questions = 40;
    private const double MostMilliseconds = 300;
    private static readonly string[] Positions = ["pump", "hose", "valve", "element", "gasket", "arm"];

    /// <summary>Runs it.</summary>
    /// <param name="units">How many units; null: 10,000, for which the limits are meant.</param>
    public static async Task RunAsync(int? units)
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        Report.Line($"Once with few units, not counted, so that the program is warm:");
        await MeasureAsync(new FailingFleet(100, now), now);
        await MeasureAsync(new FailingFleet(units ?? Usual, now), now);
    }

    private static async Task MeasureAsync(FailingFleet fleet, DateTimeOffset now)
    {
        await using Served served = await Served.StartAsync();
        await served.Service<RegistryWriter>().PutAsync(WithCatalogue(fleet.Registry()), CancellationToken.None);
        IngestAnswer loaded = await served.Service<IngestService>().TakeInAsync(fleet.Records().Concat(Visits(fleet.Units, now)), CancellationToken.None);
        Report.Line($"{fleet.Units} units: {loaded.Accepted} records");
        foreach ((string what, Func<int, string> path) in new (string, Func<int, string>)[]
        {
            ("visit sheet", unit => $"/units/U-{unit}/visit-sheet?fault=F1"),
            ("visit sheet with a result", unit => $"/units/U-{unit}/visit-sheet?fault=F1&result=check-0:pass"),
            ("form that closes a visit", unit => $"/visits/new?unit=U-{unit}&fault=F1"),
            ("receipt", unit => $"/visits/v-{unit}"),
        })
        {
            await AskAsync(served, fleet, what, path);
        }
    }

    private static async Task AskAsync(Served served, FailingFleet fleet, string what, Func<int, string> path)
    {
        var random = new Random(1);
        var milliseconds = new List<double>();
        for (int i = 0; i <= Questions; i++)
        {
            using var fault = new ByteArrayContent(Encoding.UTF8.GetBytes(fleet.Next()));
            fault.Headers.ContentType = new MediaTypeHeaderValue("application/json");
            (await served.Client.PostAsync("/v1/records", fault)).EnsureSuccessStatusCode().Dispose();
            using var request = new HttpRequestMessage(HttpMethod.Get, path(random.Next(fleet.Units)));
            request.Headers.Accept.ParseAdd("text/html");
            long begin = Stopwatch.GetTimestamp();
            using HttpResponseMessage answer = await served.Client.SendAsync(request);
            await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync();
            milliseconds.Add(Stopwatch.GetElapsedTime(begin).TotalMilliseconds);
        }

        Report.Line($"{what}: the first {milliseconds[0]:F0} ms");
        double[] warm = [.. milliseconds.Skip(1).Order()];
        Report.Line($"{what}: median {warm[Questions / 2]:F1} ms");
        Report.Against($"{what}, 95th percentile, ms", warm[(int)(Questions * 0.95)], MostMilliseconds, least: false);
    }

    // Six causes and eight checks: as many as are worked through together.
    private static RegistryDocument WithCatalogue(RegistryDocument registry) => registry with
    {
        Models =
        [
            .. registry.Models.Select(model => model with
            {
                Faults =
                [
                    .. model.Faults.Select(fault => fault with
                    {
                        Causes = [.. Positions.Select((position, i) => new FaultCauseResource(position, null, null, 6 - i))],
                        Checks =
                        [
                            .. Enumerable.Range(0, 8).Select(i => new FaultCheckResource(
                                $"check-{i}", $"Look at it, way {i}", 3 + i, [Positions[i % 6], Positions[(i + 2) % 6]], 0.1, 0.05)),
                        ],
                    }),
                ],
            }),
        ],
    };

    private static IEnumerable<IncomingRecord> Visits(int units, DateTimeOffset now) => Enumerable.Range(0, units).Select(unit =>
    {
        DateTimeOffset at = now.AddDays(-1 - (unit % 300));
        return new VisitRecord(
            "benchmark", $"v-{unit}", $"U-{unit}", at, null, at.AddHours(-20), at, at.AddHours(2),
            unit % 4 == 0 ? VisitOutcome.RepairedNotProven : VisitOutcome.Proven, "team", null, ["F1"],
            [new VisitCheck($"check-{unit % 8}", CheckResult.Fail)], [new VisitFinding(Positions[unit % 6])],
            [new VisitProof("full-wash", CheckResult.Pass)], null);
    });
}
