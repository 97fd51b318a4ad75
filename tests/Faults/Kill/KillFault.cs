using System.Diagnostics;
using System.Globalization;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.Kill;

/// <summary>
/// SIGKILL at random moments while several senders send: what was acknowledged is there once, with its content; of a request without an
/// answer there are whole transactions or nothing; the projections are what a rebuild derives; 'check' says whole. One database lives
/// through many kills; each restart goes on from what the kill left.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
/// <param name="lane">Number of the lane, which has its own folder and seed.</param>
internal sealed class KillFault(FaultOptions options, Findings findings, int lane)
{
    private const int Senders = 4;
    private const int KillsPerDatabase = 100;
    private const int KillsPerRebuild = 25;
    private const int LongestMilliseconds = 1_000;
    private const int LongestWaitForLogMilliseconds = 300;
    private const int LongestAfterLogMilliseconds = 4;
    private const int OneStartInSoManyIsKilled = 12;
    private readonly Random _random = new(options.Seed ^ (lane * 7919));
    private readonly string _folder = Directory.CreateDirectory(Path.Combine(options.Folder!, $"kill-{lane}")).FullName;

    /// <summary>Runs the lanes.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static async Task RunAsync(FaultOptions options, Findings findings)
    {
        await Task.WhenAll(Enumerable.Range(0, options.Lanes).Select(lane =>
        {
            int kills = (options.Count / options.Lanes) + (lane < options.Count % options.Lanes ? 1 : 0);
            return Task.Run(() => new KillFault(options, findings, lane).RunAsync(kills));
        }));
        findings.Expect(findings["acknowledged records looked at"] > 0, "nothing was acknowledged before a kill: no evidence");
    }

    private async Task RunAsync(int kills)
    {
        for (int done = 0; done < kills; done += KillsPerDatabase)
        {
            await LiveThroughAsync(done, Math.Min(KillsPerDatabase, kills - done));
        }
    }

    private async Task LiveThroughAsync(int done, int kills)
    {
        string file = Path.Combine(_folder, string.Create(CultureInfo.InvariantCulture, $"washwear-{done}.db"));
        var state = new LedgerState(file);
        var truth = new Truth(state, findings);
        Sender[] senders =
        [
            .. Enumerable.Range(0, Senders).Select(number => new Sender(number, _random.Next(), findings, state.SeqOf) { SendsMany = true }),
        ];
        ServedProgram program = await ServedProgram.StartAsync(options, file);
        using (HttpClient admin = await program.ClientAsync())
        {
            await Fleet.PutAsync(admin);
        }

        for (int kill = 1; kill <= kills; kill++)
        {
            string when = string.Create(CultureInfo.InvariantCulture, $"lane {lane}, kill {done + kill}");
            await SendUntilKilledAsync(program, file, senders);
            if (kill % KillsPerRebuild == 0)
            {
                await CompareAsync(file, when);
            }

            program = await RestartAsync(file, when);
            truth.LookAtNew(senders, when);
            Tell(done + kill);
        }

        await EndAsync(program, file, senders, truth, string.Create(CultureInfo.InvariantCulture, $"lane {lane}, after kill {done + kills}"));
    }

    private async Task SendUntilKilledAsync(ServedProgram program, string file, Sender[] senders)
    {
        using HttpClient client = await program.ClientAsync();
        Task sending = Task.WhenAll(senders.Select(sender => Task.Run(() => sender.RunAsync(client, CancellationToken.None))));
        if (_random.Next(4) > 0)
        {
            await FirstAnswerAsync(senders, sending);
        }

        await Task.Delay(_random.Next(LongestMilliseconds));
        if (_random.Next(2) == 0)
        {
            await LogWrittenAsync(file + "-wal");
        }

        findings.Expect(!program.HasEnded, "the program ended by itself: " + program.Told);
        await program.DisposeAsync();
        await sending;
        findings.Count("kills while records came in");
    }

    // On a busy machine the first answer takes longer than the longest wait: most kills come after it.
    private static async Task FirstAnswerAsync(Sender[] senders, Task sending)
    {
        int before = senders.Sum(sender => sender.Acknowledged.Count);
        while (senders.Sum(sender => sender.Acknowledged.Count) == before && !sending.IsCompleted)
        {
            await Task.Delay(5);
        }
    }

    // Half of the kills fall into a commit, or between it and its answer.
    private async Task LogWrittenAsync(string log)
    {
        (long, DateTime) Now() => File.Exists(log) ? (new FileInfo(log).Length, File.GetLastWriteTimeUtc(log)) : default;
        (long, DateTime) before = Now();
        long start = Stopwatch.GetTimestamp();
        while (Now() == before && Stopwatch.GetElapsedTime(start).TotalMilliseconds < LongestWaitForLogMilliseconds)
        {
            await Task.Yield();
        }

        findings.Count("kills while the log was written");
        await Task.Delay(_random.Next(LongestAfterLogMilliseconds));
    }

    private async Task<ServedProgram> RestartAsync(string file, string when)
    {
        while (_random.Next(OneStartInSoManyIsKilled) == 0)
        {
            await using ServedProgram early = ServedProgram.Begin(options, file, []);
            await Task.Delay(_random.Next(LongestMilliseconds));
            findings.Count("kills while the program started");
        }

        try
        {
            return await ServedProgram.StartAsync(options, file);
        }
        catch (InvalidOperationException error)
        {
            throw new InvalidOperationException($"{when}: {error.Message}", error);
        }
    }

    // Before a restart could mend anything.
    private async Task CompareAsync(string file, string when)
    {
        string copy = DatabaseCopy.Of(file, Path.Combine(_folder, "copy.db"));
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", copy);
        findings.Expect(check.Code == 0, $"{when}: check: {check.All}");
        await ProjectionHashes.CompareWithRebuildAsync(options, copy, when, findings);
        if (findings.Violations.Count == 0)
        {
            DatabaseCopy.Delete(copy);
        }
    }

    private async Task EndAsync(ServedProgram program, string file, Sender[] senders, Truth truth, string when)
    {
        using (HttpClient client = await program.ClientAsync())
        {
            foreach (Sender sender in senders)
            {
                await sender.SettleAsync(client, tries: 3);
            }
        }

        await program.StopAsync();
        await program.DisposeAsync();
        truth.LookAtAll(senders, when);
        await CompareAsync(file, when);
        if (findings.Violations.Count == 0)
        {
            DatabaseCopy.Delete(file);
        }
    }

    private void Tell(int kill)
    {
        if (kill % KillsPerRebuild == 0)
        {
            options.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"lane {lane}: {kill} kills, {findings["acknowledged records looked at"]:N0} records looked at, {findings.Violations.Count} promises broken"));
        }
    }
}
