using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Ingest;

/// <summary>Makes a typed record of a draft.</summary>
internal static class RecordBuilder
{
    /// <summary>Builds the record.</summary>
    /// <param name="draft">The row as written.</param>
    /// <param name="defaultType">Type of a row that does not name its own; null: each has to.</param>
    /// <param name="defaultSource">Source of a row that does not name its own.</param>
    /// <param name="problem">Why there is no record.</param>
    /// <returns>The record, or null.</returns>
    public static IncomingRecord? Build(RecordDraft draft, string? defaultType, string defaultSource, out RowProblem? problem)
    {
        var reader = new FieldReader(draft);
        string type = TypeOf(draft, defaultType, reader);
        IncomingRecord? record = null;
        if (reader.Problem is null)
        {
            RefuseForeignFields(draft, type, reader);
            var head = new Head(
                reader.Code(RecordField.Source) ?? defaultSource,
                reader.RequiredKey(RecordField.Key),
                type == "void" ? string.Empty : reader.RequiredCode(RecordField.Unit),
                reader.Key(RecordField.Replaces));
            record = OfType(type, head, draft, reader);
        }

        problem = reader.Problem;
        return problem is null ? record : null;
    }

    private static string TypeOf(RecordDraft draft, string? defaultType, FieldReader reader)
    {
        string type = draft.Has(RecordField.Type) ? reader.RequiredWords(RecordField.Type) : defaultType ?? string.Empty;
        if (reader.Problem is null && !RecordFields.Allowed.ContainsKey(type))
        {
            string known = string.Join(", ", RecordFields.Types);
            reader.Refuse(type.Length == 0
                ? new("type", "missing", "The field 'type' is missing.", $"Give one of {known}.")
                : new("type", "unknown_type", "There is no such type of record.", $"Use one of {known}."));
        }

        return type;
    }

    private static void RefuseForeignFields(RecordDraft draft, string type, FieldReader reader)
    {
        if (draft.FirstOutside(RecordFields.Allowed[type]) is { } foreign)
        {
            reader.Refuse(foreign == RecordField.PartChanges
                ? RowProblems.PartChangesInside()
                : RowProblems.FieldOfAnotherType(RecordFields.Name(foreign), type));
        }
    }

    private static IncomingRecord OfType(string type, Head head, RecordDraft draft, FieldReader reader) => type switch
    {
        "wash" => Wash(head, reader),
        "fault" => new FaultRecord(
            head.Source, head.Key, head.Unit, reader.At(RecordField.RaisedAt), head.Replaces,
            reader.RequiredCode(RecordField.Code), reader.Instant(RecordField.ClearedAt)),
        "fault_cleared" => new FaultClearedRecord(
            head.Source, head.Key, head.Unit, reader.At(RecordField.ClearedAt), head.Replaces, reader.RequiredCode(RecordField.Code)),
        "part_change" => new PartChangeRecord(
            head.Source, head.Key, head.Unit, reader.At(null), head.Replaces,
            reader.RequiredCode(RecordField.Position), Removed(draft, reader), Fitted(draft, reader)),
        "meter" => new MeterRecord(
            head.Source, head.Key, head.Unit, reader.At(null), head.Replaces,
            reader.Number(RecordField.WashesTotal), reader.Number(RecordField.OperatingHoursTotal)),
        "heartbeat" => new HeartbeatRecord(head.Source, head.Key, head.Unit, reader.At(null), head.Replaces),
        "visit" => Visit(head, draft, reader),
        "approval" => Approval(head, draft, reader),
        "condition" => new ConditionRecord(
            head.Source, head.Key, head.Unit, reader.At(null), head.Replaces,
            reader.RequiredCode(RecordField.Position), reader.RequiredOneOf<ConditionGrade>(RecordField.Grade), reader.Note(RecordField.Note)),
        "void" => new VoidRecord(
            head.Source, head.Key, reader.At(null), reader.RequiredKey(RecordField.Voids), reader.RequiredWords(RecordField.Reason)),
        _ => throw new ArgumentOutOfRangeException(nameof(type), type, "No such type of record."),
    };

