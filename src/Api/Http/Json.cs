using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;

namespace Washwear.Api.Http;

/// <summary>How JSON is written and read everywhere: snake_case, RFC 3339 instants with offset, unknown fields refused.</summary>
public static class Json
{
    /// <summary>The options of every endpoint, command and stored body.</summary>
    public static JsonSerializerOptions Options { get; } = Frozen();

    /// <summary>Gives options the house's rules.</summary>
    /// <param name="options">The options to set.</param>
    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower;
        options.DictionaryKeyPolicy = null;
        options.PropertyNameCaseInsensitive = false;
        options.NumberHandling = JsonNumberHandling.Strict;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.AllowDuplicateProperties = false;
        options.RespectNullableAnnotations = true;
        options.RespectRequiredConstructorParameters = true;
        options.MaxDepth = 32;
        // Text such as 'Küche 3' or '≥' stays readable; answers are JSON, never pasted into HTML.
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false));
        options.Converters.Add(new InstantConverter());
        options.TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { LetNullableBeLeftOut } };
    }

    /// <summary>A .NET name as JSON spells it.</summary>
    /// <param name="name">The name, such as StoppedByPerson.</param>
    public static string Name(string name) => JsonNamingPolicy.SnakeCaseLower.ConvertName(name);

    /// <summary>Whether a field may be null, and so left out.</summary>
    /// <param name="property">The field.</param>
    public static bool MayBeNull(JsonPropertyInfo property) =>
        Nullable.GetUnderlyingType(property.PropertyType) is not null
        || (!property.PropertyType.IsValueType && (property.AssociatedParameter?.IsNullable ?? property.IsGetNullable));

    private static JsonSerializerOptions Frozen()
    {
        var options = new JsonSerializerOptions();
        Configure(options);
        options.MakeReadOnly();
        return options;
    }

    // A field that may be null may as well be left out.
    private static void LetNullableBeLeftOut(JsonTypeInfo type)
    {
        foreach (JsonPropertyInfo property in type.Properties.Where(property => property.IsRequired && MayBeNull(property)))
        {
            property.IsRequired = false;
        }
    }
}
