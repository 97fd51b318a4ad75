using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Washwear.Faults.Served;
using Washwear.Faults.State;
using Washwear.Faults.Traffic;

namespace Washwear.Faults.Clock;

/// <summary>
/// The machine's clock jumps, back and ahead, by minutes to more than a year, while records come in. The order of acceptance stands, what lies
/// more than a day ahead of the clock is refused and kept and comes right later, people stay signed in or are asked to sign in again, pages
/// and lists are served, and nothing throws.
/// </summary>
/// <param name="options">How it is tried.</param>
/// <param name="findings">What it brings to light.</param>
internal sealed partial class ClockFault(FaultOptions options, Findings findings)
{
    private const string Library = "libfaketime.so.1";
    private static readonly int[] JumpsSeconds = [-60, 3_600, -3_600, -90_000, 90_000, -2_592_000, 7_776_000, 34_560_000, -7_776_000, 0];
    private static readonly TimeSpan LagOfTheLibrary = TimeSpan.FromMilliseconds(50);
    private static readonly string[] Pages = ["/", "/cleaning", "/alerts", "/planning", "/approvals", "/digest", "/failures", "/units/OVEN-00", "/v1/today", "/health/ready"];

    private static readonly string[] Places =
        ["/usr/lib/x86_64-linux-gnu/faketime/", "/usr/lib/aarch64-linux-gnu/faketime/", "/usr/lib64/faketime/", "/usr/local/lib/faketime/"];

    private readonly Random _random = new(options.Seed);
    private readonly string _file = Path.Combine(options.Folder!, "washwear.db");
    private readonly string _offset = Path.Combine(options.Folder!, "clock");
    private int _heartbeats;

    /// <summary>Tries it.</summary>
    /// <param name="options">How it is tried.</param>
    /// <param name="findings">What it brings to light.</param>
    public static async Task RunAsync(FaultOptions options, Findings findings)
    {
        string? named = Environment.GetEnvironmentVariable("FAKETIME_LIBRARY");
        string? library = named ?? Places.Select(place => place + Library).FirstOrDefault(File.Exists);
        if (library is null)
        {
            findings.Violate($"no evidence: {Library} (Debian's package libfaketime) moves the clock; install it, or name it in FAKETIME_LIBRARY");
            return;
        }

        await new ClockFault(options, findings).RunAsync(library);
    }

    private async Task RunAsync(string library)
    {
        await SetAsync(0);
        string[] wrapper =
        [
            "env", "LD_PRELOAD=" + library, "FAKETIME_TIMESTAMP_FILE=" + _offset, "FAKETIME_NO_CACHE=1", "FAKETIME_DONT_FAKE_MONOTONIC=1", "DONT_FAKE_MONOTONIC=1",
        ];
        Sender[] senders = FilledDatabase.Senders(options, findings, _file, 3);
        await using ServedProgram program = ServedProgram.Begin(options, _file, wrapper, "--alert-check-minutes", "1", "--webhook-poll-seconds", "1");
        using HttpClient client = await program.ClientAsync();
        await Fleet.PutAsync(client);
        using HttpClient person = await SignInAsync(program);
        await using (new Running(senders, client))
        {
            for (int round = 0; round < options.Count; round++)
            {
                int jump = JumpsSeconds[_random.Next(JumpsSeconds.Length)];
                await SetAsync(jump);
                await LookAsync(client, person, program, jump);
            }

            await SetAsync(0);
        }

        findings.Expect(!program.Told.Contains(" ERR ", StringComparison.Ordinal), "it logged an error: " + program.Told);
        await EndAsync(senders, client, program);
    }

    private async Task SetAsync(int seconds)
    {
        await File.WriteAllTextAsync(_offset, string.Create(CultureInfo.InvariantCulture, $"{(seconds < 0 ? "-" : "+")}{Math.Abs(seconds)}"));
        await Task.Delay(LagOfTheLibrary);
    }

