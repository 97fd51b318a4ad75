using System.IO.Pipelines;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Unicode;
using Washwear.Api.Ingest;
using Washwear.Dashboard.Import;

namespace Washwear.Api.Sheets;

/// <summary>A CSV file: comma, semicolon or tab; UTF-8, or Windows-1252 where it is none.</summary>
internal sealed class CsvSheet : SheetFile
{
    private const int LinesToLookAt = 30;

    private static readonly Encoding Western = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;

    private readonly string _path;
    private readonly SheetLimits _limits;
    private readonly Encoding _encoding;
    private readonly char _delimiter;

    private CsvSheet(string path, SheetLimits limits, Encoding encoding, char delimiter)
    {
        (_path, _limits, _encoding, _delimiter) = (path, limits, encoding, delimiter);
        (string, string) cut = ("separator", ImportSentences.Separator(delimiter));
        Notes = encoding == Western
            ? [ImportSentences.Note(ImportNote.CsvWestern, cut), ImportSentences.Note(ImportNote.NotUtf8)]
            : [ImportSentences.Note(ImportNote.Csv, cut)];
    }

    /// <inheritdoc/>
    public override IReadOnlyList<string> Sheets { get; } = [string.Empty];

    /// <inheritdoc/>
    public override string Sheet => string.Empty;

    /// <inheritdoc/>
    public override bool HasSemicolons => _delimiter == ';';

    /// <inheritdoc/>
    public override IReadOnlyList<string> Notes { get; }

    /// <summary>Finds out how the file is written.</summary>
    /// <param name="path">The file.</param>
    /// <param name="limits">How much is read.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    /// <exception cref="UnreadableBodyException">It is no text.</exception>
    public static async Task<CsvSheet> OpenAsync(string path, SheetLimits limits, CancellationToken cancellationToken)
    {
        Encoding encoding = await IsUtf8Async(path, cancellationToken) ? Encoding.UTF8 : Western;
        var lines = new List<string>();
        await foreach (RawRow raw in FramesAsync(path, limits, cancellationToken))
        {
            lines.Add(encoding.GetString(raw.Text).TrimEnd('\r'));
            if (lines.Count == LinesToLookAt)
            {
                break;
            }
        }

        return new CsvSheet(path, limits, encoding, DelimiterOf(lines));
    }

    /// <inheritdoc/>
    public override async IAsyncEnumerable<SheetRow> RowsAsync([EnumeratorCancellation] CancellationToken cancellationToken)
    {
        int rows = 0;
        await foreach (RawRow raw in FramesAsync(_path, _limits, cancellationToken))
        {
            string text = _encoding.GetString(raw.Text).TrimEnd('\r');
            if (!raw.TooLong && (IsBlank(text) || (raw.Number == 1 && IsSeparatorLine(text))))
            {
                continue;
            }

            if (++rows > _limits.Rows)
            {
                throw TooManyRows(_limits.Rows);
            }

            yield return Row(raw, text);
        }
    }

    /// <summary>What to say of a file that is too long.</summary>
    /// <param name="most">Most rows.</param>
    internal static UnreadableBodyException TooManyRows(int most) => new(
        "too_many_rows",
        FormattableString.Invariant($"The file has more than {most} rows."),
        "Send it in several files (import_rows_max is the limit); sending a row again is safe.");

    /// <summary>The rows of a file without what it says of its separator, cut where they end.</summary>
    private static async IAsyncEnumerable<RawRow> FramesAsync(
        string path, SheetLimits limits, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await using FileStream file = File.OpenRead(path);
        PipeReader pipe = PipeReader.Create(file);
        ReadResult start = await pipe.ReadAtLeastAsync(3, cancellationToken);
        byte[] first = System.Buffers.BuffersExtensions.ToArray(start.Buffer.Slice(0, Math.Min(3, start.Buffer.Length)));
        pipe.AdvanceTo(start.Buffer.GetPosition(first is [0xEF, 0xBB, 0xBF] ? 3 : 0));
        await foreach (RawRow raw in new RowFramer(new CsvBoundary(), limits.RowBytes).ReadAsync(pipe, cancellationToken))
        {
            yield return raw;
        }
    }

