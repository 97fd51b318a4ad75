using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Threading.Channels;

namespace Washwear.Benchmarks.Ingest;

/// <summary>
/// Months of a fleet of 10,000 units sent as NDJSON by two senders, 10,000 rows a request, to a server that is a process of its own: does it
/// stay as fast, and does its memory stay as small, however much is there already? Takes some minutes and 10 GB on disk.
/// </summary>
internal static class LongIngestBenchmark
{
    private const int UsualRows = 20_000_000;
    private const int RowsPerRequest = 10_000;
    private const int Senders = 2;
    private const int WindowRows = 500_000;
    private const double MostMegabytes = 300;
    private const double LeastShareOfEarlyRate = 0.85;
    private static readonly TimeSpan Glance = TimeSpan.FromMilliseconds(500);

    /// <summary>Runs it.</summary>
    /// <param name="size">How many rows; the limits are meant for 20 million.</param>
    public static async Task RunAsync(int? size)
    {
        int rows = size ?? UsualRows;
        int window = Math.Min(WindowRows, rows / 8);
        await using ServerProcess server = await ServerProcess.StartAsync();
        // A day more in twenty, since the rows of a day are an estimate and none may lie ahead of the clock.
        var begin = new DateTimeOffset(TimeProvider.System.GetUtcNow().UtcDateTime.Date, TimeSpan.Zero).AddDays(-Math.Ceiling(rows / GatewayFleet.RowsPerDay * 1.05) - 2);
        GatewayFleet[] halves = [.. Enumerable.Range(0, Senders).Select(half => new GatewayFleet(half, begin))];
        await server.PutAsync(halves[0].Registry());
        var progress = new Progress(rows, window);
        using var done = new CancellationTokenSource();
        Task watching = WatchAsync(server, progress, done.Token);
        await Task.WhenAll(halves.Select(half => SendAsync(server, half, rows / Senders, progress)));
        await done.CancelAsync();
        await watching;
        double early = progress.Rate(window * 2);
        double late = progress.Rate(progress.Rows);
        Report.Line($"{progress.Rows} rows in {progress.Seconds:F0} s, {progress.Rows / progress.Seconds:F0} a second; {server.ProcessorSeconds * 1e6 / progress.Rows:F1} µs of processor a row; files {server.FileMegabytes:F0} MB");
        Report.Line($"over {window} rows: {early:F0} rows/s up to row {window * 2}, {late:F0} rows/s up to row {progress.Rows}");
        Report.Against("rate at the end, share of the early one", late / early, LeastShareOfEarlyRate, least: true);
        Report.Against("largest resident memory of the server, MB", progress.LargestMegabytes, MostMegabytes, least: false);
    }

    // The next request is written while this one is answered.
    private static async Task SendAsync(ServerProcess server, GatewayFleet half, int rows, Progress progress)
    {
        var ready = Channel.CreateBounded<byte[]>(2);
        Task writing = Task.Run(async () =>
        {
            for (int sent = 0; sent < rows; sent += RowsPerRequest)
            {
                await ready.Writer.WriteAsync(half.Next(RowsPerRequest));
            }
        }).ContinueWith(written => ready.Writer.Complete(written.Exception), TaskScheduler.Default);
        await foreach (byte[] body in ready.Reader.ReadAllAsync())
        {
            using var content = new ByteArrayContent(body);
            content.Headers.ContentType = new("application/x-ndjson");
            using HttpResponseMessage answer = await server.Client.PostAsync("/v1/records", content);
            string text = await answer.Content.ReadAsStringAsync();
            if (!text.StartsWith("{\"accepted\":10000,\"duplicate\":0,", StringComparison.Ordinal))
            {
                throw new InvalidOperationException(text[..Math.Min(500, text.Length)]);
            }

            progress.Add(RowsPerRequest);
        }

        await writing;
    }

    private static async Task WatchAsync(ServerProcess server, Progress progress, CancellationToken done)
    {
        int told = 0;
        double log = 0;
        (double processor, int toldRows) = (0, 0);
        while (!done.IsCancellationRequested)
        {
            progress.Holds(server.ResidentMegabytes);
            log = Math.Max(log, server.LogMegabytes);
            if (progress.Tenths > told)
            {
                told = progress.Tenths;
                Report.Line($"{progress.Rows} rows: {progress.Rate(progress.Rows):F0} rows/s, {server.ResidentMegabytes:F0} MB resident (largest {progress.LargestMegabytes:F0}), files {server.FileMegabytes:F0} MB, log at most {log:F0} MB; {(server.ProcessorSeconds - processor) * 1e6 / (progress.Rows - toldRows):F1} µs of processor a row");
                (processor, toldRows) = (server.ProcessorSeconds, progress.Rows);
            }

            await Task.Delay(Glance, done).ContinueWith(_ => { }, TaskScheduler.Default);
        }
    }

    /// <summary>When how many rows had been answered. Safe for concurrent use.</summary>
    private sealed class Progress(int goal, int window)
    {
        private readonly long _start = Stopwatch.GetTimestamp();
        private readonly ConcurrentDictionary<int, double> _secondsAt = new() { [0] = 0 };
        private int _rows;
        private double _largest;

        public int Rows => _rows;

        public double Seconds => _secondsAt[_rows];

        public int Tenths => (int)(10L * _rows / goal);

        public double LargestMegabytes => _largest;

        public void Add(int rows)
        {
            lock (_secondsAt)
            {
                _secondsAt[_rows + rows] = Stopwatch.GetElapsedTime(_start).TotalSeconds;
                _rows += rows;
            }
        }

        public void Holds(double megabytes) => _largest = Math.Max(_largest, megabytes);

        // Rows a second over the window that ends at a row, or from the begin on.
        public double Rate(int end)
        {
            int from = Math.Max(0, end - window) / RowsPerRequest * RowsPerRequest;
            return (end - from) / (At(end) - At(from));
        }

        private double At(int rows) => _secondsAt.TryGetValue(rows, out double seconds)
            ? seconds
            : throw new InvalidOperationException("Nothing was answered at row " + rows.ToString(CultureInfo.InvariantCulture) + ".");
    }
}