    private static WashRecord Wash(Head head, FieldReader reader) => new(
        head.Source,
        head.Key,
        head.Unit,
        reader.At(RecordField.StartedAt),
        head.Replaces,
        reader.Instant(RecordField.EndedAt),
        reader.Code(RecordField.Programme),
        reader.OneOf<ProgrammeGrade>(RecordField.Grade),
        reader.RequiredOneOf<WashOutcome>(RecordField.Outcome),
        reader.Code(RecordField.FaultCode),
        reader.Number(RecordField.DetergentDoses),
        reader.YesOrNo(RecordField.DetergentLeft),
        reader.Words(RecordField.AttestedBy));

    private static VisitRecord Visit(Head head, RecordDraft draft, FieldReader reader) => new(
        head.Source,
        head.Key,
        head.Unit,
        FirstOf(draft, reader, RecordField.AskedAt, RecordField.ArrivedAt, RecordField.LeftAt),
        head.Replaces,
        reader.Instant(RecordField.AskedAt),
        reader.Instant(RecordField.ArrivedAt),
        reader.Instant(RecordField.LeftAt),
        reader.OneOf<VisitOutcome>(RecordField.Outcome),
        reader.Words(RecordField.Technician),
        reader.Note(RecordField.Note),
        reader.List<string>(RecordField.Faults),
        reader.List<VisitCheck>(RecordField.Checks),
        reader.List<VisitFinding>(RecordField.Findings),
        reader.List<VisitProof>(RecordField.Proofs),
        reader.List<PartCondition>(RecordField.Conditions));

    private static ApprovalRecord Approval(Head head, RecordDraft draft, FieldReader reader) => new(
        head.Source,
        head.Key,
        head.Unit,
        FirstOf(draft, reader, RecordField.AskedAt, RecordField.DecidedAt),
        head.Replaces,
        reader.Words(RecordField.What),
        reader.Number(RecordField.Amount),
        reader.Code(RecordField.FaultCode),
        reader.Instant(RecordField.AskedAt),
        reader.OneOf<ApprovalDecision>(RecordField.Decision),
        reader.Instant(RecordField.DecidedAt),
        reader.Words(RecordField.DecidedBy),
        reader.Note(RecordField.Note));

    // The record's own instant is the first of those that it names: everything from there on may change with it.
    private static DateTimeOffset FirstOf(RecordDraft draft, FieldReader reader, params RecordField[] inOrder)
    {
        RecordField[] given = [.. inOrder.Where(draft.Has)];
        if (given.Length > 0)
        {
            return reader.At(given[0]);
        }

        reader.Refuse(VisitProblems.NoInstant(RecordFields.Name(inOrder[0]), string.Join(", ", inOrder.Select(RecordFields.Name))));
        return default;
    }

    private static RemovedPart? Removed(RecordDraft draft, FieldReader reader) =>
        IsThere(draft, reader, RecordField.Removed, RecordFields.OfRemoved)
            ? new RemovedPart(
                reader.RequiredOneOf<RemovalReason>(RecordField.RemovedReason),
                reader.Words(RecordField.RemovedFailureMode),
                reader.Words(RecordField.RemovedMechanism),
                reader.Instant(RecordField.RemovedLastSeenGoodAt),
                reader.Instant(RecordField.RemovedFittedAt))
            : null;

    private static NewPart? Fitted(RecordDraft draft, FieldReader reader) =>
        IsThere(draft, reader, RecordField.Fitted, RecordFields.OfFitted)
            ? new NewPart(
                reader.Code(RecordField.FittedPartNumber),
                reader.Words(RecordField.FittedBatch),
                reader.Words(RecordField.FittedSupplier),
                reader.Number(RecordField.FittedAgeDays),
                reader.Number(RecordField.FittedAgeWashes))
            : null;

    // In CSV a part of which nothing is known is told by a cell that says true.
    private static bool IsThere(RecordDraft draft, FieldReader reader, RecordField whole, ulong parts)
    {
        bool said = reader.YesOrNo(whole) ?? false;
        bool details = (draft.Given & parts & ~RecordFields.Mask(whole)) != 0;
        if (draft.Has(whole) && !said && details)
        {
            reader.Refuse(new(
                RecordFields.Name(whole),
                "contradiction",
                $"{RecordFields.Name(whole)} is false, yet details are given.",
                "Take one of them out."));
        }

        return said || details;
    }

    private readonly record struct Head(string Source, string Key, string Unit, string? Replaces);
}