    // A whole file of single-byte text may begin like UTF-8, so it is looked through to its end.
    private static async Task<bool> IsUtf8Async(string path, CancellationToken cancellationToken)
    {
        byte[] buffer = new byte[64 * 1024];
        await using FileStream file = File.OpenRead(path);
        int kept = 0;
        bool utf8 = true;
        while (await file.ReadAsync(buffer.AsMemory(kept), cancellationToken) is var read and > 0)
        {
            Span<byte> chunk = buffer.AsSpan(0, kept + read);
            if (chunk.Contains((byte)0) || (file.Position == read && chunk is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..]))
            {
                throw new UnreadableBodyException(
                    "not_a_sheet", "The file is no .xlsx workbook and no CSV text in UTF-8 or Windows-1252.", "Save the sheet as .xlsx or as 'CSV UTF-8'.");
            }

            int whole = WholeCharacters(chunk);
            utf8 &= Utf8.IsValid(chunk[..whole]);
            kept = utf8 ? chunk.Length - whole : 0;
            if (utf8)
            {
                chunk[whole..].CopyTo(buffer);
            }
        }

        return utf8 && kept == 0;
    }

    // A character that the end of the chunk cuts is left for the next one; at most three bytes.
    private static int WholeCharacters(ReadOnlySpan<byte> chunk)
    {
        for (int back = 1; back <= Math.Min(3, chunk.Length); back++)
        {
            byte one = chunk[^back];
            if (one < 0x80)
            {
                return chunk.Length;
            }

            if (one >= 0xC0)
            {
                int length = one >= 0xF0 ? 4 : one >= 0xE0 ? 3 : 2;
                return length > back ? chunk.Length - back : chunk.Length;
            }
        }

        return chunk.Length;
    }

    // The separator that cuts the most lines into the same number of cells, and into the more of them.
    private static char DelimiterOf(List<string> lines)
    {
        if (lines.Count > 0 && IsSeparatorLine(lines[0]))
        {
            return lines[0][^1];
        }

        char best = ',';
        int bestScore = 0;
        foreach (char delimiter in (ReadOnlySpan<char>)[',', ';', '\t'])
        {
            (int cells, int times) = lines.Where(line => !IsBlank(line)).Select(line => CsvCells.Split(line, delimiter)?.Length ?? 0).Where(count => count > 1)
                .GroupBy(count => count).Select(same => (same.Key, same.Count())).OrderByDescending(pair => pair.Item2).ThenByDescending(pair => pair.Key)
                .FirstOrDefault();
            int score = (times * 1000) + cells;
            if (score > bestScore)
            {
                (best, bestScore) = (delimiter, score);
            }
        }

        return best;
    }

    // Some spreadsheets write sep=; as the first line and skip it when they read.
    private static bool IsSeparatorLine(string line) => line.Length == 5 && line.StartsWith("sep=", StringComparison.OrdinalIgnoreCase);

    private static bool IsBlank(string line) => line.AsSpan().Trim(",;\t \"").IsEmpty;

    private SheetRow Row(RawRow raw, string text)
    {
        if (raw.TooLong)
        {
            return new SheetRow(raw.Number, [], FormattableString.Invariant($"The row is longer than {_limits.RowBytes} bytes; if a quote is never closed, close it."));
        }

        string[]? cells = CsvCells.Split(text, _delimiter);
        return cells is null
            ? new SheetRow(raw.Number, [SheetCell.OfText(text)], "A double quote is not closed, or stands inside a cell without being doubled.")
            : cells.Length > SheetLimits.Columns
            ? new SheetRow(raw.Number, [], FormattableString.Invariant($"The row has more than {SheetLimits.Columns} cells."))
            : new SheetRow(raw.Number, [.. cells.Select(SheetCell.OfText)]);
    }
}
