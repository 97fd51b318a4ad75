using System.Net;
using System.Text.Json;
using Washwear.Api.Commands;

namespace Washwear.Api.Tests.House;

/// <summary>The committed contract is what the program says of itself, and says it fully.</summary>
public sealed class ContractTests
{
    private static readonly string[] WithoutBody = ["post /v1/records/refused/{id}/discard"];

    [Fact]
    public async Task The_committed_contract_is_the_programs_own()
    {
        string committed = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "openapi.yaml"));

        Assert.True(
            committed == await WriteOpenApi.YamlAsync(CancellationToken.None),
            "openapi.yaml differs from the code: run 'dotnet run --project src/Api -- openapi openapi.yaml' and review the change.");
    }

    [Fact]
    public async Task Every_operation_has_a_summary_a_description_and_examples_and_every_field_a_description()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using JsonDocument document = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        var offenders = new List<string>();
        foreach (JsonProperty path in document.RootElement.GetProperty("paths").EnumerateObject())
        {
            foreach (JsonProperty method in path.Value.EnumerateObject())
            {
                offenders.AddRange(LacksOf(method.Name + " " + path.Name, method.Value));
            }
        }

        foreach (JsonProperty schema in document.RootElement.GetProperty("components").GetProperty("schemas").EnumerateObject())
        {
            offenders.AddRange(UndescribedFields(schema));
        }

        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task The_reference_page_is_served_from_here_alone_and_only_to_those_signed_in()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage stranger = await host.Stranger.GetAsync("/reference/index.html");
        Assert.Equal(HttpStatusCode.Unauthorized, stranger.StatusCode);

        string page = await host.Admin.GetStringAsync("/reference/index.html");
        Assert.Contains("swagger-ui", page, StringComparison.Ordinal);
        Assert.DoesNotContain("http://", page, StringComparison.Ordinal);
        Assert.DoesNotContain("https://", page, StringComparison.Ordinal);
    }

    private static IEnumerable<string> LacksOf(string name, JsonElement operation)
    {
        foreach (string field in new[] { "summary", "description" })
        {
            if (!operation.TryGetProperty(field, out JsonElement text) || string.IsNullOrWhiteSpace(text.GetString()))
            {
                yield return name + ": no " + field;
            }
        }

        if (operation.TryGetProperty("requestBody", out JsonElement request)
            && !request.GetProperty("content").GetProperty("application/json").TryGetProperty("example", out _))
        {
            yield return name + ": no example of its body";
        }

        bool answered = operation.GetProperty("responses").EnumerateObject().Any(response =>
            response.Value.TryGetProperty("content", out JsonElement content)
            && content.TryGetProperty("application/json", out JsonElement json) && json.TryGetProperty("example", out _));
        if (!answered && !WithoutBody.Contains(name))
        {
            yield return name + ": no example of its answer";
        }
    }

    // What it refers to says what it is.
    private static bool IsReference(JsonElement field) => field.TryGetProperty("$ref", out _) || field.TryGetProperty("oneOf", out _);

    private static IEnumerable<string> UndescribedFields(JsonProperty schema) =>
        schema.Value.TryGetProperty("properties", out JsonElement fields)
            ? fields.EnumerateObject().Where(field => !field.Value.TryGetProperty("description", out _) && !IsReference(field.Value))
                .Select(field => $"{schema.Name}.{field.Name}: no description")
            : [];
}
