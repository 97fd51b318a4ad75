using System.Globalization;
using System.Runtime.CompilerServices;
using System.Xml;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using Washwear.Api.Ingest;
using Washwear.Dashboard.Import;

namespace Washwear.Api.Sheets;

/// <summary>One sheet of an .xlsx workbook. The library finds the parts; the rows are read from their XML as they come.</summary>
internal sealed class XlsxSheet : SheetFile
{
    private readonly FileStream _file;
    private readonly SpreadsheetDocument _document;
    private readonly WorksheetPart _part;
    private readonly SheetLimits _limits;
    private readonly XlsxRows _rows;
    private readonly IReadOnlyList<MergedCells> _merged;

    private XlsxSheet(FileStream file, SpreadsheetDocument document, IReadOnlyList<Sheet> sheets, Sheet chosen, SheetLimits limits)
    {
        (_file, _document, _limits) = (file, document, limits);
        WorkbookPart workbook = document.WorkbookPart!;
        bool from1904 = workbook.Workbook?.WorkbookProperties?.Date1904?.Value ?? false;
        Sheets = [.. sheets.Select(one => one.Name?.Value ?? string.Empty)];
        Sheet = chosen.Name?.Value ?? string.Empty;
        _part = (WorksheetPart)workbook.GetPartById(chosen.Id!.Value!);
        _rows = new XlsxRows(XlsxStrings.Read(workbook.SharedStringTablePart?.GetStream()), XlsxStyles.Of(workbook), new SheetCalendar(from1904));
        _merged = HoldsMerged() ? XlsxRows.Merged(_part.GetStream()) : [];
        Notes = [.. NotesOf(from1904)];
    }

    /// <inheritdoc/>
    public override IReadOnlyList<string> Sheets { get; }

    /// <inheritdoc/>
    public override string Sheet { get; }

    /// <inheritdoc/>
    public override IReadOnlyList<string> Notes { get; }

    /// <summary>Opens a workbook.</summary>
    /// <param name="path">The file.</param>
    /// <param name="sheet">Name of the sheet wanted; null: the first that can be seen.</param>
    /// <param name="limits">How much is read.</param>
    /// <exception cref="UnreadableBodyException">It cannot be read, for a reason that its sender can mend.</exception>
    public static XlsxSheet Open(string path, string? sheet, SheetLimits limits)
    {
        FileStream file = File.OpenRead(path);
        SpreadsheetDocument? document = null;
        try
        {
            XlsxGuard.Check(file, limits);
            document = SpreadsheetDocument.Open(file, isEditable: false);
            if (document.DocumentType is SpreadsheetDocumentType.MacroEnabledWorkbook or SpreadsheetDocumentType.MacroEnabledTemplate or SpreadsheetDocumentType.AddIn)
            {
                throw XlsxGuard.Macros();
            }

            Sheet[] sheets = [.. (document.WorkbookPart?.Workbook?.Sheets?.Elements<Sheet>() ?? []).Where(one => IsTable(document.WorkbookPart!, one))];
            Sheet? chosen = sheet is null
                ? Array.Find(sheets, one => one.State is null || one.State.Value == SheetStateValues.Visible)
                : Array.Find(sheets, one => string.Equals(one.Name?.Value, sheet, StringComparison.OrdinalIgnoreCase));
            return chosen is null ? throw NoSheet(sheet, sheets) : new XlsxSheet(file, document, sheets, chosen, limits);
        }
        catch (Exception error)
        {
            document?.Dispose();
            file.Dispose();
            if (IsDamage(error))
            {
                throw XlsxGuard.Damaged();
            }

            throw;
        }
    }

