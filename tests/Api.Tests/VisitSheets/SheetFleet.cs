using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using Washwear.Api.Tests.Ingest;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.VisitSheets;

/// <summary>
/// Three invented ovens: OVEN-1 and OVEN-2 of a model whose fault E21 comes from the pump (prior weight 6) or the hose (3), and OVEN-3 of
/// a model
/// that gives the same code another meaning. It is Monday 2 March 2026, 13:00 in Vienna.
/// </summary>
internal sealed class SheetFleet : IAsyncDisposable
{
    private const string Model = """
        {"name":"Ten-tray oven","kind":"combi oven",
         "positions":[
           {"position":"pump","name":"Wash pump","failure_modes":["seized"],"part_numbers":["P-1"],"companions":["hose"],"replace_minutes":40},
           {"position":"hose","name":"Pump hose","failure_modes":["torn"],"part_numbers":["H-1"],"replace_minutes":20},
           {"position":"burner","name":"Burner"}],
         "programmes":[],
         "faults":[{"code":"E21","text":"MEANING","locks_out_washing":true,
            "causes":[{"position":"pump","failure_mode":"seized","prior_weight":6},{"position":"hose","failure_mode":"torn","prior_weight":3}],
            "checks":[{"check":"turn-pump","text":"Turn the pump by hand","minutes":5,"positions":["pump"],
                       "chance_of_missing":0.1,"chance_of_false_alarm":0.05,"hazards":["electric","moving"]},
                      {"check":"bend:hose","text":"Bend the hose","minutes":10,"positions":["hose"],
                       "chance_of_missing":0.2,"chance_of_false_alarm":0.1,"hazards":["water"]}]},
           {"code":"E40","text":"The cavity stays cold","locks_out_cooking":true,"causes":[{"position":"burner","prior_weight":1}]},
           {"code":"E50","text":"No detergent"}]}
        """;

    private int _keys;

    private SheetFleet(ApiHost host) => Host = host;

    public ApiHost Host { get; }

    public static async Task<SheetFleet> StartAsync()
    {
        ApiHost host = await ApiHost.StartAsync(null, ("alert_check_minutes", "0"));
        foreach ((string path, string body) in new[]
        {
            ("/v1/operators/harbour", Samples.Operator), ("/v1/sites/pier-4", Samples.Site), ("/v1/rules/daily", Samples.Rule),
            ("/v1/models/A", Model.Replace("MEANING", "No water circulates", StringComparison.Ordinal)),
            ("/v1/models/B", Model.Replace("MEANING", "Door open", StringComparison.Ordinal)),
            ("/v1/units/OVEN-1", """{"site":"pier-4","model":"A","serial":"S/1","commissioned_on":"2023-05-01"}"""),
            ("/v1/units/OVEN-2", """{"site":"pier-4","model":"A","commissioned_on":"2023-05-01"}"""),
            ("/v1/units/OVEN-3", """{"site":"pier-4","model":"B","commissioned_on":"2023-05-01"}"""),
        })
        {
            using HttpResponseMessage answer = await Samples.PutAsync(host.Admin, path, body);
            Assert.True(answer.IsSuccessStatusCode, path + ": " + await answer.Content.ReadAsStringAsync());
        }

        return new SheetFleet(host);
    }

    /// <summary>Sends a record; gives its key.</summary>
    public async Task<string> SendAsync(string type, string at, string more, string unit = "OVEN-1")
    {
        string key = string.Create(CultureInfo.InvariantCulture, $"k{++_keys}");
        JsonElement answer = await Sending.SendAsync(
            Host.Admin, $$"""{"type":"{{type}}","key":"{{key}}","unit":"{{unit}}","at":"{{at}}",{{more}}}""");
        Sending.AssertCounts(answer, accepted: 1);
        return key;
    }

    /// <summary>A visit of two hours for E21.</summary>
    public Task<string> VisitAsync(string day, string outcome, string? findings, string unit = "OVEN-2", string more = "") => SendAsync(
        "visit", day + "T09:00:00Z",
        $"\"arrived_at\":\"{day}T09:00:00Z\",\"left_at\":\"{day}T11:00:00Z\",\"faults\":[\"e21\"],\"outcome\":\"{outcome}\""
        + (findings is null ? string.Empty : ",\"findings\":[" + findings + "]") + more,
        unit);

    /// <summary>Takes a record back.</summary>
    public async Task VoidAsync(string key) => Sending.AssertCounts(
        await Sending.SendAsync(Host.Admin, $$"""{"type":"void","key":"not-{{key}}","at":"2026-02-20T09:00:00Z","voids":"{{key}}","reason":"wrong oven"}"""),
        accepted: 1);

    public Task<JsonElement> SheetAsync(string query = "", string unit = "OVEN-1") =>
        Host.Admin.GetFromJsonAsync<JsonElement>($"/v1/units/{unit}/visit-sheet{query}");

    /// <summary>Probabilities by position; '-' is something else.</summary>
    public static Dictionary<string, double> Probabilities(JsonElement sheet) =>
        sheet.GetProperty("diagnosis").GetProperty("causes").EnumerateArray()
        .ToDictionary(cause => cause.GetProperty("position").GetString() ?? "-", cause => cause.GetProperty("probability").GetDouble());

    public ValueTask DisposeAsync() => Host.DisposeAsync();
}
