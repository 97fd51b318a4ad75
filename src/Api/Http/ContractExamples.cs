using System.Text.Json.Nodes;

namespace Washwear.Api.Http;

/// <summary>Examples of the contract, taken from the invented fleet; files of the assembly, one an operation.</summary>
internal static class ContractExamples
{
    /// <summary>Example of a request body; null: there is none.</summary>
    /// <param name="method">HTTP method.</param>
    /// <param name="path">Route.</param>
    public static JsonNode? Request(string method, string path) => Read(method + "-request", path) ?? (method == "PUT" ? Read("GET", path) : null);

    /// <summary>Example of an answer; null: there is none.</summary>
    /// <param name="method">HTTP method.</param>
    /// <param name="path">Route.</param>
    public static JsonNode? Response(string method, string path) => Read(method, path) ?? (method == "PUT" ? Read("GET", path) : null);

    private static JsonNode? Read(string method, string path)
    {
        string name = method.ToLowerInvariant() + "-" + path.Replace("{", null, StringComparison.Ordinal).Replace("}", null, StringComparison.Ordinal)
            .Replace(":long", null, StringComparison.Ordinal).Replace('/', '-');
        using Stream? stream = typeof(ContractExamples).Assembly.GetManifestResourceStream("examples/" + name + ".json");
        return stream is null ? null : JsonNode.Parse(stream);
    }
}
