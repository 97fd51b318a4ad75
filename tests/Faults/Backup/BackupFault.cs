using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.Backup;

/// <summary>
/// Backups are taken while records come in: each is whole, holds all that was acknowledged before it began, and is the ledger up to some
/// number of it. At the end the last one takes the database's place, everything is sent again, and nothing is missing.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class BackupFault(FaultOptions options, Findings findings)
{
    private const int Senders = 3;
    private static readonly string[] Ledger = ["record", "wash", "fault", "fault_cleared", "part_change", "meter", "void", "visit", "approval", "condition"];
    private readonly string _file = Path.Combine(options.Folder!, "washwear.db");
    private readonly string _copy = Path.Combine(options.Folder!, "backup.db");

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static Task RunAsync(FaultOptions options, Findings findings) => new BackupFault(options, findings).RunAsync();

    private async Task RunAsync()
    {
        Sender[] senders = FilledDatabase.Senders(options, findings, _file, Senders);
        await using (ServedProgram program = await ServedProgram.StartAsync(options, _file))
        {
            using HttpClient client = await program.ClientAsync();
            await Fleet.PutAsync(client);
            await using (new Running(senders, client))
            {
                for (int round = 1; round <= options.Count; round++)
                {
                    await BackUpAsync(senders, string.Create(CultureInfo.InvariantCulture, $"backup {round}"));
                }
            }

            await program.StopAsync();
        }

        await RestoreAsync(senders);
    }

    private async Task BackUpAsync(Sender[] senders, string when)
    {
        DatabaseCopy.Delete(_copy);
        await Task.Delay(200);
        RowsPortion[][] before = [.. senders.Select(sender => sender.Acknowledged.ToArray().OfType<RowsPortion>().ToArray())];
        CommandEnd backup = await Processes.RunAsync(options, "backup", _copy, "--database", _file);
        findings.Expect(backup.Code == 0, $"{when}: {backup.All}");
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", _copy);
        findings.Expect(check.Code == 0, $"{when}: {check.All}");
        var copy = new LedgerState(_copy);
        foreach ((Sender sender, RowsPortion[] portions) in senders.Zip(before))
        {
            Dictionary<string, string> facts = copy.Facts(sender.Source, string.Empty);
            foreach (Row row in portions.Where(portion => portion.IsKept).SelectMany(portion => portion.Rows))
            {
                findings.Expect(facts.GetValueOrDefault(row.Key) == row.Facts, $"{when}: {sender.Source} {row.Key} is not in the backup");
                findings.Count("records acknowledged before a backup and found in it");
            }
        }

        long last = copy.Number("SELECT COALESCE(max(seq), 0) FROM record");
        findings.Expect(Hash(_copy, last) == Hash(_file, last), $"{when}: the backup is not the ledger up to {last}");
        findings.Count("backups");
        findings.Largest("records in the largest backup", last);
    }

    private static string Hash(string file, long last)
    {
        using SqliteConnection connection = new LedgerState(file).Open();
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (object[] row in Ledger.SelectMany(table =>
            LedgerState.Rows(connection, $"SELECT * FROM \"{table}\" WHERE seq <= @last ORDER BY seq", ("last", last))))
        {
            hash.AppendData(Encoding.UTF8.GetBytes(Row.Join(row.Select(value => value is byte[] bytes ? Convert.ToHexString(bytes) : value)) + "\n"));
        }

        return Convert.ToHexString(hash.GetHashAndReset());
    }

    private async Task RestoreAsync(Sender[] senders)
    {
        CommandEnd restore = await Processes.RunAsync(options, "restore", _copy, "--database", _file);
        findings.Expect(restore.Code == 0, "restore: " + restore.All);
        await using ServedProgram program = await ServedProgram.StartAsync(options, _file);
        using HttpClient client = await program.ClientAsync();
        foreach (Sender sender in senders)
        {
            await sender.SettleAsync(client, tries: 3);
            foreach (RowsPortion portion in sender.Acknowledged.OfType<RowsPortion>())
            {
                using HttpResponseMessage answer = await portion.SendAsync(client);
                string body = await answer.Content.ReadAsStringAsync();
                findings.Expect(answer.IsSuccessStatusCode && portion.Wrong(body) is null, $"sent again after the restore: {body}");
            }
        }

        new Truth(new LedgerState(_file), findings).LookAtNew(senders, "after the restore");
        await program.StopAsync();
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", _file);
        findings.Expect(check.Code == 0, "after the restore: " + check.All);
    }
}
