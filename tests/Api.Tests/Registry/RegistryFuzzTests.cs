using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;

namespace Washwear.Api.Tests.Registry;

/// <summary>Registry JSON with one thing after another made wrong: it is taken or refused, and nothing ever breaks.</summary>
public sealed class RegistryFuzzTests : IAsyncLifetime
{
    private const int Rounds = 400;
    private const int Seed = 20260302;
    private ApiHost _host = null!;

    public async Task InitializeAsync()
    {
        _host = await ApiHost.StartAsync();
        await Samples.PutAllAsync(_host.Admin);
    }

    public Task DisposeAsync() => _host.DisposeAsync().AsTask();

    [Fact]
    public async Task Spoilt_documents_are_taken_or_refused_with_reasons()
    {
        string whole = await _host.Admin.GetStringAsync("/v1/registry");
        var chance = new Random(Seed);
        int refused = 0;
        for (int round = 0; round < Rounds; round++)
        {
            JsonNode document = JsonNode.Parse(whole)!;
            for (int change = chance.Next(1, 4); change > 0; change--)
            {
                Spoil(document, chance);
            }

            string body = chance.Next(20) == 0 ? Cut(document.ToJsonString(), chance) : document.ToJsonString();
            using HttpResponseMessage answer = await Samples.PutAsync(_host.Admin, "/v1/registry", body);
            if (answer.StatusCode != HttpStatusCode.OK)
            {
                refused++;
                Assert.True(
                    answer.StatusCode == HttpStatusCode.BadRequest,
                    string.Create(CultureInfo.InvariantCulture, $"seed {Seed}, round {round}: {answer.StatusCode} for {body}"));
                await ProblemAssert.IsAsync(HttpStatusCode.BadRequest, answer);
            }
        }

        Assert.InRange(refused, Rounds / 2, Rounds - 1);
        string[] pages = ["/v1/registry", "/v1/units", "/v1/cleaning/status", "/v1/today", "/v1/units/OVEN-1"];
        foreach (string page in pages)
        {
            using HttpResponseMessage answer = await _host.Admin.GetAsync(page);
            Assert.True(answer.IsSuccessStatusCode, page + ": " + await answer.Content.ReadAsStringAsync());
        }
    }

    private static void Spoil(JsonNode document, Random chance)
    {
        JsonNode[] places = [.. Below(document).Where(node => node.Parent is not null)];
        JsonNode place = places[chance.Next(places.Length)];
        JsonNode? wrong = Wrong(chance);
        switch (place.Parent)
        {
            case JsonObject fields when chance.Next(3) == 0:
                fields.Remove(place.GetPropertyName());
                break;
            case JsonObject fields when chance.Next(4) == 0:
                fields[place.GetPropertyName() + "_"] = wrong;
                break;
            case JsonArray rows when chance.Next(3) == 0:
                rows.Add(place.DeepClone());
                break;
            default:
                place.ReplaceWith(wrong);
                break;
        }
    }

    private static JsonNode? Wrong(Random chance) => chance.Next(12) switch
    {
        0 => null,
        1 => JsonValue.Create(""),
        2 => JsonValue.Create(new string('x', chance.Next(60, 70))),
        3 => JsonValue.Create("\u0000\u202e"),
        4 => JsonValue.Create("2026-02-30"),
        5 => JsonValue.Create(chance.NextDouble() < 0.5 ? double.MaxValue : -1e-300),
        6 => JsonValue.Create(long.MinValue),
        7 => JsonValue.Create(chance.Next(2) == 0),
        8 => new JsonObject { ["a"] = 1 },
        9 => new JsonArray(1, "b", null),
        10 => JsonValue.Create("OVEN-1"),
        _ => JsonValue.Create("0001-01-01T00:00:00+14:00"),
    };

    private static IEnumerable<JsonNode> Below(JsonNode node) => node switch
    {
        JsonObject fields => fields.Where(field => field.Value is not null).SelectMany(field => Below(field.Value!)).Append(node),
        JsonArray rows => rows.Where(row => row is not null).SelectMany(row => Below(row!)).Append(node),
        _ => [node],
    };

    private static string Cut(string text, Random chance) => text[..chance.Next(text.Length)];
}
