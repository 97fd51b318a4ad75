using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.SecondProcess;

/// <summary>
/// Other processes work on the same file: a second server, import, rebuild and backup while both serve, and one that holds the lock for
/// long. Every record is there once; who has to wait too long is told 503 after the wait that is set, and nothing was stored.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class SecondProcessFault(FaultOptions options, Findings findings)
{
    private const int Senders = 2;
    private const int BusySeconds = 1;
    private const int ImportedRows = 400;
    private readonly string _file = Path.Combine(options.Folder!, "washwear.db");
    private int _shared;

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static Task RunAsync(FaultOptions options, Findings findings) => new SecondProcessFault(options, findings).RunAsync();

    private async Task RunAsync()
    {
        var random = new Random(options.Seed);
        var state = new LedgerState(_file);
        Sender[] senders =
        [
            .. Enumerable.Range(0, Senders).Select(number => new Sender(number, random.Next(), findings, state.SeqOf) { ExpectsRefusals = true }),
        ];
        string[] settings = ["--busy-timeout-seconds", BusySeconds.ToString(CultureInfo.InvariantCulture)];
        await using ServedProgram first = await ServedProgram.StartAsync(options, _file, settings);
        await using ServedProgram second = await ServedProgram.StartAsync(options, _file, settings);
        using HttpClient one = await first.ClientAsync();
        using HttpClient two = await second.ClientAsync();
        await Fleet.PutAsync(one);
        for (int round = 1; round <= options.Count; round++)
        {
            await using (new Running(senders, one, two))
            {
                await BothAsync(one, two, random);
                await CommandsAsync(random);
            }

            await HeldLockAsync(one, two);
            findings.Count("rounds with two servers, import, rebuild and a held lock");
        }

        await EndAsync(senders, one, first, second, new Truth(state, findings));
    }

    // The same rows through both servers at the same moment.
    private async Task BothAsync(HttpClient one, HttpClient two, Random random)
    {
        RowsPortion portion = NewRows("shared", random, 60);
        Task<HttpResponseMessage>[] sent = [portion.SendAsync(one), portion.SendAsync(two)];
        int accepted = 0;
        int answered = 0;
        foreach (HttpResponseMessage answer in await Task.WhenAll(sent))
        {
            string body = await answer.Content.ReadAsStringAsync();
            if (answer.StatusCode == HttpStatusCode.OK)
            {
                using JsonDocument told = JsonDocument.Parse(body);
                accepted += told.RootElement.GetProperty("accepted").GetInt32();
                answered++;
            }

            findings.Expect(answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.ServiceUnavailable, $"two servers: {(int)answer.StatusCode} {body}");
            answer.Dispose();
        }

        findings.Expect(answered == 0 || accepted == portion.Rows.Count, $"two servers: {accepted} of {portion.Rows.Count} rows accepted in sum");
        findings.Count("requests sent through both servers at once");
    }

    private async Task CommandsAsync(Random random)
    {
        string file = Path.Combine(options.Folder!, "rows.ndjson");
        RowsPortion rows = NewRows("import", random, ImportedRows);
        await File.WriteAllLinesAsync(file, rows.Rows.Select(row => row.Json));
        string backup = Path.Combine(options.Folder!, "backup.db");
        DatabaseCopy.Delete(backup);
        foreach (string[] command in (string[][])[["import", file, "--source", "import"], ["rebuild"], ["backup", backup], ["check"]])
        {
            CommandEnd end = await Processes.RunAsync(options, [.. command, "--database", _file]);
            findings.Expect(end.Code == 0, $"{command[0]} while two servers write: {end.All}");
            findings.Count("commands while two servers write");
        }

        CommandEnd restore = await Processes.RunAsync(options, "restore", backup, "--database", _file);
        findings.Expect(restore.Code == 1 && restore.Complaint.Contains("in use", StringComparison.Ordinal), "restore under two servers: " + restore.All);
    }

    private async Task HeldLockAsync(HttpClient one, HttpClient two)
    {
        await using var holder = new SqliteConnection($"Data Source={_file};Pooling=False");
        await holder.OpenAsync();
        await using SqliteTransaction held = holder.BeginTransaction(deferred: false);
        RowsPortion portion = NewRows("held", new Random(_shared), 5);
        foreach (HttpClient client in (HttpClient[])[one, two])
        {
            long start = Stopwatch.GetTimestamp();
            using HttpResponseMessage answer = await portion.SendAsync(client);
            double waited = Stopwatch.GetElapsedTime(start).TotalSeconds;
            findings.Expect(answer.StatusCode == HttpStatusCode.ServiceUnavailable && answer.Headers.RetryAfter is not null, $"a held lock: {(int)answer.StatusCode}");
            findings.Expect(waited is > BusySeconds - 0.5 and < BusySeconds + 5, string.Create(CultureInfo.InvariantCulture, $"a held lock: told after {waited:F1} s, set are {BusySeconds} s"));
            using HttpResponseMessage read = await client.GetAsync("/v1/records?limit=3");
            findings.Expect(read.IsSuccessStatusCode, $"reading under a held lock: {(int)read.StatusCode}");
            findings.Count("requests told 503 under a held lock");
        }

        await held.RollbackAsync();
        findings.Expect(new LedgerState(_file).Facts(portion.Source, string.Empty).Keys.All(key => portion.Rows.All(row => row.Key != key)), "stored under a held lock");
        using HttpResponseMessage again = await portion.SendAsync(one);
        findings.Expect(again.StatusCode == HttpStatusCode.OK, $"after a held lock: {(int)again.StatusCode}");
    }

    private async Task EndAsync(Sender[] senders, HttpClient client, ServedProgram first, ServedProgram second, Truth truth)
    {
        foreach (Sender sender in senders)
        {
            await sender.SettleAsync(client, tries: 20);
        }

        await first.StopAsync();
        await second.StopAsync();
        truth.LookAtAll(senders, "at the end");
        await ProjectionHashes.CompareWithRebuildAsync(options, DatabaseCopy.Of(_file, Path.Combine(options.Folder!, "copy.db")), "at the end", findings);
    }

    private RowsPortion NewRows(string source, Random random, int count)
    {
        var maker = new RowMaker(string.Create(CultureInfo.InvariantCulture, $"{source}-{_shared++:0000}-"), random);
        return new RowsPortion(source, [.. Enumerable.Range(0, count).Select(_ => maker.Next())], false, null);
    }
}
