using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Washwear.Api.Http;

/// <summary>Reads and writes instants as RFC 3339; an instant without an offset is refused, because it could mean anything.</summary>
public sealed class InstantConverter : JsonConverter<DateTimeOffset>
{
    private const string OffsetForm = "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFzzz";
    private const string UtcForm = "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF'Z'";
    private const int DigitsOfATick = 7;

    /// <summary>Reads an instant from text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="instant">The instant, its offset as given.</param>
    /// <returns>Whether it is RFC 3339 with an offset.</returns>
    public static bool TryParse(string? text, out DateTimeOffset instant)
    {
        // RFC 3339 lets T and Z be written small.
        string candidate = WithoutExcessDigits(text?.ToUpperInvariant() ?? string.Empty);
        string form = candidate.EndsWith('Z') ? UtcForm : OffsetForm;
        return DateTimeOffset.TryParseExact(
            candidate, form, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out instant);
    }

    /// <summary>Writes an instant as text, with Z for UTC.</summary>
    /// <param name="instant">The instant.</param>
    public static string Format(DateTimeOffset instant) =>
        instant.ToString(instant.Offset == TimeSpan.Zero ? UtcForm : OffsetForm, CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType == JsonTokenType.String && TryParse(reader.GetString(), out DateTimeOffset instant))
        {
            return instant;
        }

        throw new JsonException("The value is not an instant with an offset.");
    }

    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
        writer.WriteStringValue(Format(value));

    // RFC 3339 sets no limit to the digits of a fraction, and some gateways write nanoseconds; what is beyond a clock's tick is cut off.
    private static string WithoutExcessDigits(string text)
    {
        int first = text.IndexOf('.', StringComparison.Ordinal) + 1;
        int end = first;
        while (first > 0 && end < text.Length && char.IsAsciiDigit(text[end]))
        {
            end++;
        }

        return end - first > DigitsOfATick ? text.Remove(first + DigitsOfATick, end - first - DigitsOfATick) : text;
    }
}
