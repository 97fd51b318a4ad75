using System.Text;
using System.Text.Unicode;

namespace Washwear.Api.Ingest;

/// <summary>One row after parsing: a record, or why there is none.</summary>
/// <param name="Number">Its place in the request, from 1.</param>
/// <param name="Record">The record; null if the row could not be made one.</param>
/// <param name="Problem">Why there is no record.</param>
/// <param name="Source">Its source, as far as it could be read.</param>
/// <param name="Key">Its key, as far as it could be read.</param>
/// <param name="Text">The row as it came; null: the record was never a text.</param>
/// <param name="Header">CSV header that the row belongs to, or headers of the event; null: the row is JSON alone.</param>
/// <param name="Format">Form of the body that it came in.</param>
internal sealed record IncomingRow(
    int Number,
    IncomingRecord? Record,
    RowProblem? Problem,
    string Source,
    string? Key,
    byte[]? Text,
    string? Header,
    BodyFormat Format = BodyFormat.Json)
{
    // A row and its record, beside the text: an estimate from the fields of a wash, on the safe side.
    private const int RecordBytes = 640;

    /// <summary>Name of the form in which the row can be sent again.</summary>
    public string FormatName => Format switch
    {
        BodyFormat.Csv => "csv",
        BodyFormat.CloudEvents or BodyFormat.CloudEventData => "cloudevent",
        _ => "json",
    };

    /// <summary>Bytes of text that the row holds on to.</summary>
    public int TextBytes => Text?.Length ?? 0;

    /// <summary>What the row holds in memory, about, bytes.</summary>
    public long HeldBytes => RecordBytes + TextBytes;

    /// <summary>The text in the form in which it can be mended and sent again: a CSV row comes with its header, an event's
    /// data with the headers and an empty line before it.</summary>
    public string Body()
    {
        string text = Text is null ? RecordJson.Write(Record!) : Readable(Text);
        return Header is null ? text : Header + "\n" + text;
    }

    // Latin-1 gives each byte a character, so that nothing of a row in another encoding is lost. A NUL would end an SQL text early.
    private static string Readable(byte[] text) =>
        (Utf8.IsValid(text) ? Encoding.UTF8.GetString(text) : Encoding.Latin1.GetString(text)).Replace('\0', '\u2400');
}
