using Washwear.Api.Ingest;
using Washwear.Api.Messages;

namespace Washwear.Api.Equipment;

/// <summary>What a message says of a unit.</summary>
/// <param name="Observations">What was seen, in the order of the instants.</param>
/// <param name="HeardAt">The latest instant of which it speaks; null: of none.</param>
/// <param name="OperatingHours">Operating hours since the unit was made, with their instant; null: not said.</param>
/// <param name="Problem">What could not be understood.</param>
internal sealed record EquipmentReading(
    IReadOnlyList<Observation> Observations, DateTimeOffset? HeardAt, (double Hours, DateTimeOffset At)? OperatingHours, RowProblem? Problem);

/// <summary>Reads what messages of the information model say; pure.</summary>
internal static class EquipmentReader
{
    private const double MillisecondsPerHour = 3_600_000;
    private static readonly string[] CodeFields = ["ConditionName", "SourceName", "SourceNode", "EventType", "Message"];

    /// <summary>Reads a message.</summary>
    /// <param name="read">The message.</param>
    /// <param name="resource">The kind of device and what becomes of alarms.</param>
    public static EquipmentReading Read(ReadMessage read, EquipmentResource resource)
    {
        var observations = new List<Observation>();
        DateTimeOffset? heard = null;
        (double Hours, DateTimeOffset At)? hours = null;
        RowProblem? problem = null;
        foreach (IReadOnlyList<EquipmentValue> values in DataSetReader.Read(read.Values!.Root))
        {
            foreach (EquipmentValue value in values)
            {
                // Of a message that was kept for who knows how long, a value without an instant of its own says nothing about now.
                if ((value.At ?? (read.Message.Retained ? null : read.Message.ArrivedAt)) is not { } at)
                {
                    continue;
                }

                heard = heard is { } before && before > at ? before : at;
                ModeVariable mode = ModeVariable.Of(resource.Device);
                if (value.Name == mode.Field && !IsCondition(values))
                {
                    problem ??= value.AsWhole() is null ? NoMode(mode) : null;
                    observations.AddRange(value.AsWhole() is { } number ? [new Observation(ChannelOf(value), at, number == mode.Cleaning, null)] : []);
                }
                else if (value.Name == "OperationDuration" && value.AsNumber() is >= 0 and var duration)
                {
                    hours = (duration / MillisecondsPerHour, at);
                }
            }

            if (IsCondition(values) && resource.Alarms is { } alarms)
            {
                Observation? seen = Alarm(values, alarms, read.Message, out RowProblem? wrong);
                observations.AddRange(seen is null ? [] : [seen]);
                problem ??= wrong;
            }
        }

        return new EquipmentReading([.. observations.OrderBy(one => one.At)], heard, hours, problem);
    }

    private static bool IsCondition(IReadOnlyList<EquipmentValue> values) => values.Any(IsActiveState);

    private static bool IsActiveState(EquipmentValue value) =>
        value.Path is [.., "ActiveState"] or [.., "ActiveState", "Id"];

    // A device with several chambers names them Chamber_1, Chamber_2.
    private static string ChannelOf(EquipmentValue value) => Observation.ChannelOf(
        Observation.Cleaning, value.Path.LastOrDefault(part => part.StartsWith("Chamber_", StringComparison.Ordinal)));

    private static Observation? Alarm(IReadOnlyList<EquipmentValue> values, AlarmsResource alarms, Message message, out RowProblem? problem)
    {
        problem = null;
        EquipmentValue state = values.FirstOrDefault(value => value.Path is [.., "ActiveState", "Id"]) ?? values.First(IsActiveState);
        DateTimeOffset? at = Field(values, "Time") is { } time ? EquipmentValue.InstantOf(time.Value) : null;
        at ??= state.At ?? (message.Retained ? null : message.ArrivedAt);
        if (at is null || Field(values, "Severity")?.AsNumber() < (alarms.LeastSeverity ?? 1))
        {
            return null;
        }

        string? code = CodeFields.Select(name => Field(values, name)?.AsText()).Select(text => text is null ? null : alarms.Codes.GetValueOrDefault(text))
            .FirstOrDefault(found => found is not null) ?? alarms.Codes.GetValueOrDefault("*");
        bool? active = IsActive(state);
        if (code is null || active is null)
        {
            problem = code is null ? NoCode() : NoState();
            return null;
        }

        string? condition = (Field(values, "ConditionId") ?? Field(values, "ConditionName"))?.AsText() ?? Field(values, "SourceNode")?.AsText();
        return new Observation(Observation.ChannelOf(Observation.Alarm, condition ?? code), at.Value, active.Value, code);
    }

    private static EquipmentValue? Field(IReadOnlyList<EquipmentValue> values, string name) => values.FirstOrDefault(value => value.Name == name);

    // The state's Id is the truth; its text may be in any language, of which only the standard's own is understood.
    private static bool? IsActive(EquipmentValue state) => state.Value.ValueKind switch
    {
        System.Text.Json.JsonValueKind.True => true,
        System.Text.Json.JsonValueKind.False => false,
        System.Text.Json.JsonValueKind.Object when state.Value.TryGetProperty("Id", out System.Text.Json.JsonElement id)
            && id.ValueKind is System.Text.Json.JsonValueKind.True or System.Text.Json.JsonValueKind.False => id.GetBoolean(),
        _ => state.AsText() switch
        {
            "Active" => true,
            "Inactive" => false,
            _ => null,
        },
    };

    private static RowProblem NoMode(ModeVariable mode) => new(
        mode.Field, "mode", "The mode is no value of its enumeration.", "Send the number, or the name with an underscore and the number, such as Cleaning_8.");

    private static RowProblem NoCode() => new(
        "codes", "not_in_map", "The mapping does not say which fault code this alarm is.", "Add its ConditionName, SourceName or SourceNode to alarms.codes, or '*' for any other.");

    private static RowProblem NoState() => new(
        "ActiveState", "state", "It cannot be told whether the alarm is active.", "Send ActiveState/Id (true or false), or the text Active or Inactive.");
}
