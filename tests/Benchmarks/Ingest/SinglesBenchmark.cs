using System.Diagnostics;
using System.Globalization;

namespace Washwear.Benchmarks.Ingest;

/// <summary>
/// One record a request by 64 clients, each answered after it is committed to disk, beside an endpoint of the same server that reads the same
/// JSON body from the same caller and answers small JSON. The server is a process of its own; both sides are known by their key and go through
/// the same pipeline. Rounds of the two take turns, so that whatever else the machine does falls on both.
/// </summary>
internal static class SinglesBenchmark
{
    private const int Clients = 64;
    private const int Rounds = 5;
    private const double LeastShareOfEmpty = 0.4;
    private static readonly TimeSpan RoundLasts = TimeSpan.FromSeconds(4);
    private static int _records;

    /// <summary>Runs it.</summary>
    public static async Task RunAsync()
    {
        await using ServerProcess server = await ServerProcess.StartAsync();
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        var fleet = new GatewayFleet(0, now.AddDays(-2));
        await server.PutAsync(fleet.Registry());
        RawConnection[] connections = await Task.WhenAll(Enumerable.Range(0, Clients).Select(_ => RawConnection.OpenAsync(server.Address)));
        await RoundAsync(connections, ServedAlone.Empty, now);
        await RoundAsync(connections, "/v1/records", now);
        var rounds = new List<(double Empty, double Records, double Share)>();
        for (int round = 0; round < Rounds; round++)
        {
            double before = server.ProcessorSeconds;
            double empty = await RoundAsync(connections, ServedAlone.Empty, now);
            double between = server.ProcessorSeconds;
            double records = await RoundAsync(connections, "/v1/records", now);
            double after = server.ProcessorSeconds;
            rounds.Add((empty, records, records / empty));
            Report.Line($"empty endpoint: {empty:F0} a second, {1e6 * (between - before) / (empty * RoundLasts.TotalSeconds):F0} µs of processor each; records: {records:F0} a second, {1e6 * (after - between) / (records * RoundLasts.TotalSeconds):F0} µs each");
        }

        foreach (RawConnection connection in connections)
        {
            connection.Dispose();
        }

        double share = rounds.Select(round => round.Share).Order().ElementAt(Rounds / 2);
        Report.Against($"records by {Clients} clients, share of the empty endpoint's rate, median of {Rounds} rounds", share, LeastShareOfEmpty, least: true);
    }

    private static async Task<double> RoundAsync(RawConnection[] connections, string path, DateTimeOffset now)
    {
        long start = Stopwatch.GetTimestamp();
        int[] answered = await Task.WhenAll(connections.Select((connection, client) => Task.Run(async () =>
        {
            int count = 0;
            while (Stopwatch.GetElapsedTime(start) < RoundLasts)
            {
                int status = await connection.SendAsync(RawConnection.Post(path, Record(client, now)));
                if (status != 200 || (path.EndsWith("records", StringComparison.Ordinal) && !connection.Text.Contains("\"accepted\":1", StringComparison.Ordinal)))
                {
                    throw new InvalidOperationException(connection.Text);
                }

                count++;
            }

            return count;
        })));
        return answered.Sum() / Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    // Each client is a gateway of its own with some 150 units, each heard in the order of time.
    private static string Record(int client, DateTimeOffset now)
    {
        int number = Interlocked.Increment(ref _records);
        int unit = client + (Clients * (number / Clients % 150));
        DateTimeOffset at = now.AddHours(-30).AddMilliseconds(number * 100L);
        return string.Create(
            CultureInfo.InvariantCulture,
            $$"""{"type":"wash","key":"s{{number}}","unit":"{{GatewayFleet.Code(unit)}}","at":"{{at:yyyy-MM-ddTHH:mm:ss.fffZ}}","ended_at":"{{at.AddMilliseconds(50):yyyy-MM-ddTHH:mm:ss.fffZ}}","programme":"daily","outcome":"completed"}""");
    }
}
