using System.Data.Common;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using Washwear.Api.Demo;
using Washwear.Api.Ingest;
using Washwear.Api.Projections;
using Washwear.Api.Storage;

namespace Washwear.Benchmarks.Ingest;

/// <summary>NDJSON washes over HTTP, validated, hashed, projected and committed, beside a bare loop of prepared inserts into the same tables.</summary>
internal static class IngestBenchmark
{
    private const int RowsPerBatch = 10_000;
    private const int Batches = 10;
    private const int Rounds = 5;
    private const double LeastShareOfBareLoop = 0.5;
    private const double LeastShareLate = 0.35;
    private const int RecordsFromMemory = 250_000;
    private const double MostSecondsFromMemory = 10;
    private const double MostMillisecondsForClocks = 150;
    private static readonly DateTimeOffset AsOf = new(2026, 3, 4, 13, 0, 0, TimeSpan.Zero);

    public static async Task RunAsync()
    {
        // In turns, so that whatever else the machine does falls on all three.
        var rounds = new List<(double Bare, double InOrder, double Late)>();
        for (int round = 0; round < Rounds; round++)
        {
            rounds.Add((await BareRowsPerSecondAsync(), await HttpRowsPerSecondAsync(late: false), await HttpRowsPerSecondAsync(late: true)));
            (double bare, double inOrder, double late) = rounds[^1];
            Report.Line($"bare prepared inserts into record, wash and wash_span: {bare:F0} rows/s; NDJSON over HTTP: {inOrder:F0} rows/s, late: {late:F0} rows/s");
        }

        Report.Against("share of the bare loop", Median(rounds.Select(round => round.InOrder / round.Bare)), LeastShareOfBareLoop, least: true);
        Report.Against("share of the bare loop, late records", Median(rounds.Select(round => round.Late / round.Bare)), LeastShareLate, least: true);
        await FromMemoryAsync();
    }

    private static double Median(IEnumerable<double> shares) => shares.Order().ElementAt(Rounds / 2);

    // The records of the invented fleet, all types, with their projections.
    private static async Task FromMemoryAsync()
    {
        await using Served served = await Served.StartAsync();
        SimulatedFleet fleet = FleetSimulator.Simulate(1, AsOf, new SimulationOptions());
        await served.LoadAsync(fleet, withRecords: false);
        IncomingRecord[] records = [.. fleet.Records().Take(RecordsFromMemory)];
        long start = Stopwatch.GetTimestamp();
        IngestAnswer answer = await served.TakeInAsync(records);
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        Report.Line($"{answer.Accepted} records of all types from memory: {answer.Accepted / seconds:F0} rows/s, {answer.Refused} refused");
        Report.Against($"seconds for {RecordsFromMemory} records", seconds * RecordsFromMemory / answer.Accepted, MostSecondsFromMemory, least: false);
        await LoadClocksAsync(served, [.. Enumerable.Range(1, fleet.Registry.Units.Count)]);
    }

    private static async Task LoadClocksAsync(Served served, int[] units)
    {
        await using DbConnection connection = await served.Database.OpenReadAsync(CancellationToken.None);
        await using DbTransaction transaction = Database.BeginReading(connection);
        HashSet<(int, long)> moments = [.. units.SelectMany(unit => Enumerable.Range(0, 24).Select(days => (unit, AsOf.AddDays(-15 * days).ToUnixTimeMilliseconds())))];
        double seconds = await Report.MedianSecondsAsync(5, async () => await LifeClocks.LoadAsync(connection, transaction, moments, CancellationToken.None));
        Report.Against($"milliseconds to load what washes and meters of {units.Length} units tell of {moments.Count} moments", seconds * 1000, MostMillisecondsForClocks, least: false);
    }

    private static async Task<double> HttpRowsPerSecondAsync(bool late)
    {
        await using Served served = await Served.StartAsync();
        string[] units = await FleetAsync(served);
        byte[][] bodies = [.. Enumerable.Range(0, Batches + 1).Select(batch => Body(batch, units))];

        // The first, not counted, is the oldest, or the newest: then all that follow are late.
        await SendAsync(served, late ? bodies[^1] : bodies[0]);
        long start = Stopwatch.GetTimestamp();
        foreach (byte[] body in late ? bodies[..^1] : bodies[1..])
        {
            await SendAsync(served, body);
        }

        return RowsPerBatch * Batches / Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    private static async Task<double> BareRowsPerSecondAsync()
    {
        await using Served served = await Served.StartAsync();
        string[] units = await FleetAsync(served);
        await BareLoop.InsertAsync(served.Database, Batches, RowsPerBatch, units.Length, AsOf.AddDays(-400));
        long start = Stopwatch.GetTimestamp();
        for (int batch = 0; batch < Batches; batch++)
        {
            await BareLoop.InsertAsync(served.Database, batch, RowsPerBatch, units.Length, AsOf.AddDays(-400));
        }

        return RowsPerBatch * Batches / Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    // The invented fleet without its records; the units that are there all the time.
    private static async Task<string[]> FleetAsync(Served served)
    {
        SimulatedFleet fleet = FleetSimulator.Simulate(1, AsOf, new SimulationOptions());
        await served.LoadAsync(fleet, withRecords: false);
        var since = DateOnly.FromDateTime(AsOf.AddDays(-401).Date);
        return [.. fleet.Registry.Units.Where(unit => unit.CommissionedOn < since && unit.DecommissionedOn is null).Select(unit => unit.Unit)];
    }

    private static async Task SendAsync(Served served, byte[] body)
    {
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = new("application/x-ndjson");
        using HttpResponseMessage answer = await served.Client.PostAsync("/v1/records", content);
        string text = await answer.Content.ReadAsStringAsync();
        if (!text.StartsWith("{\"accepted\":10000,", StringComparison.Ordinal))
        {
            throw new InvalidOperationException(text[..Math.Min(500, text.Length)]);
        }
    }

    private static byte[] Body(int batch, string[] units)
    {
        var text = new StringBuilder();
        for (int row = 0; row < RowsPerBatch; row++)
        {
            DateTimeOffset at = AsOf.AddDays(-400).AddMinutes((batch * RowsPerBatch) + row);
            text.Append(CultureInfo.InvariantCulture, $"{{\"type\":\"wash\",\"key\":\"b{batch}-{row}\",\"unit\":\"{units[row % units.Length]}\",\"at\":\"")
                .Append(at.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture)).Append("\",\"ended_at\":\"")
                .Append(at.AddMinutes(75).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture))
                .Append("\",\"grade\":\"standard\",\"outcome\":\"completed\",\"detergent_left\":false}\n");
        }

        return Encoding.UTF8.GetBytes(text.ToString());
    }
}
