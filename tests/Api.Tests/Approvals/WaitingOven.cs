using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Approvals;

/// <summary>
/// A kitchen with two ovens that trades every day from midnight to midnight UTC, a wash due every day without grace. OVEN-1 is locked out since
/// 2 March 06:00 and waits for an approval since 13:00; OVEN-2 washes. It is 12 March, midnight. Invented.
/// </summary>
public sealed class WaitingOven : IAsyncDisposable
{
    public static readonly DateTimeOffset Now = new(2026, 3, 12, 0, 0, 0, TimeSpan.Zero);

    private WaitingOven(ApiHost host) => Host = host;

    public ApiHost Host { get; }

    public static async Task<WaitingOven> StartAsync(params (string Name, string Value)[] settings)
    {
        var oven = new WaitingOven(await ApiHost.StartAsync(Now, settings));
        await oven.PutAsync("/v1/operators/harbour", Samples.Operator);
        await oven.PutAsync("/v1/sites/pier-4", """{"operator":"harbour","name":"Pier 4","time_zone":"UTC"}""");
        await oven.PutAsync("/v1/models/T10", Samples.Model);
        foreach (string unit in new[] { "OVEN-1", "OVEN-2" })
        {
            await oven.PutAsync("/v1/units/" + unit, """{"site":"pier-4","model":"T10","commissioned_on":"2026-03-01","reporting_hours":8784}""");
        }

        await oven.PutAsync("/v1/rules/daily", """{"scope":{},"grade":"standard","every_trading_days":1,"grace_hours":0,"basis":"House rule 7"}""");
        await oven.SendAsync(
            Wash("OVEN-1", "w1", "2026-03-01T10:00:00Z", "2026-03-01T11:30:00Z"),
            Wash("OVEN-2", "w2", "2026-03-11T10:00:00Z", "2026-03-11T11:30:00Z"),
            """{"type":"fault","key":"f1","unit":"OVEN-1","at":"2026-03-02T06:00:00Z","code":"E21"}""",
            """
            {"type":"visit","key":"v1","unit":"OVEN-1","asked_at":"2026-03-02T09:00:00Z","arrived_at":"2026-03-02T12:00:00Z","left_at":"2026-03-02T13:00:00Z",
             "outcome":"waiting_approval","technician":"ann","faults":["E21"],"findings":[{"position":"wash-pump","failure_mode":"seized"}]}
            """,
            Asked("a1"));
        return oven;
    }

    public static string Asked(string key, string more = "") =>
        $$"""
        {"type":"approval","key":"{{key}}","source":"jobs","unit":"OVEN-1","asked_at":"2026-03-02T13:00:00Z","what":"Replace wash pump","amount":180.5,
         "fault_code":"E21"{{more}}}
        """;

    public static string Wash(string unit, string key, string from, string to, string outcome = "completed", string more = "") =>
        $$"""{"type":"wash","key":"{{key}}","unit":"{{unit}}","at":"{{from}}","ended_at":"{{to}}","grade":"standard","outcome":"{{outcome}}"{{more}}}""";

    public async Task SendAsync(params string[] records)
    {
        JsonElement answer = await Sending.SendAsync(Host.Admin, "[" + string.Join(',', records) + "]");
        Assert.True(answer.GetProperty("accepted").GetInt32() == records.Length, answer.ToString());
    }

    public async Task<JsonElement[]> ListAsync(string query = "") =>
        [.. (await Host.Admin.GetFromJsonAsync<JsonElement>("/v1/approvals" + query)).GetProperty("rows").EnumerateArray()];

    public async Task<long> OnlyOpenAsync() => Assert.Single(await ListAsync()).GetProperty("id").GetInt64();

    public Task<HttpResponseMessage> DecideAsync(long id, object body, HttpClient? client = null) =>
        (client ?? Host.Admin).PostAsJsonAsync($"/v1/approvals/{id}/decision", body);

    public async Task<JsonElement> GrantAsync(long id)
    {
        using HttpResponseMessage answer = await DecideAsync(id, new { decision = "granted", by = "area manager" });
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }

    public ValueTask DisposeAsync() => Host.DisposeAsync();

    private async Task PutAsync(string path, string body)
    {
        using HttpResponseMessage answer = await Samples.PutAsync(Host.Admin, path, body);
        Assert.True(answer.IsSuccessStatusCode, path + ": " + await answer.Content.ReadAsStringAsync());
    }
}
