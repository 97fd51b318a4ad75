using System.Text.Json;

namespace Washwear.Fuzz;

/// <summary>A parameter of an operation.</summary>
/// <param name="Name">Name.</param>
/// <param name="In">path, query or header.</param>
/// <param name="Words">The words that it may be; empty: anything.</param>
public sealed record Parameter(string Name, string In, IReadOnlyList<string> Words);

/// <summary>An operation of the contract.</summary>
/// <param name="Method">HTTP method.</param>
/// <param name="Route">Route.</param>
/// <param name="Parameters">Parameters.</param>
/// <param name="BodyExample">Example of its body as JSON; null: none.</param>
/// <param name="HasBody">Whether it takes a body.</param>
/// <param name="Answers">Media types that may come with each status; empty: no body.</param>
public sealed record Operation(
    string Method, string Route, IReadOnlyList<Parameter> Parameters, string? BodyExample, bool HasBody, IReadOnlyDictionary<int, IReadOnlyList<string>> Answers)
{
    /// <summary>Name of the operation in a case.</summary>
    public string Name => Method + " " + Route;
}

/// <summary>The contract as the running program gives it.</summary>
/// <param name="Operations">Operations by name.</param>
public sealed record Contract(IReadOnlyDictionary<string, Operation> Operations)
{
    /// <summary>Reads it.</summary>
    /// <param name="client">A client of the program.</param>
    public static async Task<Contract> ReadAsync(HttpClient client)
    {
        using JsonDocument document = JsonDocument.Parse(await client.GetStringAsync("/openapi/v1.json"));
        JsonElement root = document.RootElement;
        Operation[] operations =
        [
            .. root.GetProperty("paths").EnumerateObject()
                .SelectMany(path => path.Value.EnumerateObject().Select(method => Read(method.Name.ToUpperInvariant(), path.Name, method.Value))),
        ];
        return new Contract(operations.ToDictionary(operation => operation.Name, StringComparer.Ordinal));
    }

    private static Operation Read(string method, string route, JsonElement operation)
    {
        bool hasBody = operation.TryGetProperty("requestBody", out JsonElement body);
        string? example = hasBody && body.GetProperty("content").TryGetProperty("application/json", out JsonElement json) && json.TryGetProperty("example", out JsonElement shown)
            ? shown.GetRawText() : null;
        Parameter[] parameters = operation.TryGetProperty("parameters", out JsonElement listed) ? [.. listed.EnumerateArray().Select(ReadParameter)] : [];
        return new Operation(method, route, parameters, example, hasBody, operation.GetProperty("responses").EnumerateObject().ToDictionary(
            answer => int.Parse(answer.Name, System.Globalization.CultureInfo.InvariantCulture),
            answer => (IReadOnlyList<string>)(answer.Value.TryGetProperty("content", out JsonElement content) ? [.. content.EnumerateObject().Select(type => type.Name)] : [])));
    }

    private static Parameter ReadParameter(JsonElement parameter)
    {
        JsonElement schema = parameter.GetProperty("schema");
        string[] words = schema.TryGetProperty("enum", out JsonElement choices) ? [.. choices.EnumerateArray().Select(choice => choice.ToString())] : [];
        string[] example = parameter.TryGetProperty("example", out JsonElement shown) ? [shown.ToString()] : [];
        return new Parameter(parameter.GetProperty("name").GetString()!, parameter.GetProperty("in").GetString()!, [.. words, .. example]);
    }
}