    /// <inheritdoc/>
    public override async IAsyncEnumerable<SheetRow> RowsAsync([EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await Task.CompletedTask;
        var fill = new MergedFill(_merged);
        int count = 0;
        using IEnumerator<SheetRow> rows = _rows.Read(_part.GetStream()).GetEnumerator();
        while (Next(rows))
        {
            cancellationToken.ThrowIfCancellationRequested();
            SheetRow row = fill.Fill(rows.Current);
            if (++count > _limits.Rows)
            {
                throw CsvSheet.TooManyRows(_limits.Rows);
            }

            yield return row;
        }
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        _document.Dispose();
        _file.Dispose();
        base.Dispose(disposing);
    }

    private static bool IsTable(WorkbookPart workbook, Sheet sheet) =>
        sheet.Id?.Value is { } id && workbook.TryGetPartById(id, out OpenXmlPart? part) && part is WorksheetPart;

    private static UnreadableBodyException NoSheet(string? sheet, Sheet[] sheets) => sheet is null
        ? new UnreadableBodyException("no_sheet", "The workbook has no sheet with rows that can be seen.", "Save the sheet with the rows as .xlsx or CSV.")
        : new UnreadableBodyException(
            "no_sheet", $"The workbook has no sheet '{sheet}'.", $"It has: {string.Join(", ", sheets.Take(20).Select(one => one.Name?.Value))}.");

    private static bool IsDamage(Exception error) =>
        error is XmlException or OpenXmlPackageException or FileFormatException or InvalidDataException or ArgumentException or InvalidOperationException
            or FormatException or NullReferenceException or InvalidCastException or KeyNotFoundException or NotSupportedException
            or IndexOutOfRangeException;

    private static bool Next(IEnumerator<SheetRow> rows)
    {
        try
        {
            return rows.MoveNext();
        }
        catch (Exception error) when (IsDamage(error))
        {
            throw XlsxGuard.Damaged();
        }
    }

    private IEnumerable<string> NotesOf(bool from1904)
    {
        yield return Sheets.Count == 1
            ? ImportSentences.Note(ImportNote.Workbook, ("sheet", Sheet))
            : ImportSentences.Note(ImportNote.WorkbookOfSeveral, ("count", Sheets.Count.ToString(CultureInfo.InvariantCulture)), ("sheet", Sheet));
        if (from1904)
        {
            yield return ImportSentences.Note(ImportNote.From1904);
        }

        if (_merged.Count > 0)
        {
            yield return ImportSentences.Note(ImportNote.Joined, ("count", _merged.Count.ToString(CultureInfo.InvariantCulture)));
        }
    }

    // Looking for the word costs less than reading all rows twice where there is none.
    private bool HoldsMerged()
    {
        ReadOnlySpan<byte> word = "mergeCell "u8;
        using Stream part = _part.GetStream();
        byte[] buffer = new byte[64 * 1024];
        int kept = 0;
        int read;
        while ((read = part.Read(buffer, kept, buffer.Length - kept)) > 0)
        {
            Span<byte> seen = buffer.AsSpan(0, kept + read);
            if (seen.IndexOf(word) >= 0)
            {
                return true;
            }

            kept = Math.Min(word.Length - 1, seen.Length);
            seen[^kept..].CopyTo(buffer);
        }

        return false;
    }

    /// <summary>Gives each of joined cells the value of the first.</summary>
    private sealed class MergedFill(IReadOnlyList<MergedCells> merged)
    {
        private readonly List<(MergedCells Place, SheetCell Value)> _open = [];
        private int _next;

        public SheetRow Fill(SheetRow row)
        {
            while (_next < merged.Count && merged[_next].FirstRow <= row.Number)
            {
                MergedCells place = merged[_next++];
                if (place.FirstRow == row.Number && _open.Count < SheetLimits.Columns)
                {
                    _open.Add((place, row[place.FirstColumn]));
                }
            }

            _open.RemoveAll(one => one.Place.LastRow < row.Number);
            if (_open.Count == 0)
            {
                return row;
            }

            List<SheetCell> cells = [.. row.Cells];
            foreach ((MergedCells place, SheetCell value) in _open.Where(one => !one.Value.IsEmpty))
            {
                while (cells.Count <= place.LastColumn)
                {
                    cells.Add(SheetCell.Empty);
                }

                for (int column = place.FirstColumn; column <= place.LastColumn; column++)
                {
                    cells[column] = value;
                }
            }

            return row with { Cells = cells };
        }
    }
}
