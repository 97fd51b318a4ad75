using System.Globalization;
using System.Text;
using Microsoft.Data.Sqlite;
using Washwear.Faults.Served;
using Washwear.Faults.State;

namespace Washwear.Faults.Corrupt;

/// <summary>
/// Bytes of a database at rest change: anywhere in the file, or within texts, which the engine's own check cannot see. 'check' has to find
/// what changed in records, photos, refused rows and what is derived; 'salvage' saves what is still whole, and nothing else as whole.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class CorruptFault(FaultOptions options, Findings findings)
{
    private const int RoundsPerSalvage = 5;
    private const int MostBytes = 4;

    // What nobody hashed when it came: when a record was received, and all beside the ledger that is not derived from it.
    private static readonly string[] NotPromised =
    [
        "record.received_ms", "refused.", "visit_photo.", "operator", "site", "model", "unit.", "rule", "supplier", "part.", "stock_point", "plan_", "api_key",
        "sign_in_link", "alert", "webhook", "registry_version", "SchemaVersions", "sqlite_sequence", "early_sign.earlier", "early_sign.events_between",
        "cleaning_run.changed_seq",
    ];

    private static readonly string[] HashedAfterAll = ["refused.body", "visit_photo.body", "visit_photo.sha256", "refused.body_hash"];
    private static readonly string[] Texts = ["geprüft", "New pump", "by mistake", "Kim (invented)", "stopped_by_person", "intensive", "P/100-2", "OVEN-LOST"];
    private readonly Random _random = new(options.Seed);
    private readonly string _base = Path.Combine(options.Folder!, "base.db");
    private readonly string _copy = Path.Combine(options.Folder!, "copy.db");

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static Task RunAsync(FaultOptions options, Findings findings) => new CorruptFault(options, findings).RunAsync();

    private async Task RunAsync()
    {
        await FilledDatabase.MakeAsync(options, findings, _base, senders: 3, portions: 40);
        WholeDump whole = WholeDump.Of(_base);
        CommandEnd sound = await CheckAsync(_base);
        findings.Expect(sound.Code == 0, "a sound database is called damaged: " + sound.All);
        HashSet<string> records = [.. await SalvageAsync(_base, "sound")];
        for (int round = 1; round <= options.Count; round++)
        {
            string when = string.Create(CultureInfo.InvariantCulture, $"seed {options.Seed}, round {round}");
            DatabaseCopy.Delete(_copy);
            File.Copy(_base, _copy);
            string where = _random.Next(3) == 0 ? FlipText() : FlipAnywhere();
            await JudgeAsync(whole, when, where);
            if (round % RoundsPerSalvage == 0)
            {
                await SalvageAgainAsync(records, when);
            }
        }
    }

    private async Task JudgeAsync(WholeDump whole, string when, string where)
    {
        bool engineSees = EngineSees();
        CommandEnd check = await CheckAsync(_copy);
        findings.Expect(!check.All.Contains("   at ", StringComparison.Ordinal), $"{when}: check threw: {check.All}");
        if (check.Code != 0)
        {
            findings.Count($"{where}: found by check");
            findings.Count($"{where}: found by check, not by the engine's own", engineSees ? 0 : 1);
            return;
        }

        SortedSet<string> changed = whole.Differences(WholeDump.Of(_copy));
        if (changed.Count == 0)
        {
            findings.Count($"{where}: nothing that is stored changed");
            return;
        }

        foreach (string column in changed)
        {
            bool promised = HashedAfterAll.Contains(column) || !NotPromised.Any(start => column.StartsWith(start, StringComparison.Ordinal));
            findings.Expect(!promised, $"{when}: {column} changed and check says whole");
            findings.Count($"{where}: not found, in {column}");
        }
    }

    private bool EngineSees()
    {
        try
        {
            return new LedgerState(_copy).Integrity() != "ok";
        }
        catch (SqliteException)
        {
            return true;
        }
    }

    private string FlipAnywhere()
    {
        using var file = new FileStream(_copy, FileMode.Open, FileAccess.ReadWrite);
        long at = _random.NextInt64(file.Length - MostBytes);
        byte[] bytes = new byte[_random.Next(1, MostBytes)];
        file.Position = at;
        file.ReadExactly(bytes);
        for (int index = 0; index < bytes.Length; index++)
        {
            bytes[index] ^= (byte)_random.Next(1, 256);
        }

        file.Position = at;
        file.Write(bytes);
        return "anywhere";
    }

    // Another letter in a text that stands somewhere in the file.
    private string FlipText()
    {
        byte[] all = File.ReadAllBytes(_copy);
        byte[] text = Encoding.UTF8.GetBytes(Texts[_random.Next(Texts.Length)]);
        var places = new List<int>();
        for (int at = all.AsSpan().IndexOf(text); at >= 0;)
        {
            places.Add(at);
            int next = all.AsSpan(at + 1).IndexOf(text);
            at = next < 0 ? -1 : at + 1 + next;
        }

        if (places.Count == 0)
        {
            return FlipAnywhere();
        }

        all[places[_random.Next(places.Count)] + _random.Next(text.Length)] ^= 1;
        File.WriteAllBytes(_copy, all);
        return "in a text";
    }

    private Task<CommandEnd> CheckAsync(string file) => Processes.RunAsync(options, "check", "--database", file);

    private async Task<string[]> SalvageAsync(string file, string name)
    {
        string folder = Path.Combine(options.Folder!, "salvage-" + name);
        CommandEnd salvage = await Processes.RunAsync(options, "salvage", folder, "--database", file);
        if (salvage.Code != 0)
        {
            findings.Count("salvages that could not open the file");
            findings.Expect(salvage.Complaint.Length > 0 && !salvage.Complaint.Contains("   at ", StringComparison.Ordinal), "salvage without words: " + salvage.All);
            return [];
        }

        string[] lines = await File.ReadAllLinesAsync(Path.Combine(folder, "records.ndjson"));
        findings.Count("salvages");
        return lines;
    }

    private async Task SalvageAgainAsync(HashSet<string> records, string when)
    {
        string[] saved = await SalvageAsync(_copy, "again");
        findings.Count("records before damage", records.Count);
        findings.Count("records salvaged", saved.Length);
        findings.Expect(Array.TrueForAll(saved, records.Contains), $"{when}: salvage gives a record for whole that was never sent");
        if (saved.Length > 0)
        {
            await ImportAsync(saved.Length, when);
        }

        string folder = Path.Combine(options.Folder!, "salvage-again");
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // What was salvaged goes into a new database, unless the registry itself was damaged, which import then says.
    private async Task ImportAsync(int saved, string when)
    {
        string folder = Path.Combine(options.Folder!, "salvage-again");
        string fresh = Path.Combine(options.Folder!, "fresh.db");
        DatabaseCopy.Delete(fresh);
        CommandEnd registry = await Processes.RunAsync(options, "import", Path.Combine(folder, "registry.json"), "--database", fresh);
        CommandEnd records = await Processes.RunAsync(options, "import", Path.Combine(folder, "records.ndjson"), "--database", fresh);
        if (registry.Code != 0)
        {
            findings.Count("salvaged registries with damage in them");
            return;
        }

        string expected = string.Create(CultureInfo.InvariantCulture, $"Records: {saved} accepted");
        findings.Count(records.Out.StartsWith(expected, StringComparison.Ordinal) ? "salvages taken in whole" : "salvages taken in in part");
        CommandEnd check = await CheckAsync(fresh);
        findings.Expect(check.Code == 0, $"{when}: the new database: {check.All}");
    }
}
