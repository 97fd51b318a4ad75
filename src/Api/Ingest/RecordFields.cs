using System.Collections.Frozen;
using System.Text.Json;

namespace Washwear.Api.Ingest;

/// <summary>The fields of each type of record: the one list that readers, answers and exports go by.</summary>
internal static class RecordFields
{
    /// <summary>Name by field; nested ones are dotted, as in a CSV header.</summary>
    public static readonly IReadOnlyList<string> Names = [.. Enum.GetValues<RecordField>().Select(NameOf)];

    /// <summary>Field by name.</summary>
    public static readonly FrozenDictionary<string, RecordField> ByName =
        Enum.GetValues<RecordField>().ToFrozenDictionary(NameOf, StringComparer.Ordinal);

    /// <summary>Fields that a record of each type may have.</summary>
    public static readonly FrozenDictionary<string, ulong> Allowed = new Dictionary<string, ulong>
    {
        ["wash"] = Common | Mask(
            RecordField.StartedAt, RecordField.EndedAt, RecordField.Programme, RecordField.Grade, RecordField.Outcome,
            RecordField.FaultCode, RecordField.DetergentDoses, RecordField.DetergentLeft, RecordField.AttestedBy),
        ["fault"] = Common | Mask(RecordField.Code, RecordField.RaisedAt, RecordField.ClearedAt),
        ["fault_cleared"] = Common | Mask(RecordField.Code, RecordField.ClearedAt),
        ["part_change"] = Common | Mask(
            RecordField.Position, RecordField.Removed, RecordField.RemovedReason, RecordField.RemovedFailureMode,
            RecordField.RemovedMechanism, RecordField.RemovedLastSeenGoodAt, RecordField.RemovedFittedAt, RecordField.Fitted, RecordField.FittedPartNumber,
            RecordField.FittedBatch, RecordField.FittedSupplier, RecordField.FittedAgeDays, RecordField.FittedAgeWashes),
        ["meter"] = Common | Mask(RecordField.WashesTotal, RecordField.OperatingHoursTotal),
        ["heartbeat"] = Common,
        ["visit"] = Common | Mask(
            RecordField.AskedAt, RecordField.ArrivedAt, RecordField.LeftAt, RecordField.Outcome, RecordField.Technician, RecordField.Note)
            | Lists,
        ["approval"] = Common | Mask(
            RecordField.AskedAt, RecordField.What, RecordField.Amount, RecordField.FaultCode, RecordField.Decision, RecordField.DecidedAt,
            RecordField.DecidedBy, RecordField.Note),
        ["condition"] = Common | Mask(RecordField.Position, RecordField.Grade, RecordField.Note),
        ["void"] = Mask(RecordField.Type, RecordField.Key, RecordField.Source, RecordField.At, RecordField.Voids, RecordField.Reason),
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>The types of records, in order.</summary>
    public static readonly IReadOnlyList<string> Types = [.. Allowed.Keys.Order(StringComparer.Ordinal)];

    /// <summary>Fields that belong to what was taken out.</summary>
    public static readonly ulong OfRemoved = Mask(
        RecordField.Removed, RecordField.RemovedReason, RecordField.RemovedFailureMode, RecordField.RemovedMechanism,
        RecordField.RemovedLastSeenGoodAt, RecordField.RemovedFittedAt);

    /// <summary>Fields that belong to what was put in.</summary>
    public static readonly ulong OfFitted = Mask(
        RecordField.Fitted, RecordField.FittedPartNumber, RecordField.FittedBatch, RecordField.FittedSupplier,
        RecordField.FittedAgeDays, RecordField.FittedAgeWashes);

    /// <summary>Whether a field holds a list; in CSV its cell holds the list as JSON.</summary>
    /// <param name="field">The field.</param>
    public static bool IsList(RecordField field) => field == RecordField.PartChanges || (Lists & Mask(field)) != 0;

    private static ulong Lists => Mask(
        RecordField.Faults, RecordField.Checks, RecordField.Findings, RecordField.Proofs, RecordField.Conditions);

    private static ulong Common => Mask(
        RecordField.Type, RecordField.Key, RecordField.Source, RecordField.Unit, RecordField.At, RecordField.Replaces);

    /// <summary>Name of a field outside.</summary>
    /// <param name="field">The field.</param>
    public static string Name(RecordField field) => Names[(int)field];

    /// <summary>The fields as a set of bits.</summary>
    /// <param name="fields">The fields.</param>
    public static ulong Mask(params ReadOnlySpan<RecordField> fields)
    {
        ulong mask = 0;
        foreach (RecordField field in fields)
        {
            mask |= 1UL << (int)field;
        }

        return mask;
    }

    /// <summary>Names of the fields that a type may have, for people.</summary>
    /// <param name="type">The type.</param>
    public static string ListFor(string type) =>
        string.Join(", ", Enum.GetValues<RecordField>().Where(field => (Allowed[type] & Mask(field)) != 0).Select(Name));

    private static string NameOf(RecordField field)
    {
        string name = field.ToString();
        foreach (string part in (string[])["Removed", "Fitted"])
        {
            if (name.Length > part.Length && name.StartsWith(part, StringComparison.Ordinal))
            {
                return JsonNamingPolicy.SnakeCaseLower.ConvertName(part) + "."
                    + JsonNamingPolicy.SnakeCaseLower.ConvertName(name[part.Length..]);
            }
        }

        return JsonNamingPolicy.SnakeCaseLower.ConvertName(name);
    }
}
