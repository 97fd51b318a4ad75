using System.Data.Common;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using Microsoft.Data.Sqlite;
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
    private const double LeastShareOfBareLoop = 0.5;
    private const int RecordsFromMemory = 250_000;
    private const double MostSecondsFromMemory = 10;
    private const double MostMillisecondsForClocks = 150;
    private static readonly DateTimeOffset AsOf = new(2026, 3, 4, 13, 0, 0, TimeSpan.Zero);

    public static async Task RunAsync()
    {
        double bare = await MedianAsync(BareRowsPerSecondAsync);
        double http = await MedianAsync(HttpRowsPerSecondAsync);
        Report.Line($"bare prepared inserts into record, wash and wash_span: {bare:F0} rows/s; NDJSON over HTTP: {http:F0} rows/s");
        Report.Against("share of the bare loop", http / bare, LeastShareOfBareLoop, least: true);
        await FromMemoryAsync();
    }

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
        double seconds = await Report.MedianSecondsAsync(5, async () => await LifeClocks.LoadAsync(connection, transaction, units, CancellationToken.None));
        Report.Against($"milliseconds to load the washes and meters of {units.Length} units", seconds * 1000, MostMillisecondsForClocks, least: false);
    }

    private static async Task<double> MedianAsync(Func<Task<double>> measure)
    {
        double[] found = [await measure(), await measure(), await measure()];
        return found.Order().ElementAt(1);
    }

    private static async Task<double> HttpRowsPerSecondAsync()
    {
        await using Served served = await Served.StartAsync();
        SimulatedFleet fleet = FleetSimulator.Simulate(1, AsOf, new SimulationOptions());
        await served.LoadAsync(fleet, withRecords: false);
        var since = DateOnly.FromDateTime(AsOf.AddDays(-401).Date);
        string[] units =
        [
            .. fleet.Registry.Units.Where(unit => unit.CommissionedOn < since && unit.DecommissionedOn is null).Select(unit => unit.Unit),
        ];
        byte[][] bodies = [.. Enumerable.Range(0, Batches + 1).Select(batch => Body(batch, units))];
        // The first, not counted, is also the oldest: else all that follow would be late records, which cost more.
        await SendAsync(served, bodies[0]);
        long start = Stopwatch.GetTimestamp();
        foreach (byte[] body in bodies[1..])
        {
            await SendAsync(served, body);
        }

        return RowsPerBatch * Batches / Stopwatch.GetElapsedTime(start).TotalSeconds;
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

    private static async Task<double> BareRowsPerSecondAsync()
    {
        await using Served served = await Served.StartAsync();
        await served.LoadAsync(FleetSimulator.Simulate(1, AsOf, new SimulationOptions()), withRecords: false);
        await using var connection = new SqliteConnection("Data Source=" + served.Database.File);
        await connection.OpenAsync();
        using (SqliteCommand full = connection.CreateCommand())
        {
            full.CommandText = "PRAGMA synchronous = FULL";
            full.ExecuteNonQuery();
        }

        Insert(connection, Batches);
        long start = Stopwatch.GetTimestamp();
        for (int batch = 0; batch < Batches; batch++)
        {
            Insert(connection, batch);
        }

        return RowsPerBatch * Batches / Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    private static void Insert(SqliteConnection connection, int batch)
    {
        using SqliteTransaction transaction = connection.BeginTransaction();
        using SqliteCommand record = Prepared(
            connection, "INSERT INTO record (seq, source, key, type, unit_id, at_ms, received_ms, content_hash) VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6, $p7)", 8);
        using SqliteCommand wash = Prepared(
            connection, "INSERT INTO wash (seq, ended_ms, grade, outcome, detergent_left) VALUES ($p0, $p1, $p2, $p3, $p4)", 5);
        using SqliteCommand span = Prepared(
            connection,
            "INSERT INTO wash_span (unit_id, started_ms, seq, ended_ms, grade, outcome, detergent_left, attested) VALUES ($p0, $p1, $p2, $p3, $p4, $p5, $p6, 0)",
            7);
        byte[] hash = new byte[32];
        for (int row = 0; row < RowsPerBatch; row++)
        {
            long seq = (batch * RowsPerBatch) + row + 1;
            long at = AsOf.AddDays(-400).AddMinutes(seq).ToUnixTimeMilliseconds();
            long unit = (row % 140) + 1;
            Run(record, seq, "bare", string.Create(CultureInfo.InvariantCulture, $"b{batch}-{row}"), "wash", unit, at, at, hash);
            Run(wash, seq, at + 4_500_000, "standard", "completed", 0L);
            Run(span, unit, at, seq, at + 4_500_000, "standard", "completed", 0L);
        }

        transaction.Commit();
    }

    private static SqliteCommand Prepared(SqliteConnection connection, string sql, int parameters)
    {
        SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        for (int i = 0; i < parameters; i++)
        {
            command.Parameters.AddWithValue("$p" + i.ToString(CultureInfo.InvariantCulture), DBNull.Value);
        }

        return command;
    }

    private static void Run(SqliteCommand command, params object[] values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            command.Parameters[i].Value = values[i];
        }

        command.ExecuteNonQuery();
    }
}
