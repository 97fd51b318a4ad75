using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.ReadOnly;

/// <summary>
/// The file and its folder may only be read: from the start, by permissions or by the mount, or from one moment on while it is served. What
/// cannot be done is said in words, nothing of the file changes, reading goes on where it was served before, and so does writing afterwards.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class ReadOnlyFault(FaultOptions options, Findings findings)
{
    private const int Nobody = 65534;
    private static readonly string[] AsNobody = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"];
    private static readonly string[] Reads = ["/v1/cleaning/status", "/v1/records?limit=5", "/units/OVEN-00", "/"];

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static async Task RunAsync(FaultOptions options, Findings findings)
    {
        for (int round = 1; round <= options.Count; round++)
        {
            var fault = new ReadOnlyFault(options with { Seed = options.Seed + round }, findings);
            string folder = Directory.CreateDirectory(Path.Combine(options.Folder!, string.Create(CultureInfo.InvariantCulture, $"round-{round}"))).FullName;
            await fault.ByPermissionAsync(Path.Combine(folder, "permission"));
            await fault.ByMountAsync(Path.Combine(folder, "mount"));
            await fault.WhileServedAsync(Path.Combine(folder, "served"));
        }

        findings.Expect(findings["commands on a file that may only be read"] > 0, "this machine let nothing be made read-only: no evidence");
    }

    private async Task ByPermissionAsync(string folder)
    {
        string file = await FillAsync(folder);
        foreach (string each in Directory.EnumerateFiles(folder))
        {
            Shell.Try("chmod", "0444", each);
        }

        Shell.Try("chmod", "0555", folder);
        bool root = Environment.UserName == "root";
        if (root)
        {
            OpenTheWay(folder);
        }

        if (!root || (await Processes.RunAsync(options, AsNobody, "--version")).Code == 0)
        {
            await TryAllAsync(file, root ? AsNobody : [], root ? "as user nobody" : "by its permissions");
        }
        else
        {
            findings.Note($"user {Nobody} may not run the program here, so permissions were not tried");
        }

        Shell.Try("chmod", "0755", folder);
    }

    // Another user has to get through to it: a temporary folder is its maker's own.
    private void OpenTheWay(string folder)
    {
        for (string? above = Path.GetDirectoryName(folder); above is not null && above.StartsWith(options.Folder!, StringComparison.Ordinal); above = Path.GetDirectoryName(above))
        {
            Shell.Try("chmod", "0755", above);
        }
    }

    private async Task ByMountAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        if (!Shell.Try("mount", "-t", "tmpfs", "-o", "size=64m", "washwear-faults", folder))
        {
            findings.Note("no file system may be mounted here, so a mount that is read-only was not tried");
            return;
        }

        try
        {
            string file = await FillAsync(folder);
            if (Shell.Try("mount", "-o", "remount,ro", folder))
            {
                await TryAllAsync(file, [], "by its mount");
            }
        }
        finally
        {
            Shell.Try("umount", folder);
        }
    }

    private async Task<string> FillAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        string file = Path.Combine(folder, "washwear.db");
        await FilledDatabase.MakeAsync(options, findings, file, senders: 2, portions: 6);
        return file;
    }

    private async Task TryAllAsync(string file, string[] wrapper, string how)
    {
        string before = HashOf(file);
        string copy = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        foreach (string[] command in (string[][])
            [["serve", "--urls", options.Url, "--log-level", "warning"], ["check"], ["rebuild"], ["backup", copy]])
        {
            CommandEnd end = await Processes.RunAsync(options, wrapper, [.. command, "--database", file]);
            findings.Count("commands on a file that may only be read");
            findings.Count($"read-only {how}: {command[0]} {(end.Code == 0 ? "did its work" : "said in words that it cannot")}");
            findings.Expect(
                end.Code == 0 || (end.Code == 1 && end.Complaint.Length > 20 && !end.All.Contains("   at ", StringComparison.Ordinal)),
                $"read-only {how}: {command[0]} ended with {end.Code}: {end.All}");
            findings.Expect(end.Code != 0 || command[0] is "check" or "backup", $"read-only {how}: {command[0]} says that it did its work");
        }

        findings.Expect(HashOf(file) == before, $"read-only {how}: the file changed");
        File.Delete(copy);
    }

    private static string HashOf(string file) => Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(file)));

    private async Task WhileServedAsync(string folder)
    {
        Directory.CreateDirectory(folder);
        string file = Path.Combine(folder, "washwear.db");
        Sender[] senders = FilledDatabase.Senders(options, findings, file, 2);
        await using ServedProgram program = await ServedProgram.StartAsync(options, file);
        using HttpClient client = await program.ClientAsync();
        await Fleet.PutAsync(client);
        await senders[1].RunAsync(client, portions: 5);
        // Not the index of the log, which is memory shared by processes: the system ends one that writes to it and may not.
        string[] parts = [file, file + "-wal"];
        if (!Shell.Try("chattr", ["+i", .. parts]))
        {
            findings.Note("no file may be made immutable here, so turning read-only while it is served was not tried");
            return;
        }

        try
        {
            await TryServedAsync(client);
        }
        finally
        {
            Shell.Try("chattr", ["-i", .. parts]);
        }

        await senders[1].RunAsync(client, portions: 5);
        new Truth(new LedgerState(file), findings).LookAtAll([senders[1]], "after it could be written again");
        await program.StopAsync();
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", file);
        findings.Expect(check.Code == 0, "after it could be written again: " + check.All);
    }

    private async Task TryServedAsync(HttpClient client)
    {
        var maker = new RowMaker("refused-", new Random(options.Seed));
        using HttpResponseMessage write = await new RowsPortion("nobody", [maker.Next(), maker.Next()], false, null).SendAsync(client);
        string body = await write.Content.ReadAsStringAsync();
        findings.Expect(
            write.StatusCode == HttpStatusCode.ServiceUnavailable && write.Headers.RetryAfter is not null && body.Contains("disk", StringComparison.Ordinal),
            $"writing what turned read-only: {(int)write.StatusCode} {body}");
        findings.Count("requests told 503 because the file turned read-only");
        foreach (string path in Reads)
        {
            using HttpResponseMessage read = await client.GetAsync(path);
            findings.Expect(read.IsSuccessStatusCode, $"reading {path} of what turned read-only: {(int)read.StatusCode}");
            findings.Count("reads of a file that turned read-only");
        }
    }
}
