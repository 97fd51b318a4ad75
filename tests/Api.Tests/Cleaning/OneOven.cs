using System.Globalization;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Washwear.Api.Tests.Cleaning;

/// <summary>One oven at a site that trades every day from midnight to midnight UTC, heard once and never called silent; invented.</summary>
public sealed class OneOven : IAsyncDisposable
{
    private int _keys;

    private OneOven(ApiHost host) => Host = host;

    public ApiHost Host { get; }

    /// <summary>Starts the program with the oven in service from 1 March 2026 and no rule.</summary>
    public static async Task<OneOven> StartAsync(string now, double? hardness = null)
    {
        var oven = new OneOven(await ApiHost.StartAsync(At(now)));
        string water = hardness is { } mg ? string.Create(CultureInfo.InvariantCulture, $",\"water_hardness_mg_per_l\":{mg}") : string.Empty;
        await oven.PutAsync("/v1/operators/harbour", """{"name":"Harbour Kitchens (invented)"}""");
        await oven.PutAsync("/v1/sites/pier-4", $$"""{"operator":"harbour","name":"Pier 4","time_zone":"UTC"{{water}}}""");
        await oven.PutAsync("/v1/models/T10", """
            {"name":"Ten-tray oven","kind":"combi oven","positions":[],"faults":[],
             "programmes":[{"programme":"std","grade":"standard","minutes":90},{"programme":"int","grade":"intensive","minutes":150},
                           {"programme":"dsc","grade":"descale","minutes":60}]}
            """);
        await oven.PutAsync("/v1/units/OVEN-1", """{"site":"pier-4","model":"T10","commissioned_on":"2026-03-01","reporting_hours":8784}""");
        await oven.SendAsync("""{"type":"heartbeat","at":"2026-03-01T00:00:00Z"}""");
        return oven;
    }

    public static DateTimeOffset At(string text) => DateTimeOffset.Parse(text, CultureInfo.InvariantCulture);

    public async Task<JsonElement> PutAsync(string path, string body)
    {
        using HttpResponseMessage answer = await Host.Admin.PutAsync(path, new StringContent(body, Encoding.UTF8, "application/json"));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, path + ": " + text);
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Puts a rule; its basis text is 'says NAME'.</summary>
    public Task<JsonElement> RuleAsync(string code, string fields, string query = "") =>
        PutAsync($"/v1/rules/{code}{query}", $$"""{"basis":"says {{code}}",{{fields}}}""");

    /// <summary>Sends records about the oven.</summary>
    public async Task SendAsync(params string[] records)
    {
        string body = string.Concat(records.Select(record =>
        {
            var json = (JsonObject)JsonNode.Parse(record)!;
            (json["unit"], json["key"]) = ("OVEN-1", $"k{++_keys}");
            return json.ToJsonString() + "\n";
        }));
        using HttpResponseMessage answer = await Host.Admin.PostAsync(
            "/v1/records", new StringContent(body, Encoding.UTF8, "application/x-ndjson"));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.IsSuccessStatusCode, text);
        Assert.True(JsonDocument.Parse(text).RootElement.GetProperty("accepted").GetInt32() == records.Length, text);
    }

    public Task WashAsync(string grade, string from, string to) => SendAsync(
        $$"""{"type":"wash","grade":"{{grade}}","started_at":"{{from}}","ended_at":"{{to}}","outcome":"completed"}""");

    public Task<JsonElement> ComplianceAsync(string from, string to, string by = "unit") => Host.Admin.GetFromJsonAsync<JsonElement>(
        $"/v1/cleaning/compliance?from={from}&to={to}&by={by}");

    /// <summary>Rows of the status of now, by the code of the rule.</summary>
    public async Task<IReadOnlyDictionary<string, JsonElement>> StatusAsync() =>
        (await Host.Admin.GetFromJsonAsync<JsonElement>("/v1/cleaning/status")).GetProperty("rows").EnumerateArray()
        .ToDictionary(row => row.GetProperty("rule").GetString()!);

    public ValueTask DisposeAsync() => Host.DisposeAsync();

    /// <summary>A row as 'on time/due cause=hours ...', causes by name, for comparison with figures worked by hand.</summary>
    public static string Figures(JsonElement row) => string.Create(
        CultureInfo.InvariantCulture,
        $"{row.GetProperty("on_time").GetInt32()}/{row.GetProperty("due").GetInt32()} ")
        + string.Join(' ', row.GetProperty("hours_by_cause").EnumerateObject().OrderBy(cause => cause.Name, StringComparer.Ordinal)
            .Select(cause => string.Create(CultureInfo.InvariantCulture, $"{cause.Name}={Math.Round(cause.Value.GetDouble(), 9)}")));
}
