using System.Text.Json;

namespace Washwear.Api.Audit;

/// <summary>Says in a few words in which fields two versions of a resource differ.</summary>
internal static class ChangedFields
{
    private const int LongestValue = 60;

    /// <summary>The fields that differ, old → new; a list or an object that differs is named with its length, not told.</summary>
    /// <param name="before">The resource as it was, a JSON object.</param>
    /// <param name="after">The resource as it is, a JSON object.</param>
    public static string Words(string before, string after)
    {
        using JsonDocument old = JsonDocument.Parse(before);
        using JsonDocument now = JsonDocument.Parse(after);
        IEnumerable<string> names = old.RootElement.EnumerateObject().Concat(now.RootElement.EnumerateObject()).Select(field => field.Name).Distinct();
        return string.Join(", ", names.Select(name => Difference(name, Field(old, name), Field(now, name))).OfType<string>());
    }

    private static JsonElement? Field(JsonDocument document, string name) =>
        document.RootElement.TryGetProperty(name, out JsonElement value) && value.ValueKind != JsonValueKind.Null ? value : null;

    private static string? Difference(string name, JsonElement? before, JsonElement? after) =>
        before is { } one && after is { } other && JsonElement.DeepEquals(one, other) ? null
        : before is null && after is null ? null
        : $"{name}: {Value(before)} → {Value(after)}";

    private static string Value(JsonElement? value) => value switch
    {
        null => "nothing",
        { ValueKind: JsonValueKind.Array } list => FormattableString.Invariant($"list of {list.GetArrayLength()}"),
        { ValueKind: JsonValueKind.Object } => "{…}",
        { } plain => Cut(plain.GetRawText()),
    };

    private static string Cut(string text) => text.Length <= LongestValue ? text : text[..(LongestValue - 1)] + "…";
}