    private async Task LookAsync(HttpClient client, HttpClient person, ServedProgram program, int jump)
    {
        string when = string.Create(CultureInfo.InvariantCulture, $"clock moved by {jump} s");
        findings.Expect(!program.HasEnded, $"{when}: the program ended: {program.Told}");
        await HeartbeatAsync(client, jump, when);
        foreach (string page in Pages)
        {
            using HttpResponseMessage answer = await client.GetAsync(page);
            findings.Expect(answer.IsSuccessStatusCode, $"{when}: {page} answers {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
            findings.Count("pages and lists with the clock moved");
        }

        using HttpResponseMessage own = await person.GetAsync("/cleaning");
        findings.Expect(own.StatusCode is HttpStatusCode.OK or HttpStatusCode.Found or HttpStatusCode.Unauthorized, $"{when}: a signed-in person: {(int)own.StatusCode}");
        findings.Count(own.StatusCode == HttpStatusCode.OK ? "signed-in people still in" : "signed-in people asked to sign in again");
        findings.Expect(own.StatusCode == HttpStatusCode.OK || jump > 13 * 86_400, $"{when}: a signed-in person was sent away within the time of the sign-in");
        using HttpClient again = await SignInAsync(program);
        findings.Count("sign-ins with the clock moved");
    }

    // What happens now by the real clock lies ahead of one that was moved back.
    private async Task HeartbeatAsync(HttpClient client, int jump, string when)
    {
        string at = TimeProvider.System.GetUtcNow().ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
        string json = JsonSerializer.Serialize(new { type = "heartbeat", key = string.Create(CultureInfo.InvariantCulture, $"now-{_heartbeats++:0000}"), unit = "OVEN-01", at });
        var portion = new RowsPortion("clock", [new Row("now", "heartbeat", json, string.Empty, null)], false, null);
        bool ahead = jump < -86_400;
        using HttpResponseMessage answer = await portion.SendAsync(client);
        using JsonDocument told = JsonDocument.Parse(await answer.Content.ReadAsStringAsync());
        int refused = answer.IsSuccessStatusCode ? told.RootElement.GetProperty("refused").GetInt32() : -1;
        findings.Expect(refused == (ahead ? 1 : 0), $"{when}: a record of now: {told.RootElement}");
        findings.Count(ahead ? "records refused because they lie ahead of the clock" : "records of now taken in with the clock moved");
        if (ahead)
        {
            await SetAsync(0);
            using HttpResponseMessage later = await portion.SendAsync(client);
            findings.Expect((await later.Content.ReadAsStringAsync()).Contains("\"accepted\":1", StringComparison.Ordinal), $"{when}: refused again with the clock set right");
            await SetAsync(jump);
        }
    }

    private async Task<HttpClient> SignInAsync(ServedProgram program)
    {
        var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = new CookieContainer() }) { BaseAddress = await program.ListensAsync() };
        string form = await client.GetStringAsync("/sign-in");
        var fields = new Dictionary<string, string> { ["key"] = ServedProgram.AdminKey };
        if (Token().Match(form) is { Success: true } token)
        {
            fields["__RequestVerificationToken"] = token.Groups[1].Value;
        }

        using HttpResponseMessage answer = await client.PostAsync("/sign-in/key", new FormUrlEncodedContent(fields));
        findings.Expect(answer.StatusCode is HttpStatusCode.SeeOther or HttpStatusCode.Found, $"signing in: {(int)answer.StatusCode}");
        return client;
    }

    private async Task EndAsync(Sender[] senders, HttpClient client, ServedProgram program)
    {
        foreach (Sender sender in senders)
        {
            await sender.SettleAsync(client, tries: 3);
        }

        await program.StopAsync();
        var state = new LedgerState(_file);
        new Truth(state, findings).LookAtAll(senders, "at the end");
        findings.Expect(state.Number("SELECT count(*) FROM refused WHERE source = 'clock'") == 0, "refused rows that came right are still listed");
        findings.Count("places where a later record has an earlier time of receipt", state.Number(
            "SELECT count(*) FROM record a JOIN record b ON b.seq = a.seq + 1 WHERE b.received_ms < a.received_ms"));
        CommandEnd check = await Processes.RunAsync(options, "check", "--database", _file);
        findings.Expect(check.Code == 0, "at the end: " + check.All);
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]*value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
