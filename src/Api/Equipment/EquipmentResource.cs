using Washwear.Api.Messages;

namespace Washwear.Api.Equipment;

/// <summary>What becomes of messages that carry values of the information model.</summary>
/// <param name="Device">Kind of the device.</param>
/// <param name="Unit">Which unit it is.</param>
/// <param name="Alarms">What becomes of alarms; null: they are left out.</param>
/// <param name="HeardEveryMinutes">Most often that a message makes a sign of life or a meter reading, minutes, 1 to 1440; null: 60.</param>
internal sealed record EquipmentResource(DeviceKind Device, ValueResource Unit, AlarmsResource? Alarms = null, int? HeardEveryMinutes = null);

/// <summary>What becomes of alarms.</summary>
/// <param name="Codes">Fault code by ConditionName, SourceName, SourceNode, EventType or Message, whichever has an entry first; '*' is any other.</param>
/// <param name="LeastSeverity">Alarms of a lower severity are left out, 1 to 1000; null: 1.</param>
internal sealed record AlarmsResource(IReadOnlyDictionary<string, string> Codes, int? LeastSeverity = null);
