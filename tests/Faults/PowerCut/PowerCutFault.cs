using System.Globalization;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.PowerCut;

/// <summary>
/// The files of a database are copied while records come in, as a power cut, a snapshot or a careless copy would leave them. A copy of one
/// moment holds all that was acknowledged before; one that is torn is of an earlier moment, or 'check' says that it is damaged.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class PowerCutFault(FaultOptions options, Findings findings)
{
    private const int Senders = 3;
    private const int Sector = 512;
    private static readonly string[] Ways =
    [
        "of one moment", "of one moment without the -shm", "the log cut off", "the log's end zeroed", "a bit of the log flipped", "without the log",
        "file first, log later", "log first, file later",
    ];

    private readonly Random _random = new(options.Seed);
    private readonly string _file = Path.Combine(options.Folder!, "washwear.db");
    private readonly string _copy = Path.Combine(options.Folder!, "copy.db");

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static Task RunAsync(FaultOptions options, Findings findings) => new PowerCutFault(options, findings).RunAsync();

    private async Task RunAsync()
    {
        Sender[] senders = FilledDatabase.Senders(options, findings, _file, Senders);
        await using ServedProgram program = await ServedProgram.StartAsync(options, _file);
        using HttpClient client = await program.ClientAsync();
        await Fleet.PutAsync(client);
        for (int round = 0; round < options.Count; round++)
        {
            DatabaseCopy.Delete(_copy);
            int way = round % Ways.Length;
            int[] before;
            await using (new Running(senders, client))
            {
                await Task.Delay(_random.Next(100, 900));
                before = await CopyAsync(way, program, senders);
            }

            Spoil(way);
            await JudgeAsync(way, senders, before, string.Create(CultureInfo.InvariantCulture, $"seed {options.Seed}, copy {round + 1}, {Ways[way]}"));
        }
    }

    // Gives how many portions each sender had acknowledged before the copy began.
    private async Task<int[]> CopyAsync(int way, ServedProgram program, Sender[] senders)
    {
        bool oneMoment = !Ways[way].Contains("later", StringComparison.Ordinal);
        int[] before = [.. senders.Select(sender => sender.Acknowledged.Count)];
        if (oneMoment)
        {
            program.Signal("STOP");
        }

        string[] parts = Ways[way] switch
        {
            "of one moment" => ["", "-wal", "-shm"],
            "without the log" => [""],
            "log first, file later" => ["-wal", ""],
            _ => ["", "-wal"],
        };
        foreach (string part in parts.Where(part => File.Exists(_file + part)))
        {
            File.Copy(_file + part, _copy + part);
            await Task.Delay(oneMoment ? 0 : _random.Next(400));
        }

        if (oneMoment)
        {
            program.Signal("CONT");
        }

        return before;
    }

    private void Spoil(int way)
    {
        string log = _copy + "-wal";
        if (!File.Exists(log) || new FileInfo(log).Length == 0)
        {
            return;
        }

        using var file = new FileStream(log, FileMode.Open, FileAccess.ReadWrite);
        long at = _random.NextInt64(file.Length);
        switch (Ways[way])
        {
            case "the log cut off":
                file.SetLength(at);
                break;
            case "the log's end zeroed":
                long length = file.Length;
                file.SetLength(at / Sector * Sector);
                file.SetLength(length);
                break;
            case "a bit of the log flipped":
                file.Position = at;
                int was = file.ReadByte();
                file.Position = at;
                file.WriteByte((byte)(was ^ (1 << _random.Next(8))));
                break;
        }
    }

    private async Task JudgeAsync(int way, Sender[] senders, int[] before, string when)
    {
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", _copy);
        findings.Expect(!check.All.Contains("   at ", StringComparison.Ordinal), $"{when}: check threw: {check.All}");
        bool promised = Ways[way].StartsWith("of one moment", StringComparison.Ordinal);
        if (check.Code != 0)
        {
            findings.Count($"copies {Ways[way]}: told damaged");
            findings.Expect(!promised, $"{when}: {check.All}");
            return;
        }

        var state = new LedgerState(_copy);
        bool all = true;
        foreach ((Sender sender, int acknowledged) in senders.Zip(before))
        {
            int whole = WholePortions(sender, state.Facts(sender.Source, string.Empty), when);
            int expected = sender.Acknowledged.Take(acknowledged).OfType<RowsPortion>().Count(portion => portion.IsKept);
            all &= whole >= expected;
            findings.Expect(!promised || whole >= expected, $"{when}: {sender.Source}: {whole} of {expected} acknowledged requests are there");
        }

        findings.Count($"copies {Ways[way]}: whole, {(all ? "all there" : "of an earlier moment")}");
    }

    // A copy that is called whole is the state after some commit: requests as wholes, none without those before it.
    private int WholePortions(Sender sender, Dictionary<string, string> facts, string when)
    {
        RowsPortion[] portions = [.. sender.Acknowledged.OfType<RowsPortion>().Where(portion => portion.IsKept)];
        int whole = 0;
        bool ended = false;
        foreach (RowsPortion portion in portions)
        {
            int there = portion.Rows.Count(row => facts.GetValueOrDefault(row.Key) == row.Facts);
            findings.Expect(there == 0 || there == portion.Rows.Count, $"{when}: {sender.Source}: {there} of {portion.Rows.Count} rows of a request, and check says whole");
            findings.Expect(there == 0 || !ended, $"{when}: {sender.Source}: a request is there without the one before it, and check says whole");
            ended |= there == 0;
            whole += there == 0 ? 0 : 1;
        }

        return whole;
    }
}
