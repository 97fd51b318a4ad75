using System.Text.Json;
using System.Text.RegularExpressions;

namespace Washwear.Api.Tests.Guides;

/// <summary>Every request of the guide of the API, run by curl against a real server, in the guide's order; each answer holds what the guide shows.</summary>
public sealed class ApiGuideTests
{
    private const string Anything = "…";

    [Fact]
    public async Task Every_request_of_the_guide_is_answered_as_the_guide_shows()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        var variables = new Dictionary<string, string>
        {
            ["WASHWEAR"] = host.Address.ToString().TrimEnd('/'),
            ["KEY"] = host.Admin.DefaultRequestHeaders.Authorization!.Parameter!,
        };
        foreach (CurlBlock block in CurlBlock.All())
        {
            (int status, string answer) = await block.RunAsync(variables, host.Folder);

            Assert.True(status == block.Status, $"{block.Command}\n{status} instead of {block.Status}: {answer}");
            string[] differences = [.. block.Language == "json" ? Differences(block.Shown, answer) : Missing(block.Shown, answer)];
            Assert.True(differences.Length == 0, $"{block.Command}\n{string.Join('\n', differences)}\nin {answer}");
            foreach ((string name, string field) in block.Kept)
            {
                variables[name] = JsonDocument.Parse(answer).RootElement.GetProperty(field).GetString()!;
            }
        }
    }

    [Fact]
    public void The_guide_goes_from_a_key_to_records_in_three_forms_to_answers_and_errors()
    {
        string all = string.Join('\n', CurlBlock.All().Select(block => block.Command));

        Assert.All(
            new[] { "/v1/keys", "/v1/registry", "application/json", "application/x-ndjson", "text/csv", "/v1/cleaning/status", "/v1/part-life/", "/v1/plan/", "Idempotency-Key" },
            part => Assert.Contains(part, all, StringComparison.Ordinal));
        Assert.Contains(CurlBlock.All(), block => block.Status == 400);
    }

    [Theory]
    [InlineData("""{"a": 1}""", """{"a": 1, "b": 2}""", true)]
    [InlineData("""{"a": "…"}""", """{"a": "what may be"}""", true)]
    [InlineData("""{"a": [{"b": 1}]}""", """{"a": [{"b": 1, "c": 2}]}""", true)]
    [InlineData("""{"a": 1}""", """{"a": 2}""", false)]
    [InlineData("""{"a": 1}""", """{"b": 1}""", false)]
    [InlineData("""{"a": []}""", """{"a": [1]}""", false)]
    [InlineData("""{"a": "…"}""", """{"a": null}""", false)]
    public void The_comparison_finds_what_differs(string shown, string answer, bool same) => Assert.Equal(same, !Differences(shown, answer).Any());

    private static IEnumerable<string> Differences(string shown, string answer)
    {
        using JsonDocument expected = JsonDocument.Parse(shown);
        using JsonDocument actual = JsonDocument.Parse(answer);
        return [.. Differences("", expected.RootElement, actual.RootElement)];
    }

    private static IEnumerable<string> Differences(string at, JsonElement shown, JsonElement answered) => (shown.ValueKind, answered.ValueKind) switch
    {
        (JsonValueKind.Object, JsonValueKind.Object) => shown.EnumerateObject().SelectMany(field => answered.TryGetProperty(field.Name, out JsonElement value)
            ? Differences($"{at}/{field.Name}", field.Value, value)
            : [$"{at}/{field.Name} is not there"]),
        (JsonValueKind.Array, JsonValueKind.Array) => shown.GetArrayLength() == answered.GetArrayLength()
            ? shown.EnumerateArray().Zip(answered.EnumerateArray()).SelectMany((pair, i) => Differences($"{at}/{i}", pair.First, pair.Second))
            : [$"{at} has {answered.GetArrayLength()} entries, not {shown.GetArrayLength()}"],
        (JsonValueKind.String, JsonValueKind.String) when shown.GetString() == Anything => [],
        _ => JsonElement.DeepEquals(shown, answered) ? [] : [$"{at} is {answered}, not {shown}"],
    };

    // Each line that is shown is a line of the answer, with anything where the guide has dots.
    private static IEnumerable<string> Missing(string shown, string answer) => shown.Split('\n', StringSplitOptions.RemoveEmptyEntries)
        .Where(line => !answer.ReplaceLineEndings("\n").Split('\n').Any(one => Regex.IsMatch(one, "^" + Regex.Escape(line).Replace(Anything, ".*", StringComparison.Ordinal) + "$")))
        .Select(line => "No line as " + line);
}
