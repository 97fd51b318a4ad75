using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Washwear.Api.Commands;
using Washwear.Api.Http;

namespace Washwear.Api.Tests.House;

/// <summary>The committed contract is what the program says of itself, and says it fully.</summary>
public sealed partial class ContractTests
{
    private static readonly string[] WithoutBody = ["post /v1/records/refused/{id}/discard", "delete /v1/webhooks/{webhook}", "delete /v1/people/{id}", "delete /v1/people/invitations/{id}", "delete /v1/keys/{key}", "delete /v1/sessions/{id}", "delete /v1/import/mappings/{mapping}", "delete /v1/links/{id}", "get /v1/visits/{key}/photos/{number}", "get /v1/plan/calendar.ics"];

    [Fact]
    public async Task The_committed_contract_is_the_programs_own()
    {
        string committed = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "openapi.yaml"));

        Assert.True(
            committed == await WriteOpenApi.YamlAsync(CancellationToken.None),
            "openapi.yaml differs from the code: run 'dotnet run --project src/Api -- openapi \"$PWD/openapi.yaml\"' and review the change.");
    }

    [Fact]
    public async Task Every_operation_has_a_summary_a_description_and_examples_and_every_field_a_description()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using JsonDocument document = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        List<string> offenders = [.. Operations(document).SelectMany(pair => LacksOf(pair.Name, pair.Operation))];
        foreach (JsonProperty schema in document.RootElement.GetProperty("components").GetProperty("schemas").EnumerateObject())
        {
            offenders.AddRange(UndescribedFields(schema));
        }

        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task Every_parameter_has_a_description_every_hole_of_a_path_its_parameter_and_every_problem_its_shape()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using JsonDocument document = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        var offenders = new List<string>();
        var ids = new HashSet<string>();
        foreach ((string name, JsonElement operation) in Operations(document))
        {
            JsonElement[] parameters = operation.TryGetProperty("parameters", out JsonElement list) ? [.. list.EnumerateArray()] : [];
            offenders.AddRange(parameters.Where(parameter => !parameter.TryGetProperty("description", out _))
                .Select(parameter => $"{name}: no description of {parameter.GetProperty("name")}"));
            string[] inPath = [.. parameters.Where(parameter => parameter.GetProperty("in").GetString() == "path").Select(parameter => parameter.GetProperty("name").GetString()!)];
            offenders.AddRange(Hole().Matches(name).Select(hole => hole.Groups[1].Value).Except(inPath).Select(hole => $"{name}: no parameter {hole}"));
            offenders.AddRange(operation.GetProperty("responses").EnumerateObject().Where(answer => answer.Name[0] is '4' or '5')
                .Where(answer => !answer.Value.GetProperty("content").GetProperty("application/problem+json").TryGetProperty("schema", out _))
                .Select(answer => $"{name}: no shape of {answer.Name}"));
            if (!ids.Add(operation.GetProperty("operationId").GetString()!))
            {
                offenders.Add(name + ": its operation id is used twice");
            }
        }

        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task Every_parameter_that_a_description_names_and_every_cursor_that_an_answer_gives_can_be_sent()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using JsonDocument document = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        JsonElement schemas = document.RootElement.GetProperty("components").GetProperty("schemas");
        var offenders = new List<string>();
        int named = 0;
        foreach ((string name, JsonElement operation) in Operations(document))
        {
            string[] declared = operation.TryGetProperty("parameters", out JsonElement list) ? [.. list.EnumerateArray().Select(one => one.GetProperty("name").GetString()!)] : [];
            string[] said = [.. Asked().Matches(operation.GetProperty("description").GetString()!).Select(match => match.Groups[1].Value)];
            named += said.Length;
            offenders.AddRange(said.Except(declared).Select(one => $"{name}: ?{one} is no parameter"));
            if (operation.GetProperty("responses").TryGetProperty("200", out JsonElement answer)
                && answer.TryGetProperty("content", out JsonElement content) && content.TryGetProperty("application/json", out JsonElement json)
                && json.GetProperty("schema").TryGetProperty("$ref", out JsonElement shape)
                && schemas.GetProperty(shape.GetString()!.Split('/')[^1]).TryGetProperty("properties", out JsonElement fields)
                && fields.TryGetProperty("next", out _) && !declared.Contains("after"))
            {
                offenders.Add($"{name}: gives a cursor and takes none");
            }
        }

        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
        Assert.True(named > 50);
    }

    [Fact]
    public async Task Every_example_of_an_answer_has_the_shape_of_the_answer()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        var offenders = new List<string>();
        int checkedExamples = 0;
        foreach (RouteEndpoint route in host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            Type? shape = route.Metadata.GetOrderedMetadata<IProducesResponseTypeMetadata>().FirstOrDefault(answer => answer.StatusCode == 200)?.Type;
            string path = route.RoutePattern.RawText!.Trim('/');
            string? method = route.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods[0];
            if (shape is not null && method is not null && ContractExamples.Response(method, path) is { } example)
            {
                checkedExamples++;
                offenders.AddRange(JsonShape.Check(JsonSerializer.SerializeToElement(example), shape)
                    .Select(problem => $"{method} {path}: {problem.Field} {problem.Rule}"));
            }
        }

        Assert.True(checkedExamples >= 20, $"only {checkedExamples} examples");
        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task Every_example_of_a_body_is_taken_by_the_program()
    {
        await using ApiHost host = await ApiHost.StartAsync(new DateTimeOffset(2026, 12, 1, 0, 0, 0, TimeSpan.Zero));
        using JsonDocument document = JsonDocument.Parse(await host.Admin.GetStringAsync("/openapi/v1.json"));
        var offenders = new List<string>();
        foreach ((string name, JsonElement operation) in Operations(document).OrderBy(pair => !pair.Name.EndsWith("/registry", StringComparison.Ordinal)))
        {
            // They decide an approval, change or erase a person, who must be there, or need a person's own sign-in; tests of approvals, of people, of
            // erasure and of preferences send such bodies.
            if (!operation.TryGetProperty("requestBody", out JsonElement body) || name.EndsWith("/decision", StringComparison.Ordinal)
                || name is "put /v1/people/{id}" or "put /v1/account/preferences" || name.EndsWith("/erasures", StringComparison.Ordinal))
            {
                continue;
            }

            JsonElement example = body.GetProperty("content").GetProperty("application/json").GetProperty("example");
            string[] methodAndPath = name.Split(' ');
            string path = Hole().Replace(methodAndPath[1], hole => example.GetProperty(hole.Groups[1].Value).GetString()!);
            using var request = new HttpRequestMessage(new HttpMethod(methodAndPath[0].ToUpperInvariant()), path)
            {
                Content = new StringContent(example.GetRawText(), System.Text.Encoding.UTF8, "application/json"),
            };
            using HttpResponseMessage answer = await host.Admin.SendAsync(request);
            if (!answer.IsSuccessStatusCode)
            {
                offenders.Add($"{name}: {await answer.Content.ReadAsStringAsync()}");
            }
        }

        Assert.True(offenders.Count == 0, string.Join('\n', offenders));
    }

    [Fact]
    public async Task The_reference_page_is_served_from_here_alone_and_only_to_those_signed_in()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        using HttpResponseMessage stranger = await host.Stranger.GetAsync("/reference/index.html");
        Assert.Equal(HttpStatusCode.Unauthorized, stranger.StatusCode);

        string page = await host.Admin.GetStringAsync("/reference");
        Assert.Contains("/reference/swagger-ui-bundle.js", page, StringComparison.Ordinal);
        Assert.DoesNotContain("http://", page, StringComparison.Ordinal);
        Assert.DoesNotContain("https://", page, StringComparison.Ordinal);
        Assert.True((await host.Admin.GetByteArrayAsync("/reference/swagger-ui-bundle.js")).Length > 0);
    }

    [Fact]
    public async Task From_the_reference_a_way_leads_back_to_every_page_and_its_old_address_leads_to_it()
    {
        await using ApiHost host = await ApiHost.StartAsync();
        string page = await host.Admin.GetStringAsync("/reference");
        Assert.Contains("<title>API reference · Washwear</title>", page, StringComparison.Ordinal);
        Assert.Contains("<a class=\"brand\" href=\"/\"", page, StringComparison.Ordinal);
        Assert.Contains("href=\"/cleaning\"", page, StringComparison.Ordinal);
        using HttpResponseMessage before = await host.Admin.GetAsync("/reference/index.html");
        Assert.Equal("/reference", before.Headers.Location?.OriginalString);
        using HttpResponseMessage stranger = await host.Stranger.GetAsync("/reference");
        Assert.Equal(HttpStatusCode.Unauthorized, stranger.StatusCode);
        using HttpResponseMessage file = await host.Stranger.GetAsync("/reference/swagger-ui.css");
        Assert.Equal(HttpStatusCode.Unauthorized, file.StatusCode);
    }

    private static IEnumerable<(string Name, JsonElement Operation)> Operations(JsonDocument document) =>
        document.RootElement.GetProperty("paths").EnumerateObject()
            .SelectMany(path => path.Value.EnumerateObject().Select(method => (method.Name + " " + path.Name, method.Value)));

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

    // A parameter of the operation itself: behind a path it is another one's.
    [GeneratedRegex(@"(?<![\w}])\?([a-z_]+)")]
    private static partial Regex Asked();

    [GeneratedRegex(@"\{([a-z_]+)[^}]*\}")]
    private static partial Regex Hole();
}
