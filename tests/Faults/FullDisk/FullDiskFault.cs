using System.Globalization;
using System.Net;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.FullDisk;

/// <summary>
/// The disk fills up while records come in: they are refused with a status that says to try again and words that say what to do, nothing
/// acknowledged is lost, nothing is half written, reading goes on, and so does writing once there is room.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class FullDiskFault(FaultOptions options, Findings findings)
{
    private const int Senders = 3;
    private const int RoundsPerDisk = 20;
    private const int MostBytesLeft = 2_000_000;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private static readonly string[] Reads = ["/v1/cleaning/status", "/v1/records?limit=5", "/v1/units/OVEN-00", "/", "/units/OVEN-00", "/health/ready"];
    private readonly Random _random = new(options.Seed);
    private int _full;

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static async Task RunAsync(FaultOptions options, Findings findings)
    {
        for (int done = 0; done < options.Count; done += RoundsPerDisk)
        {
            using SmallDisk disk = SmallDisk.Make(Path.Combine(options.Folder!, string.Create(CultureInfo.InvariantCulture, $"disk-{done}")));
            findings.Note("The disk is " + disk.Way);
            await new FullDiskFault(options with { Seed = options.Seed + done }, findings).RunAsync(disk, Math.Min(RoundsPerDisk, options.Count - done));
        }
    }

    private async Task RunAsync(SmallDisk disk, int rounds)
    {
        string file = Path.Combine(disk.Folder, "washwear.db");
        var state = new LedgerState(file);
        var truth = new Truth(state, findings);
        Sender[] senders =
        [
            .. Enumerable.Range(0, Senders).Select(number => new Sender(number, _random.Next(), findings, state.SeqOf)
            {
                ExpectsRefusals = true,
                Refused = Refused,
            }),
        ];
        ServedProgram program = await ServedProgram.StartAsync(options, file);
        using (HttpClient admin = await program.ClientAsync())
        {
            await Fleet.PutAsync(admin);
        }

        for (int round = 1; round <= rounds; round++)
        {
            string when = string.Create(CultureInfo.InvariantCulture, $"seed {options.Seed}, round {round}");
            program = await FillAsync(disk, program, file, senders, truth, when);
            findings.Count("times the disk was full");
        }

        await program.StopAsync();
        await program.DisposeAsync();
        truth.LookAtAll(senders, "at the end");
        string copy = DatabaseCopy.Of(file, Path.Combine(options.Folder!, "copy.db"));
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", copy);
        findings.Expect(check.Code == 0, $"check: {check.All}");
        await ProjectionHashes.CompareWithRebuildAsync(options, copy, "at the end", findings);
    }

    private async Task<ServedProgram> FillAsync(
        SmallDisk disk, ServedProgram program, string file, Sender[] senders, Truth truth, string when)
    {
        disk.Leave(_random.Next(MostBytesLeft), program.Pid);
        using (HttpClient client = await program.ClientAsync())
        {
            await SendUntilFullAsync(client, senders, when);
            await ReadAsync(client, when);
        }

        truth.LookAtNew(senders, when);
        if (_random.Next(3) == 0)
        {
            program = await KillAndRestartAsync(disk, program, file, when);
        }
        else
        {
            disk.MakeRoom(program.Pid);
        }

        using (HttpClient again = await program.ClientAsync())
        {
            foreach (Sender sender in senders)
            {
                await sender.SettleAsync(again, tries: 5);
            }
        }

        return program;
    }

    private async Task SendUntilFullAsync(HttpClient client, Sender[] senders, string when)
    {
        Volatile.Write(ref _full, 0);
        using var stop = new CancellationTokenSource();
        Task sending = Task.WhenAll(senders.Select(sender => Task.Run(() => sender.RunAsync(client, stop.Token))));
        using var patience = new CancellationTokenSource(Patience);
        while (Volatile.Read(ref _full) < 2 * Senders && !patience.IsCancellationRequested && !sending.IsCompleted)
        {
            await Task.Delay(10);
        }

        await stop.CancelAsync();
        await sending;
        findings.Expect(Volatile.Read(ref _full) > 0, $"{when}: the disk did not fill up, or nobody told");
    }

    private void Refused(Portion portion, HttpResponseMessage answer)
    {
        Interlocked.Increment(ref _full);
        string body = answer.Content.ReadAsStringAsync().Result;
        findings.Expect(answer.Headers.RetryAfter is not null, $"{(int)answer.StatusCode} without Retry-After");
        findings.Expect(
            answer.StatusCode != HttpStatusCode.InsufficientStorage || body.Contains("disk is full", StringComparison.Ordinal), $"no words of a full disk: {body}");
    }

    private async Task ReadAsync(HttpClient client, string when)
    {
        foreach (string path in Reads)
        {
            using HttpResponseMessage answer = await client.GetAsync(path);
            findings.Expect(answer.IsSuccessStatusCode, $"{when}: {path} with a full disk: {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
            findings.Count("reads with a full disk");
        }
    }

    // A start with a full disk is refused in words or goes well; nothing of it spoils the database.
    private async Task<ServedProgram> KillAndRestartAsync(SmallDisk disk, ServedProgram program, string file, string when)
    {
        await program.DisposeAsync();
        await using (ServedProgram full = ServedProgram.Begin(options, file, []))
        {
            try
            {
                await full.ListensAsync();
                findings.Count("starts with a full disk: served");
            }
            catch (InvalidOperationException)
            {
                findings.Count("starts with a full disk: refused in words");
                findings.Expect(full.Told.Contains("disk", StringComparison.Ordinal) && !full.Told.Contains("   at ", StringComparison.Ordinal), $"{when}: {full.Told}");
            }

            disk.MakeRoom(full.Pid);
        }

        return await ServedProgram.StartAsync(options, file);
    }
}
