using System.Text.Encodings.Web;
using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>Records as they are written outside: the same fields that are read, in one order.</summary>
public static class RecordJson
{
    private const string FittedName = "fitted";

    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Type of a record, as its field type says it.</summary>
    /// <param name="record">The record.</param>
    public static string TypeOf(IncomingRecord record) => record switch
    {
        WashRecord => "wash",
        FaultRecord => "fault",
        FaultClearedRecord => "fault_cleared",
        PartChangeRecord => "part_change",
        MeterRecord => "meter",
        HeartbeatRecord => "heartbeat",
        VisitRecord => "visit",
        ApprovalRecord => "approval",
        ConditionRecord => "condition",
        VoidRecord => "void",
        _ => throw new ArgumentOutOfRangeException(nameof(record), record, "No such type of record."),
    };

    /// <summary>Writes a record as one JSON object, ready to be sent.</summary>
    /// <param name="record">The record.</param>
    public static string Write(IncomingRecord record)
    {
        using var text = new MemoryStream();
        using (var writer = new Utf8JsonWriter(text, Options))
        {
            writer.WriteStartObject();
            WriteFields(writer, record);
            writer.WriteEndObject();
        }

        return System.Text.Encoding.UTF8.GetString(text.GetBuffer(), 0, (int)text.Length);
    }

    /// <summary>Writes the fields of a record into an object that is open; what was removed and fitted are objects of their own.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="record">The record.</param>
    public static void WriteFields(Utf8JsonWriter writer, IncomingRecord record)
    {
        ArgumentNullException.ThrowIfNull(writer);
        string? open = null;
        foreach ((string name, object value) in Fields(record))
        {
            string[] path = name.Split('.');
            string? owner = path.Length > 1 || name is FittedName ? path[0] : null;
            Move(writer, open, owner);
            open = owner;
            if (name is not FittedName)
            {
                WriteField(writer, path[^1], value);
            }
        }

        Move(writer, open, null);
    }

    /// <summary>Name and value of each field that the record has; nested ones are dotted. Values are text, number, true and false, or a list as
    /// JSON.</summary>
    /// <param name="record">The record.</param>
    public static IEnumerable<KeyValuePair<string, object>> Fields(IncomingRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        IEnumerable<(RecordField Field, object? Value)> head =
        [
            (RecordField.Type, TypeOf(record)),
            (RecordField.Key, record.Key),
            (RecordField.Source, record.Source),
            (RecordField.Unit, record is VoidRecord ? null : record.Unit),
            (RecordField.At, record.At),
            (RecordField.Replaces, record.Replaces),
        ];
        return head.Concat(Payload(record))
            .Where(pair => pair.Value is not null)
            .Select(pair => KeyValuePair.Create(RecordFields.Name(pair.Field), Plain(pair.Value!)));
    }

    private static object Plain(object value) => value switch
    {
        DateTimeOffset instant => InstantConverter.Format(instant.ToUniversalTime()),
        ProgrammeGrade grade => EnumText<ProgrammeGrade>.Of(grade),
        WashOutcome outcome => EnumText<WashOutcome>.Of(outcome),
        RemovalReason reason => EnumText<RemovalReason>.Of(reason),
        VisitOutcome outcome => EnumText<VisitOutcome>.Of(outcome),
        ApprovalDecision decision => EnumText<ApprovalDecision>.Of(decision),
        ConditionGrade grade => EnumText<ConditionGrade>.Of(grade),
        System.Collections.IEnumerable list and not string => JsonSerializer.SerializeToElement(list, list.GetType(), Json.Options),
        _ => value,
    };

