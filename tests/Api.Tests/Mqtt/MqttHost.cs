using System.Text.Json;
using Washwear.Api.Tests.Registry;

namespace Washwear.Api.Tests.Mqtt;

/// <summary>The program, with a broker that it listens to.</summary>
internal static class MqttHost
{
    public const string ClientId = "washwear-test";

    /// <summary>A mapping with one topic a format.</summary>
    public const string Mapping = """
        {
          "source": "gateway",
          "subscriptions": [
            { "topic": "kitchens/{site}/{unit}/record", "payload": "record" },
            { "topic": "kitchens/{site}/{unit}/wash", "payload": "json", "records": [
              { "type": "wash", "unit": { "level": "unit" }, "at": { "path": "/began", "time": "epoch_s" },
                "key": [ { "level": "unit" }, { "path": "/cycle" } ],
                "fields": {
                  "ended_at": { "path": "/ended", "time": "epoch_s", "optional": true },
                  "grade": { "constant": "standard" },
                  "outcome": { "path": "/result", "map": { "0": "completed", "1": "stopped_by_person", "*": "unknown" } } } },
              { "type": "fault", "when": { "value": { "path": "/fault" }, "is": [ "P1" ] }, "unit": { "level": "unit" }, "at": { "path": "/began", "time": "epoch_s" },
                "fields": { "code": { "path": "/fault", "map": { "P1": "E21" } } } } ] },
            { "topic": "serials/{serial}/hours", "payload": "number", "records": [
              { "type": "meter", "unit": { "level": "serial", "by": "serial" }, "fields": { "operating_hours_total": { "payload": true, "multiply": 0.5 } } } ] },
            { "topic": "alive/{unit}", "payload": "text", "records": [ { "type": "heartbeat", "unit": { "level": "unit" } } ] }
          ]
        }
        """;

    /// <summary>Starts the program with the sample registry, and waits until it listens.</summary>
    public static async Task<ApiHost> StartAsync(Broker broker, string mapping = Mapping, params (string Name, string Value)[] settings)
    {
        ApiHost host = await ApiHost.StartAsync(settings: [.. await SettingsAsync(broker, mapping), .. settings]);
        await Samples.PutAllAsync(host.Admin);
        await Until.TrueAsync(async () => (await StatusAsync(host)).GetProperty("state").GetString() == "connected", "the program is connected to the broker");
        return host;
    }

    /// <summary>The settings of a program that listens to a broker.</summary>
    public static async Task<(string Name, string Value)[]> SettingsAsync(Broker broker, string mapping)
    {
        string file = Path.Combine(broker.Folder, "mapping.json");
        await File.WriteAllTextAsync(file, mapping);
        return [("mqtt_host", "127.0.0.1"), ("mqtt_port", broker.Port.ToString(System.Globalization.CultureInfo.InvariantCulture)), ("mqtt_client_id", ClientId), ("mqtt_mapping", file)];
    }

    /// <summary>What the program says of its intake, which never makes it unhealthy.</summary>
    public static async Task<JsonElement> StatusAsync(ApiHost host)
    {
        using HttpResponseMessage answer = await host.Stranger.GetAsync("/health/live");
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement.GetProperty("mqtt");
    }

    /// <summary>Waits until so many messages were dealt with, and gives the account.</summary>
    public static async Task<JsonElement> AfterAsync(ApiHost host, int messages)
    {
        await Until.TrueAsync(async () => (await StatusAsync(host)).GetProperty("messages").GetInt32() >= messages, $"{messages} messages were dealt with");
        return await StatusAsync(host);
    }

    /// <summary>The records taken in, in the order of acceptance.</summary>
    public static async Task<JsonElement[]> RecordsAsync(ApiHost host) =>
        [.. JsonDocument.Parse(await host.Admin.GetStringAsync("/v1/records?limit=1000")).RootElement.GetProperty("items").EnumerateArray()];

    /// <summary>The rows that were refused.</summary>
    public static async Task<JsonElement[]> RefusedAsync(ApiHost host) =>
        [.. JsonDocument.Parse(await host.Admin.GetStringAsync("/v1/records/refused")).RootElement.GetProperty("items").EnumerateArray()];
}
