using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Microsoft.OpenApi;

namespace Washwear.Api.Http;

/// <summary>What the types cannot say of themselves: names of pages, the form of instants, lists as CSV.</summary>
internal static class ContractSchemas
{
    private const string CsvType = "text/csv";

    /// <summary>Name of a type's schema where the usual one reads badly; null: the usual one.</summary>
    /// <param name="type">How the type is written as JSON.</param>
    public static string? NameOf(JsonTypeInfo type) =>
        type.Type.IsGenericType && type.Type.GetGenericTypeDefinition() == typeof(PageOf<>)
            ? "PageOf" + type.Type.GetGenericArguments()[0].Name
            : null;

    /// <summary>Says that an instant is text, which its own converter hides, and what a sender may leave out.</summary>
    /// <param name="schema">The schema.</param>
    /// <param name="info">How the type that it describes is written as JSON.</param>
    public static void Complete(OpenApiSchema schema, JsonTypeInfo info)
    {
        Type type = info.Type;
        if (type.Name.EndsWith("Resource", StringComparison.Ordinal) || type == typeof(Problem))
        {
            schema.Required?.ExceptWith(info.Properties.Where(Json.MayBeNull).Select(property => property.Name));
        }

        if ((Nullable.GetUnderlyingType(type) ?? type) == typeof(DateTimeOffset))
        {
            schema.Type = Nullable.GetUnderlyingType(type) is null ? JsonSchemaType.String : JsonSchemaType.String | JsonSchemaType.Null;
            schema.Format = "date-time";
        }
    }

    /// <summary>Says of every CSV answer that it is text, with a header and one line a row.</summary>
    /// <param name="responses">The answers of an operation.</param>
    public static void DescribeCsv(OpenApiResponses responses)
    {
        foreach (IOpenApiResponse response in responses.Values)
        {
            if (response.Content is not { } contents || !contents.TryGetValue(CsvType, out OpenApiMediaType? csv))
            {
                continue;
            }

            csv.Schema = new OpenApiSchema
            {
                Type = JsonSchemaType.String,
                Description = "RFC 4180: a header with the names of the fields, then one line a row.",
            };
        }
    }

    /// <summary>A closed list of words.</summary>
    /// <param name="words">The words.</param>
    public static OpenApiSchema Words(IEnumerable<string> words) =>
        new() { Type = JsonSchemaType.String, Enum = [.. words.Select(word => (JsonNode)JsonValue.Create(word))] };
}
