using Microsoft.Net.Http.Headers;
using Washwear.Api.Http;
using Washwear.Api.Registry;

namespace Washwear.Api.Ingest;

/// <summary>What a CloudEvent (CNCF, version 1.0) says about its data, as it came; null: not said.</summary>
/// <param name="SpecVersion">Version of the specification.</param>
/// <param name="Id">Unique within the source.</param>
/// <param name="Source">Where it comes from.</param>
/// <param name="Type">Kind of event; its last segment names the type of record.</param>
/// <param name="Time">When it happened.</param>
/// <param name="DataContentType">Media type of the data; null: JSON.</param>
/// <param name="Prefix">What names of attributes begin with where they came, such as ce- for headers.</param>
internal sealed record CloudEventAttributes(
    string? SpecVersion, string? Id, string? Source, string? Type, string? Time, string? DataContentType, string Prefix = "")
{
    private const string Version = "1.0";

    // A record that names one of these knows when it happened.
    private static readonly ulong Instants = RecordFields.Mask(
        RecordField.At, RecordField.StartedAt, RecordField.RaisedAt, RecordField.AskedAt, RecordField.ArrivedAt, RecordField.LeftAt,
        RecordField.DecidedAt);

    /// <summary>Whether a media type is JSON.</summary>
    /// <param name="mediaType">The media type; null: as for data of which nothing is said.</param>
    public static bool IsJson(string? mediaType) =>
        mediaType is null
        || (MediaTypeHeaderValue.TryParse(mediaType, out MediaTypeHeaderValue? type)
            && (type.Suffix.Equals("json", StringComparison.OrdinalIgnoreCase)
                || type.SubType.Equals("json", StringComparison.OrdinalIgnoreCase)));

    /// <summary>The type of record that a type of event names: its last segment, not counting a version such as v2.</summary>
    /// <param name="type">The type of event, such as com.example.wash or com.example.wash.v2.</param>
    public static string RecordTypeOf(string type)
    {
        string[] segments = type.Split('.');
        return segments.Length > 1 && IsVersion(segments[^1]) ? segments[^2] : segments[^1];
    }

    /// <summary>Adds to a record what its data does not say: key, type, source and instant.</summary>
    /// <param name="draft">The fields of the data.</param>
    /// <param name="type">Type of record that the request names, which goes before the event's; null: none.</param>
    /// <param name="source">Source that the request names, which goes before the event's; null: none.</param>
    /// <returns>The first thing that is wrong with the attributes, or null.</returns>
    public RowProblem? Complete(RecordDraft draft, string? type, string? source)
    {
        bool ownSource = draft.Has(RecordField.Source) || source is not null;
        bool ownType = draft.Has(RecordField.Type) || type is not null;
        bool ownKey = draft.Has(RecordField.Key);
        SetUnlessThere(draft, RecordField.Source, source ?? Source);
        SetUnlessThere(draft, RecordField.Type, type ?? (Type is null ? null : RecordTypeOf(Type)));
        SetUnlessThere(draft, RecordField.Key, Id);
        if (!KnowsWhen(draft))
        {
            SetUnlessThere(draft, RecordField.At, Time);
        }

        return WrongVersion()
            ?? Missing("id", Id)
            ?? Missing("source", Source)
            ?? Missing("type", Type)
            ?? (ownKey || Id!.Length <= FieldReader.LongestKey ? null : CloudEventProblems.LongId(Prefix))
            ?? (ownSource || Codes.IsValid(Source!) ? null : CloudEventProblems.OddSource(Prefix))
            ?? (ownType || RecordFields.Allowed.ContainsKey(RecordTypeOf(Type!)) ? null : CloudEventProblems.OddType(Prefix))
            ?? (Time is null || InstantConverter.TryParse(Time, out _) ? null : CloudEventProblems.OddTime(Prefix))
            ?? (IsJson(DataContentType) ? null : CloudEventProblems.NotJson("datacontenttype"));
    }

    private static bool IsVersion(string segment) => segment.Length > 1 && segment[0] is 'v' or 'V' && segment[1..].All(char.IsAsciiDigit);

    private static void SetUnlessThere(RecordDraft draft, RecordField field, string? text)
    {
        if (text is not null && !draft.Has(field))
        {
            draft.Set(field, new Slot(SlotKind.Text, text));
        }
    }

    // When a fault was cleared is its instant only where the clearing is a record of its own.
    private static bool KnowsWhen(RecordDraft draft) =>
        (draft.Given & Instants) != 0
        || (draft.Has(RecordField.ClearedAt) && draft.TextOrNull(RecordField.Type) == "fault_cleared");

    private RowProblem? WrongVersion() =>
        Missing("specversion", SpecVersion) ?? (SpecVersion == Version ? null : CloudEventProblems.OddVersion(Prefix));

    private RowProblem? Missing(string attribute, string? value) =>
        string.IsNullOrWhiteSpace(value) ? CloudEventProblems.Missing(Prefix + attribute) : null;
}
