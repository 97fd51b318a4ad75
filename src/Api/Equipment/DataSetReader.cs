using System.Text.Json;

namespace Washwear.Api.Equipment;

/// <summary>Finds the data sets in a payload: a network message of OPC UA PubSub in JSON (OPC 10000-14), one of its data set messages alone, or a
/// plain object of names and values.</summary>
internal static class DataSetReader
{
    private static readonly string[] PlainTimes = ["Timestamp", "SourceTimestamp"];
    private static readonly string[] Wrappings = ["Value", "Body", "Text", "Id", "Code", "Status", "StatusCode"];

    /// <summary>The values of each data set.</summary>
    /// <param name="payload">The payload.</param>
    public static IEnumerable<IReadOnlyList<EquipmentValue>> Read(JsonElement payload) => payload.ValueKind switch
    {
        JsonValueKind.Array => payload.EnumerateArray().SelectMany(Read),
        JsonValueKind.Object when payload.TryGetProperty("Messages", out JsonElement messages) => Read(messages),
        JsonValueKind.Object when payload.TryGetProperty("Payload", out JsonElement values) => [Values(values, EquipmentValue.Instant(payload, "Timestamp"))],
        JsonValueKind.Object => [Values(payload, PlainTimes.Select(name => EquipmentValue.Instant(payload, name)).FirstOrDefault(at => at is not null))],
        _ => [],
    };

    private static List<EquipmentValue> Values(JsonElement payload, DateTimeOffset? at, string around = "") => payload.ValueKind != JsonValueKind.Object
        ? []
        : [.. payload.EnumerateObject().SelectMany(member => IsFolder(member.Value)
            ? Values(member.Value, at, around + member.Name + "/")
            : EquipmentValue.Read(around + member.Name, member.Value, at) is { } value ? [value] : [])];

    // An object that is no value of its own holds values, as in {"CombiSteamer":{"CombiSteamerMode":8}}.
    private static bool IsFolder(JsonElement value) =>
        value.ValueKind == JsonValueKind.Object && !Wrappings.Any(name => value.TryGetProperty(name, out _));
}
