using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.Stop;

/// <summary>
/// SIGTERM at random moments while several senders send: the program ends by itself with 0, within its time; no request gets a 5xx; what was
/// acknowledged is there once, with its content; the log of commits has been brought into the file. A request that is under way when the signal
/// comes is answered; one whose sender is too slow for that is cut off.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed class StopFault(FaultOptions options, Findings findings)
{
    private const int Senders = 4;
    private const int LongestMilliseconds = 1_500;
    private const int StopSeconds = 5;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(StopSeconds + 5);
    private readonly Random _random = new(options.Seed);

    /// <summary>Runs.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static async Task RunAsync(FaultOptions options, Findings findings)
    {
        var fault = new StopFault(options, findings);
        await fault.RunAsync();
        findings.Expect(findings["acknowledged records looked at"] > 0, "nothing was acknowledged before a stop: no evidence");
    }

    private async Task RunAsync()
    {
        string file = Path.Combine(options.Folder!, "washwear.db");
        var state = new LedgerState(file);
        var truth = new Truth(state, findings);
        Sender[] senders = [.. Enumerable.Range(0, Senders).Select(number => new Sender(number, _random.Next(), findings, state.SeqOf) { SendsMany = true })];
        for (int round = 1; round <= options.Count; round++)
        {
            string when = string.Create(CultureInfo.InvariantCulture, $"stop {round}");
            ServedProgram program = await ServedProgram.StartAsync(options, file, "--stop-seconds", StopSeconds.ToString(CultureInfo.InvariantCulture));
            await StopUnderLoadAsync(program, file, senders, round == 1, round % 2 == 0, when);
            truth.LookAtNew(senders, when);
        }

        CommandEnd check = await Processes.RunAsync(options, "check", "--database", file);
        findings.Expect(check.Code == 0, "after all stops: check: " + check.All);
    }

    private async Task StopUnderLoadAsync(ServedProgram program, string file, Sender[] senders, bool putFleet, bool withStuck, string when)
    {
        using HttpClient client = await program.ClientAsync();
        if (putFleet)
        {
            await Fleet.PutAsync(client);
        }

        Task sending = Task.WhenAll(senders.Select(sender => Task.Run(() => sender.RunAsync(client, CancellationToken.None))));
        await Task.Delay(_random.Next(200, LongestMilliseconds));
        using Socket slow = await BeginAsync(client.BaseAddress!, "slow", when);
        using Socket? stuck = withStuck ? await BeginAsync(client.BaseAddress!, "stuck", when) : null;
        long start = Stopwatch.GetTimestamp();
        Task stopping = program.StopAsync();
        await Task.Delay(500);
        await EndSlowAsync(slow, when);
        await stopping;
        TimeSpan took = Stopwatch.GetElapsedTime(start);
        await sending;
        findings.Expect(program.ExitCode == 0, $"{when}: exit code {program.ExitCode}: {program.Told}");
        findings.Expect(took < Longest, $"{when}: it took {took.TotalSeconds:F1} s");
        findings.Expect(!File.Exists(file + "-wal") || new FileInfo(file + "-wal").Length == 0, $"{when}: the log of commits was left: {program.Told}");
        findings.Count("stops under load");
        findings.Count(withStuck ? "stops with a request that never ends" : "stops in which every request could end");
        findings.Largest(withStuck ? "longest stop with a request that never ends, ms" : "longest stop in which every request could end, ms", (long)took.TotalMilliseconds);
        await program.DisposeAsync();
    }

    // A request whose head and first row have come when the signal comes.
    private static async Task<Socket> BeginAsync(Uri address, string kind, string when)
    {
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp);
        await socket.ConnectAsync(IPAddress.Loopback, address.Port);
        string row = Row(kind, when, 1);
        string head = $"POST /v1/records?source={kind} HTTP/1.1\r\nHost: {address.Authority}\r\nAuthorization: Bearer {ServedProgram.AdminKey}\r\n"
            + $"Content-Type: application/x-ndjson\r\nContent-Length: {row.Length * 2}\r\n\r\n";
        await socket.SendAsync(Encoding.ASCII.GetBytes(head + row));
        return socket;
    }

    private async Task EndSlowAsync(Socket socket, string when)
    {
        await socket.SendAsync(Encoding.ASCII.GetBytes(Row("slow", when, 2)));
        byte[] answer = new byte[4096];
        using var patience = new CancellationTokenSource(Longest);
        int read = await socket.ReceiveAsync(answer, patience.Token);
        string text = Encoding.ASCII.GetString(answer, 0, read);
        findings.Expect(text.StartsWith("HTTP/1.1 200", StringComparison.Ordinal), $"{when}: a request under way was answered '{text}'");
        findings.Count("requests that ended after the signal and were answered 200");
    }

    private static string Row(string kind, string when, int number) => string.Create(
        CultureInfo.InvariantCulture,
        $"{{\"type\":\"heartbeat\",\"key\":\"{kind} {when.PadLeft(12)} {number}\",\"unit\":\"{Fleet.Unit(0)}\",\"at\":\"2026-01-01T00:00:00Z\"}}\n");
}
