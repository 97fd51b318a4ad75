using System.Buffers;
using System.IO.Pipelines;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Unicode;

namespace Washwear.Api.Ingest;

/// <summary>The forms in which records come.</summary>
public enum BodyFormat
{
    /// <summary>A JSON object, or an array of objects.</summary>
    Json,

    /// <summary>One JSON object a line.</summary>
    NdJson,

    /// <summary>CSV with a header of field names.</summary>
    Csv,

    /// <summary>A CloudEvent in JSON, or an array of them.</summary>
    CloudEvents,

    /// <summary>The JSON object of a CloudEvent whose attributes came in headers.</summary>
    CloudEventData,
}

/// <summary>Turns a body into rows as it arrives; holds one row at a time.</summary>
/// <param name="Format">Form of the body.</param>
/// <param name="Type">Type of rows that do not name theirs; null: each has to.</param>
/// <param name="Source">Source of rows that do not name theirs.</param>
/// <param name="MaxRowBytes">Longest row, bytes.</param>
internal sealed record BodyReader(BodyFormat Format, string? Type, string Source, int MaxRowBytes)
{
    private const int LongestMark = 4;

    private readonly RecordDraft _draft = new();

    /// <summary>Whether the request itself named the source, so that it goes before the one of an event.</summary>
    public bool SourceIsNamed { get; init; }

    /// <summary>The event that came in headers; null: none.</summary>
    public CloudEventHeaders? Event { get; init; }

    private bool IsOneJson => Format is BodyFormat.Json or BodyFormat.CloudEvents;

    /// <summary>The rows, in order.</summary>
    /// <param name="body">The body.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="UnreadableBodyException">The rest of the body, or all of it, cannot be read.</exception>
    public async IAsyncEnumerable<IncomingRow> ReadAsync(PipeReader body, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        RefuseUnknownType();
        await SkipByteOrderMarkAsync(body, cancellationToken);
        RowBoundary boundary = Format switch
        {
            BodyFormat.Json or BodyFormat.CloudEvents => new JsonBoundary(),
            BodyFormat.CloudEventData => new WholeBody(),
            BodyFormat.NdJson => new LineBoundary(),
            BodyFormat.Csv => new CsvBoundary(),
            _ => throw new InvalidOperationException($"No reader for {Format}."),
        };
        CsvHeader? header = null;
        bool any = false;
        await foreach (RawRow raw in new RowFramer(boundary, MaxRowBytes).ReadAsync(body, cancellationToken))
        {
            any = true;
            if (Format == BodyFormat.Csv && header is null)
            {
                header = CsvHeader.Read(raw, Type);
            }
            else if (boundary.Broken is not null)
            {
                throw Unreadable(boundary.Broken);
            }
            else if (!IsSkipped(raw))
            {
                yield return header is null ? FromJson(raw) : FromCsv(raw, header);
            }
        }

        if (boundary.Broken is not null)
        {
            throw Unreadable(boundary.Broken);
        }

        if (!any && !IsOneJson)
        {
            throw new UnreadableBodyException("empty", "The body is empty.", "Send at least one record.");
        }
    }

    private void RefuseUnknownType()
    {
        if (Type is not null && !RecordFields.Allowed.ContainsKey(Type))
        {
            string known = string.Join(", ", RecordFields.Types);
            throw new UnreadableBodyException("unknown_type", $"There is no type of record '{Type}'.", $"Use one of {known}.");
        }
    }

    private static UnreadableBodyException Unreadable(string reason) => new(
        "unreadable", "The body is no JSON object and no array: " + reason, "Check the brackets and quotes; send one record a line as application/x-ndjson if that is easier.");

    private static async Task SkipByteOrderMarkAsync(PipeReader body, CancellationToken cancellationToken)
    {
        ReadResult start = await body.ReadAtLeastAsync(LongestMark, cancellationToken);
        byte[] first = start.Buffer.Slice(0, Math.Min(LongestMark, start.Buffer.Length)).ToArray();
        bool utf8Mark = first is [0xEF, 0xBB, 0xBF, ..];
        body.AdvanceTo(start.Buffer.GetPosition(utf8Mark ? 3 : 0));
        if (first is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] || first.Contains((byte)0))
        {
            throw new UnreadableBodyException(
                "utf8", "The body is in UTF-16 or UTF-32, or is no text at all.", "Save or send it as UTF-8 ('CSV UTF-8' in a spreadsheet).");
        }

        if (first.Length == 0)
        {
            throw new UnreadableBodyException("empty", "The body is empty.", "Send at least one record.");
        }
    }

    // Blank lines separate nothing; a blank element of an array is a comma too many.
    private bool IsSkipped(RawRow raw) => !IsOneJson && !raw.TooLong && raw.Text.AsSpan().Trim(" \t\r"u8).IsEmpty;

    private IncomingRow FromJson(RawRow raw)
    {
        _draft.Clear(textOnly: false);
        RowProblem? problem = raw.TooLong ? RowProblems.TooLong(MaxRowBytes)
            : raw.Text.AsSpan().Trim(" \t\r\n"u8).IsEmpty ? RowProblems.Empty()
            : ReadJson(raw.Text);
        return Finish(raw, raw.Number, problem, Event?.Text);
    }

    private RowProblem? ReadJson(byte[] row)
    {
        string? named = SourceIsNamed ? Source : null;
        return Format switch
        {
            BodyFormat.CloudEvents => CloudEventReader.Read(row, _draft, Type, named),
            BodyFormat.CloudEventData => ReadData(row, named),
            _ => JsonRowReader.Read(row, _draft),
        };
    }

    private RowProblem? ReadData(byte[] row, string? named)
    {
        RowProblem? inside = JsonRowReader.Read(row, _draft);
        return Event!.Problem ?? Event.Attributes.Complete(_draft, Type, named) ?? inside;
    }

    private IncomingRow FromCsv(RawRow raw, CsvHeader header)
    {
        _draft.Clear(textOnly: true);
        RowProblem? problem = raw.TooLong ? RowProblems.TooLong(MaxRowBytes)
            : !Utf8.IsValid(raw.Text) ? RowProblems.NotUtf8()
            : FillFromCells(CsvCells.Split(Encoding.UTF8.GetString(raw.Text).TrimEnd('\r'), header.Delimiter), header);
        return Finish(raw, raw.Number - 1, problem, header.Text);
    }

    private RowProblem? FillFromCells(string[]? cells, CsvHeader header)
    {
        if (cells is null)
        {
            return RowProblems.Quotes();
        }

        for (int column = 0; column < Math.Min(cells.Length, header.Fields.Count); column++)
        {
            if (cells[column].Length > 0)
            {
                _draft.Set(header.Fields[column], new Slot(SlotKind.Text, cells[column]));
            }
        }

        return cells.Length == header.Fields.Count ? null : RowProblems.CellCount(cells.Length, header.Fields.Count);
    }

    private IncomingRow Finish(RawRow raw, int number, RowProblem? problem, string? header)
    {
        IncomingRecord? record = problem is null ? RecordBuilder.Build(_draft, Type, Source, out problem) : null;
        return record is null
            ? new IncomingRow(number, null, problem, ShortOf(RecordField.Source) ?? Source, ShortOf(RecordField.Key), raw.Text, header, Format)
            : new IncomingRow(number, record, null, record.Source, record.Key, raw.Text, header, Format);
    }

    private string? ShortOf(RecordField field) =>
        _draft.TextOrNull(field) is { Length: > 0 and <= FieldReader.LongestKey } text && !text.Any(char.IsControl) ? text : null;
}
