using System.Text.Json;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>Reads a list that a field holds as JSON.</summary>
internal static class ListReader
{
    private const int MostItems = 100;

    private static readonly JsonDocumentOptions Strict = new() { AllowDuplicateProperties = false, MaxDepth = JsonRowReader.MaxDepth };

    /// <summary>Reads the list; what its items say is for the rules to judge.</summary>
    /// <typeparam name="T">What an item is.</typeparam>
    /// <param name="name">Name of the field.</param>
    /// <param name="json">The list.</param>
    /// <param name="problem">Why there is none.</param>
    /// <returns>The items; null when there are none, or a problem.</returns>
    public static IReadOnlyList<T>? Read<T>(string name, string json, out RowProblem? problem)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(json, Strict);
            problem = ProblemOf<T>(name, document.RootElement);
            return problem is null && document.RootElement.GetArrayLength() > 0 ? document.RootElement.Deserialize<T[]>(Json.Options) : null;
        }
        catch (JsonException)
        {
            problem = RowProblems.NoList(name, "The value is no JSON, or names a field twice.");
            return null;
        }
        catch (InvalidOperationException)
        {
            problem = RowProblems.HalfACharacter(name);
            return null;
        }
    }

    private static RowProblem? ProblemOf<T>(string name, JsonElement list) =>
        list.ValueKind != JsonValueKind.Array ? RowProblems.NoList(name, "The value is no list.")
        : list.GetArrayLength() > MostItems ? RowProblems.NoList(name, $"The list has {list.GetArrayLength()} items; {MostItems} are allowed.")
        : JsonShape.Check(list, typeof(T[]), name) is [var first, ..] ? RowProblem.Of(first)
        : null;
}
