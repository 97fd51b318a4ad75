using System.Globalization;
using System.Text.Json;
using Washwear.Api.Http;

namespace Washwear.Api.Equipment;

/// <summary>A value of a data set message.</summary>
/// <param name="Path">Its name, cut at slashes, dots and namespace numbers.</param>
/// <param name="Value">The value, without what it was wrapped in.</param>
/// <param name="At">When it took that value; null: not said.</param>
internal sealed record EquipmentValue(IReadOnlyList<string> Path, JsonElement Value, DateTimeOffset? At)
{
    private const uint BadStatus = 0x80000000;

    // Names of members in the JSON of OPC 10000-6 and 10000-14.
    private const string ValueMember = "Value";
    private const string TypeMember = "UaType";
    private const string NameMember = "Name";

    /// <summary>Last part of its name.</summary>
    public string Name => Path[^1];

    /// <summary>Reads a value as OPC 10000-14 lets it be written: bare, as a Variant, or as a DataValue with status and time.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="written">The value as written.</param>
    /// <param name="at">When the data set message was made.</param>
    /// <returns>The value; null: there is none, or its source says that it is bad.</returns>
    public static EquipmentValue? Read(string name, JsonElement written, DateTimeOffset? at)
    {
        string[] path = [.. name.Split('/', '.', ':').Where(part => part.Length > 0 && !part.All(char.IsAsciiDigit))];
        bool isDataValue = written.ValueKind == JsonValueKind.Object && written.TryGetProperty(ValueMember, out _) && !written.TryGetProperty(TypeMember, out _);
        if (path.Length == 0 || (isDataValue && IsBad(written)))
        {
            return null;
        }

        DateTimeOffset? own = isDataValue ? Instant(written, "SourceTimestamp") ?? Instant(written, "ServerTimestamp") : null;
        JsonElement value = Bare(isDataValue ? written.GetProperty(ValueMember) : written);
        return value.ValueKind is JsonValueKind.Null or JsonValueKind.Undefined ? null : new EquipmentValue(path, value, own ?? at);
    }

    /// <summary>An instant among the members of an object; null: there is none.</summary>
    /// <param name="owner">The object.</param>
    /// <param name="name">Name of the member.</param>
    public static DateTimeOffset? Instant(JsonElement owner, string name) =>
        owner.ValueKind == JsonValueKind.Object && owner.TryGetProperty(name, out JsonElement member) ? InstantOf(Bare(member)) : null;

    /// <summary>The value as an instant; null: it is none.</summary>
    /// <param name="value">The value.</param>
    public static DateTimeOffset? InstantOf(JsonElement value) =>
        value.ValueKind == JsonValueKind.String && InstantConverter.TryParse(value.GetString(), out DateTimeOffset at)
            ? DateTimeOffset.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds())
            : null;

    /// <summary>The value as a whole number; an enumeration may be written as its name, an underscore and the number. Null: it is none.</summary>
    public int? AsWhole()
    {
        string? text = Value.ValueKind switch
        {
            JsonValueKind.Number => Value.GetRawText(),
            JsonValueKind.String => Value.GetString()![(Value.GetString()!.LastIndexOf('_') + 1)..],
            _ => null,
        };
        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;
    }

    /// <summary>The value as a number; null: it is none. 64-bit integers are written as texts.</summary>
    public double? AsNumber() =>
        Value.ValueKind is JsonValueKind.Number or JsonValueKind.String
        && double.TryParse(Value.ToString(), NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number)
            ? number
            : null;

    /// <summary>The value as text, that of a LocalizedText or a NodeId included; null: it is none.</summary>
    public string? AsText() => Value.ValueKind switch
    {
        JsonValueKind.String => Value.GetString(),
        JsonValueKind.Number => Value.GetRawText(),
        JsonValueKind.Object when Value.TryGetProperty("Text", out JsonElement text) && text.ValueKind == JsonValueKind.String => text.GetString(),
        JsonValueKind.Object => Value.GetRawText(),
        _ => null,
    };

    // Type and Body: release 1.04; UaType and Value: 1.05.
    private static JsonElement Bare(JsonElement value)
    {
        if (value.ValueKind != JsonValueKind.Object)
        {
            return value;
        }

        bool hasBody = value.TryGetProperty("Body", out JsonElement body) && value.TryGetProperty("Type", out _);
        bool hasValue = value.TryGetProperty(ValueMember, out JsonElement inner) && (value.TryGetProperty(TypeMember, out _) || value.TryGetProperty(NameMember, out _));
        return hasBody ? body : hasValue ? inner : value;
    }

    private static bool IsBad(JsonElement written)
    {
        foreach (string name in (string[])["Status", "StatusCode"])
        {
            if (written.TryGetProperty(name, out JsonElement status))
            {
                JsonElement code = status.ValueKind == JsonValueKind.Object && status.TryGetProperty("Code", out JsonElement inner) ? inner : status;
                return code.ValueKind == JsonValueKind.Number && code.TryGetUInt32(out uint number) && (number & BadStatus) != 0;
            }
        }

        return false;
    }
}
