using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace Washwear.Api.Http;

/// <summary>Compares JSON with the type that it should become, and names everything that does not fit.</summary>
public static class JsonShape
{
    /// <summary>Lists what is unknown, missing, null or of the wrong kind.</summary>
    /// <param name="element">The JSON.</param>
    /// <param name="type">Type that it should become.</param>
    /// <param name="path">Path of the element; empty for the whole.</param>
    /// <returns>The problems; empty: it can be read.</returns>
    public static IReadOnlyList<FieldProblem> Check(JsonElement element, Type type, string path = "")
    {
        var problems = new List<FieldProblem>();
        Check(element, Json.Options.GetTypeInfo(type), path, problems);
        return problems;
    }

    private static void Check(JsonElement element, JsonTypeInfo type, string path, List<FieldProblem> problems)
    {
        switch (type.Kind)
        {
            case JsonTypeInfoKind.Object when element.ValueKind == JsonValueKind.Object:
                CheckObject(element, type, path, problems);
                break;
            case JsonTypeInfoKind.Enumerable when element.ValueKind == JsonValueKind.Array:
                CheckList(element, type, path, problems);
                break;
            case JsonTypeInfoKind.Dictionary when element.ValueKind == JsonValueKind.Object:
                CheckDictionary(element, type, path, problems);
                break;
            case JsonTypeInfoKind.Object or JsonTypeInfoKind.Enumerable or JsonTypeInfoKind.Dictionary:
                problems.Add(WrongKind(element, type, path));
                break;
            default:
                CheckValue(element, type, path, problems);
                break;
        }
    }

    private static void CheckObject(JsonElement element, JsonTypeInfo type, string path, List<FieldProblem> problems)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (JsonProperty member in element.EnumerateObject())
        {
            string? name = Text(() => member.Name);
            JsonPropertyInfo? property = type.Properties.FirstOrDefault(candidate => candidate.Name == name);
            if (name is null || property is null)
            {
                problems.Add(Unknown(name, type, path));
                continue;
            }

            seen.Add(name);
            CheckMember(member.Value, property, Join(path, name), problems);
        }

        foreach (JsonPropertyInfo missing in type.Properties.Where(property => property.IsRequired && !seen.Contains(property.Name)))
        {
            problems.Add(new FieldProblem(
                Join(path, missing.Name), "required", "The field is missing.", $"Give {Describe(missing.PropertyType)}."));
        }
    }

    private static void CheckMember(JsonElement value, JsonPropertyInfo property, string path, List<FieldProblem> problems)
    {
        if (value.ValueKind != JsonValueKind.Null)
        {
            Check(value, Json.Options.GetTypeInfo(property.PropertyType), path, problems);
        }
        else if (!Json.MayBeNull(property))
        {
            problems.Add(new FieldProblem(path, "required", "The field is null.", $"Give {Describe(property.PropertyType)}."));
        }
    }

    private static void CheckList(JsonElement element, JsonTypeInfo type, string path, List<FieldProblem> problems)
    {
        JsonTypeInfo itemType = Json.Options.GetTypeInfo(type.ElementType!);
        int index = 0;
        foreach (JsonElement item in element.EnumerateArray())
        {
            string place = FormattableString.Invariant($"{path}[{index++}]");
            Check(item, itemType, place, problems);
        }
    }

    private static void CheckDictionary(JsonElement element, JsonTypeInfo type, string path, List<FieldProblem> problems)
    {
        JsonTypeInfo valueType = Json.Options.GetTypeInfo(type.ElementType!);
        foreach (JsonProperty member in element.EnumerateObject())
        {
            Check(member.Value, valueType, Join(path, Text(() => member.Name) ?? "?"), problems);
        }
    }

    private static void CheckValue(JsonElement element, JsonTypeInfo type, string path, List<FieldProblem> problems)
    {
        try
        {
            object? value = element.ValueKind == JsonValueKind.Null ? null : element.Deserialize(type);
            if (value is null or double.NaN or double.PositiveInfinity or double.NegativeInfinity)
            {
                problems.Add(WrongKind(element, type, path));
            }
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException or FormatException or OverflowException)
        {
            problems.Add(WrongKind(element, type, path));
        }
    }

    private static FieldProblem Unknown(string? name, JsonTypeInfo type, string path) => new(
        Join(path, name ?? "?"),
        "unknown_field",
        name is null ? "The name of a field is not valid text." : $"There is no field '{name}' here.",
        $"Leave it out or mend its name; the fields are {string.Join(", ", type.Properties.Select(property => property.Name))}.");

    private static FieldProblem WrongKind(JsonElement element, JsonTypeInfo type, string path) => new(
        path.Length == 0 ? "(whole body)" : path,
        "kind",
        $"The value {Shorten(element)} is not {Describe(type.Type)}.",
        $"Give {Describe(type.Type)}{Fields(type)}.");

    private static string Fields(JsonTypeInfo type) => type.Kind == JsonTypeInfoKind.Object && type.Properties.Count > 0
        ? " with the fields " + string.Join(", ", type.Properties.Select(property => property.Name))
        : string.Empty;

    private static string Shorten(JsonElement element)
    {
        const int most = 60;
        string raw = element.ValueKind switch
        {
            JsonValueKind.Object => "{...}",
            JsonValueKind.Array => "[...]",
            _ => element.GetRawText(),
        };
        return raw.Length <= most ? raw : raw[..most] + "...";
    }

    private static string Describe(Type type)
    {
        Type plain = Nullable.GetUnderlyingType(type) ?? type;
        return plain switch
        {
            _ when plain.IsEnum => "one of " + string.Join(", ", Enum.GetNames(plain).Select(Json.Name)),
            _ when plain == typeof(string) => "a text",
            _ when plain == typeof(bool) => "true or false",
            _ when plain == typeof(int) || plain == typeof(long) => "a whole number",
            _ when plain == typeof(double) => "a finite number",
            _ when plain == typeof(DateOnly) => "a date such as 2026-03-01",
            _ when plain == typeof(DateTimeOffset) => "an instant with offset such as 2026-03-01T22:15:00+01:00",
            { IsGenericType: true } when plain.GetGenericTypeDefinition() == typeof(IReadOnlyDictionary<,>) => "an object",
            _ when typeof(System.Collections.IEnumerable).IsAssignableFrom(plain) => "a list, [] for none",
            _ => "an object",
        };
    }

    // Text with half a surrogate pair, or bytes that are not UTF-8, is found only when it is read.
    private static string? Text(Func<string> read)
    {
        try
        {
            return read();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    private static string Join(string path, string name) => path.Length == 0 ? name : path + "." + name;
}
