using System.Text.Json.Nodes;
using Washwear.Api.Tests.House;

namespace Washwear.Api.Tests.Compatibility;

/// <summary>A client written against the released contract goes on working; and what finds a break is shown to find each kind.</summary>
public sealed class ReleasedContractTests
{
    private const string Units = "/v1/units";
    private const string Alerts = "/v1/alerts";
    private static readonly string Released = File.ReadAllText(Path.Combine(Repository.Root, "tests/Api.Tests/Data/openapi-v1.json"));

    /// <summary>Changes that would break a client, each with a piece of what must be said of it.</summary>
    public static TheoryData<string, string> Breaks => new()
    {
        { "path gone", "get /v1/units: is gone" },
        { "method gone", "put /v1/registry: is gone" },
        { "parameter gone", "parameter state is gone" },
        { "parameter required", "parameter state has become required" },
        { "parameter new and required", "parameter wanted is new and required" },
        { "parameter word gone", "is no longer taken" },
        { "parameter type", "parameter limit: its type was" },
        { "parameter bound", "parameter limit: maximum is 10" },
        { "status gone", "answer 404 is gone" },
        { "media type gone", "text/csv is gone" },
        { "response field gone", ".opened_at is gone" },
        { "response field optional", ".opened_at may now be left out" },
        { "response field null", ".opened_at: its type was string" },
        { "response field type", ".id: its type was" },
        { "request field required", ".reporting_hours has become required" },
        { "request field gone", ".serial is gone" },
        { "request field type", ".serial: its type was" },
    };

    /// <summary>Changes that break nobody.</summary>
    public static TheoryData<string> Additions => ["path", "parameter", "response field", "response word", "request field", "status", "request bound wider"];

    [Fact]
    public async Task No_client_of_the_released_contract_is_broken()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        JsonNode current = JsonNode.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"))!;

        IReadOnlyList<string> breaks = new ContractBreaks(JsonNode.Parse(Released)!, current).Find();

        Assert.True(breaks.Count == 0, string.Join('\n', breaks));
    }

    [Fact]
    public void The_released_contract_does_not_break_itself() =>
        Assert.Empty(new ContractBreaks(JsonNode.Parse(Released)!, JsonNode.Parse(Released)!).Find());

    [Theory]
    [MemberData(nameof(Breaks))]
    public void A_change_that_breaks_a_client_is_found(string change, string said)
    {
        JsonNode changed = JsonNode.Parse(Released)!;
        Break(changed, change);

        IReadOnlyList<string> breaks = new ContractBreaks(JsonNode.Parse(Released)!, JsonNode.Parse(changed.ToJsonString())!).Find();

        Assert.Contains(breaks, line => line.Contains(said, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Additions))]
    public void What_is_added_breaks_nobody(string addition)
    {
        JsonNode changed = JsonNode.Parse(Released)!;
        Add(changed, addition);

        Assert.Empty(new ContractBreaks(JsonNode.Parse(Released)!, JsonNode.Parse(changed.ToJsonString())!).Find());
    }

    private static void Break(JsonNode contract, string change)
    {
        JsonObject paths = contract["paths"]!.AsObject();
        JsonObject alerts = paths[Alerts]!["get"]!.AsObject();
        JsonObject alert = Schema(contract, "Alert");
        JsonObject unit = Schema(contract, "UnitResource");
        switch (change)
        {
            case "path gone": paths.Remove(Units); break;
            case "method gone": paths["/v1/registry"]!.AsObject().Remove("put"); break;
            case "parameter gone": alerts["parameters"]!.AsArray().Remove(Parameter(alerts, "state")); break;
            case "parameter required": Parameter(alerts, "state")["required"] = true; break;
            case "parameter new and required": alerts["parameters"]!.AsArray().Add(JsonNode.Parse("""{"name":"wanted","in":"query","required":true,"schema":{"type":"string"}}""")); break;
            case "parameter word gone": Parameter(alerts, "state")["schema"]!["enum"]!.AsArray().RemoveAt(0); break;
            case "parameter type": Parameter(alerts, "limit")["schema"]!["type"] = "boolean"; break;
            case "parameter bound": Parameter(alerts, "limit")["schema"]!["maximum"] = 10; break;
            case "status gone": paths["/v1/alerts/{id}/seen"]!["post"]!["responses"]!.AsObject().Remove("404"); break;
            case "media type gone": alerts["responses"]!["200"]!["content"]!.AsObject().Remove("text/csv"); break;
            case "response field gone": alert["properties"]!.AsObject().Remove("opened_at"); break;
            case "response field optional": Drop(alert["required"]!.AsArray(), "opened_at"); break;
            case "response field null": alert["properties"]!["opened_at"]!["type"] = new JsonArray("null", "string"); break;
            case "response field type": alert["properties"]!["id"]!["type"] = "string"; break;
            case "request field required": unit["required"]!.AsArray().Add("reporting_hours"); break;
            case "request field gone": unit["properties"]!.AsObject().Remove("serial"); break;
            case "request field type": unit["properties"]!["serial"]!["type"] = "integer"; break;
            default: throw new ArgumentOutOfRangeException(nameof(change), change, "Not a change.");
        }
    }

    private static void Add(JsonNode contract, string addition)
    {
        JsonObject alerts = contract["paths"]![Alerts]!["get"]!.AsObject();
        switch (addition)
        {
            case "path": contract["paths"]!["/v1/new"] = JsonNode.Parse("""{"get":{"responses":{"200":{}}}}"""); break;
            case "parameter": alerts["parameters"]!.AsArray().Add(JsonNode.Parse("""{"name":"wish","in":"query","schema":{"type":"string"}}""")); break;
            case "response field": Schema(contract, "Alert")["properties"]!["more"] = JsonNode.Parse("""{"type":"string"}"""); break;
            case "response word": Schema(contract, "AlertKind")["enum"]!.AsArray().Add("frozen"); break;
            case "request field": Schema(contract, "UnitResource")["properties"]!["colour"] = JsonNode.Parse("""{"type":"string"}"""); break;
            case "status": alerts["responses"]!["418"] = JsonNode.Parse("{}"); break;
            case "request bound wider": Parameter(alerts, "limit")["schema"]!.AsObject().Remove("minimum"); break;
            default: throw new ArgumentOutOfRangeException(nameof(addition), addition, "Not an addition.");
        }
    }

    private static JsonObject Schema(JsonNode contract, string name) => contract["components"]!["schemas"]![name]!.AsObject();

    private static JsonNode Parameter(JsonNode operation, string name) =>
        operation["parameters"]!.AsArray().First(parameter => (string?)parameter!["name"] == name)!;

    private static void Drop(JsonArray names, string name) => names.RemoveAt(names.ToList().FindIndex(one => (string?)one == name));
}
