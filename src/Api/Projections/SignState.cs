using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Projections;

/// <summary>The running state of a unit's charts as text; what is written is read back to the last digit.</summary>
public static class SignState
{
    private static readonly JsonSerializerOptions Options = new()
    {
        IgnoreReadOnlyProperties = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Converters = { new InstantMs(), new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower) },
    };

    /// <summary>The state as text.</summary>
    /// <param name="signs">The state.</param>
    public static string Write(UnitSigns signs) => JsonSerializer.Serialize(signs, Options);

    /// <summary>The state that a text holds.</summary>
    /// <param name="text">The text.</param>
    /// <exception cref="JsonException">It holds none.</exception>
    public static UnitSigns Read(string text) => JsonSerializer.Deserialize<UnitSigns>(text, Options) ?? throw new JsonException("No state.");

    private sealed class InstantMs : JsonConverter<Instant>
    {
        public override Instant Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Instant.FromUnixTimeMilliseconds(reader.GetInt64());

        public override void Write(Utf8JsonWriter writer, Instant value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.ToUnixTimeMilliseconds());
    }
}