    private static IEnumerable<(RecordField Field, object? Value)> Payload(IncomingRecord record) => record switch
    {
        WashRecord wash =>
        [
            (RecordField.EndedAt, wash.EndedAt), (RecordField.Programme, wash.Programme), (RecordField.Grade, wash.Grade),
            (RecordField.Outcome, wash.Outcome), (RecordField.FaultCode, wash.FaultCode),
            (RecordField.DetergentDoses, wash.DetergentDoses), (RecordField.DetergentLeft, wash.DetergentLeft),
            (RecordField.AttestedBy, wash.AttestedBy),
        ],
        FaultRecord fault => [(RecordField.Code, fault.Code), (RecordField.ClearedAt, fault.ClearedAt)],
        FaultClearedRecord cleared => [(RecordField.Code, cleared.Code)],
        PartChangeRecord change => [(RecordField.Position, change.Position), .. Removed(change.Removed), .. Fitted(change.Fitted)],
        MeterRecord meter =>
            [(RecordField.WashesTotal, meter.WashesTotal), (RecordField.OperatingHoursTotal, meter.OperatingHoursTotal)],
        HeartbeatRecord => [],
        VisitRecord visit =>
        [
            (RecordField.AskedAt, visit.AskedAt), (RecordField.ArrivedAt, visit.ArrivedAt), (RecordField.LeftAt, visit.LeftAt),
            (RecordField.Outcome, visit.Outcome), (RecordField.Technician, visit.Technician), (RecordField.Note, visit.Note),
            (RecordField.Faults, visit.Faults), (RecordField.Checks, visit.Checks),
            (RecordField.Findings, visit.Findings), (RecordField.Proofs, visit.Proofs),
            (RecordField.Conditions, visit.Conditions),
        ],
        ApprovalRecord approval =>
        [
            (RecordField.What, approval.What), (RecordField.Amount, approval.Amount), (RecordField.FaultCode, approval.FaultCode),
            (RecordField.AskedAt, approval.AskedAt), (RecordField.Decision, approval.Decision),
            (RecordField.DecidedAt, approval.DecidedAt), (RecordField.DecidedBy, approval.DecidedBy), (RecordField.Note, approval.Note),
        ],
        ConditionRecord seen =>
            [(RecordField.Position, seen.Position), (RecordField.Grade, seen.Grade), (RecordField.Note, seen.Note)],
        VoidRecord gone => [(RecordField.Voids, gone.Voids), (RecordField.Reason, gone.Reason)],
        _ => throw new ArgumentOutOfRangeException(nameof(record), record, "No such type of record."),
    };

    private static IEnumerable<(RecordField Field, object? Value)> Removed(RemovedPart? part) => part is null ? [] :
    [
        (RecordField.RemovedReason, part.Reason), (RecordField.RemovedFailureMode, part.FailureMode),
        (RecordField.RemovedMechanism, part.Mechanism), (RecordField.RemovedLastSeenGoodAt, part.LastSeenGoodAt),
        (RecordField.RemovedFittedAt, part.FittedAt),
    ];

    private static IEnumerable<(RecordField Field, object? Value)> Fitted(NewPart? part) => part is null ? [] :
    [
        (RecordField.Fitted, true), (RecordField.FittedPartNumber, part.PartNumber), (RecordField.FittedBatch, part.Batch),
        (RecordField.FittedSupplier, part.Supplier), (RecordField.FittedAgeDays, part.AgeDays),
        (RecordField.FittedAgeWashes, part.AgeWashes),
    ];

    private static void Move(Utf8JsonWriter writer, string? from, string? to)
    {
        if (from == to)
        {
            return;
        }

        if (from is not null)
        {
            writer.WriteEndObject();
        }

        if (to is not null)
        {
            writer.WriteStartObject(to);
        }
    }

    private static void WriteField(Utf8JsonWriter writer, string name, object value)
    {
        switch (value)
        {
            case string text:
                writer.WriteString(name, text);
                break;
            case double number:
                writer.WriteNumber(name, number);
                break;
            case JsonElement list:
                writer.WritePropertyName(name);
                list.WriteTo(writer);
                break;
            case bool yes:
                writer.WriteBoolean(name, yes);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(value), value, "No such kind of value.");
        }
    }
}
