using Washwear.Analytics.Cleaning;
using Washwear.Api.Ingest;

namespace Washwear.Api.Messages;

/// <summary>What a mapping has to know of the fields of records beside <see cref="RecordFields"/>: the words, instants and musts.</summary>
internal static class RecordWords
{
    /// <summary>Fields that have a place of their own in a mapping.</summary>
    public static readonly ulong WithOwnPlace = RecordFields.Mask(
        RecordField.Type, RecordField.Key, RecordField.Source, RecordField.Unit, RecordField.At);

    private static readonly ulong Instants = RecordFields.Mask(
        RecordField.At, RecordField.StartedAt, RecordField.EndedAt, RecordField.RaisedAt, RecordField.ClearedAt,
        RecordField.RemovedLastSeenGoodAt, RecordField.RemovedFittedAt, RecordField.AskedAt, RecordField.ArrivedAt, RecordField.LeftAt,
        RecordField.DecidedAt);

    /// <summary>Whether a field holds an instant.</summary>
    /// <param name="field">The field.</param>
    public static bool IsInstant(RecordField field) => (Instants & RecordFields.Mask(field)) != 0;

    /// <summary>Whether the record's own instant is one of its other fields, so that it has no 'at'.</summary>
    /// <param name="type">Type of the record.</param>
    public static bool NamesItsInstant(string type) => type is "visit" or "approval";

    /// <summary>Whether it does no harm if the same message makes two records, a moment apart.</summary>
    /// <param name="type">Type of the record.</param>
    public static bool MayRepeat(string type) => type is "heartbeat" or "meter";

    /// <summary>Whether a field is another name for 'at'.</summary>
    /// <param name="type">Type of the record.</param>
    /// <param name="field">The field.</param>
    public static bool IsAnotherNameForAt(string type, RecordField field) => (type, field) is
        ("wash", RecordField.StartedAt) or ("fault", RecordField.RaisedAt) or ("fault_cleared", RecordField.ClearedAt);

    /// <summary>Fields that a record of the type cannot do without.</summary>
    /// <param name="type">Type of the record.</param>
    public static IReadOnlyList<RecordField> Musts(string type) => type switch
    {
        "wash" => [RecordField.Outcome],
        "fault" or "fault_cleared" => [RecordField.Code],
        "part_change" => [RecordField.Position],
        "condition" => [RecordField.Position, RecordField.Grade],
        "void" => [RecordField.Voids, RecordField.Reason],
        _ => [],
    };

    /// <summary>The words that a field may hold, for people; null: it holds no words of a list.</summary>
    /// <param name="type">Type of the record.</param>
    /// <param name="field">The field.</param>
    public static string? ListOf(string type, RecordField field) => (type, field) switch
    {
        ("wash", RecordField.Outcome) => EnumText<WashOutcome>.List,
        ("visit", RecordField.Outcome) => EnumText<VisitOutcome>.List,
        ("wash", RecordField.Grade) => EnumText<ProgrammeGrade>.List,
        ("condition", RecordField.Grade) => EnumText<ConditionGrade>.List,
        (_, RecordField.RemovedReason) => EnumText<RemovalReason>.List,
        (_, RecordField.Decision) => EnumText<ApprovalDecision>.List,
        _ => null,
    };
}
