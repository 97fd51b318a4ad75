using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace Washwear.Api.Sheets;

/// <summary>A column of a workbook that is written.</summary>
/// <param name="Cells">Its cells from the first row on.</param>
/// <param name="Choices">Words that may be chosen below them; empty: any.</param>
internal sealed record WrittenColumn(IReadOnlyList<string> Cells, IReadOnlyList<string> Choices);

/// <summary>Writes a small workbook of words, its first row bold and standing still, with lists to choose from.</summary>
internal static class XlsxWriter
{
    private const int RowsWithLists = 2_000;
    private const int LongestList = 255;

    /// <summary>Writes it.</summary>
    /// <param name="stream">Where to; must be able to seek.</param>
    /// <param name="sheetName">Name of the sheet.</param>
    /// <param name="columns">Its columns.</param>
    public static void Write(Stream stream, string sheetName, IReadOnlyList<WrittenColumn> columns)
    {
        using SpreadsheetDocument document = SpreadsheetDocument.Create(stream, SpreadsheetDocumentType.Workbook);
        WorkbookPart workbook = document.AddWorkbookPart();
        WorkbookStylesPart styles = workbook.AddNewPart<WorkbookStylesPart>();
        styles.Stylesheet = Styles();
        WorksheetPart part = workbook.AddNewPart<WorksheetPart>();
        int rows = columns.Max(column => column.Cells.Count);
        var data = new SheetData();
        for (int row = 0; row < rows; row++)
        {
            data.Append(new Row(columns.Select((column, i) => Cell(row < column.Cells.Count ? column.Cells[row] : string.Empty, i, row)).OfType<OpenXmlElement>()) { RowIndex = (uint)row + 1 });
        }

        part.Worksheet = new Worksheet(
            new SheetViews(new SheetView(new Pane { VerticalSplit = 1, TopLeftCell = "A2", ActivePane = PaneValues.BottomLeft, State = PaneStateValues.Frozen }) { WorkbookViewId = 0 }),
            new Columns(columns.Select((_, i) => new Column { Min = (uint)i + 1, Max = (uint)i + 1, Width = 24, CustomWidth = true })),
            data);
        DataValidation[] lists = [.. columns.Select((column, i) => List(column, i, rows)).OfType<DataValidation>()];
        if (lists.Length > 0)
        {
            part.Worksheet.Append(new DataValidations(lists) { Count = (uint)lists.Length });
        }

        workbook.Workbook = new Workbook(new DocumentFormat.OpenXml.Spreadsheet.Sheets(new Sheet { Id = workbook.GetIdOfPart(part), SheetId = 1, Name = sheetName }));
    }

    private static Stylesheet Styles() => new(
        new Fonts(new Font(), new Font(new Bold())) { Count = 2 },
        new Fills(new Fill(new PatternFill { PatternType = PatternValues.None }), new Fill(new PatternFill { PatternType = PatternValues.Gray125 })) { Count = 2 },
        new Borders(new Border()) { Count = 1 },
        new CellStyleFormats(new CellFormat()) { Count = 1 },
        new CellFormats(
            new CellFormat { FormatId = 0 },
            new CellFormat { FormatId = 0, FontId = 1, ApplyFont = true },
            new CellFormat(new Alignment { WrapText = true, Vertical = VerticalAlignmentValues.Top }) { FormatId = 0, ApplyAlignment = true })
        { Count = 3 });

    private static Cell? Cell(string text, int column, int row) => text.Length == 0 ? null : new Cell(new InlineString(new Text(text)))
    {
        CellReference = FormattableString.Invariant($"{Letters(column)}{row + 1}"),
        DataType = CellValues.InlineString,
        StyleIndex = row == 0 ? 1U : 2U,
    };

    private static DataValidation? List(WrittenColumn column, int index, int rows)
    {
        string words = string.Join(',', column.Choices);
        return words.Length is 0 or > LongestList ? null : new DataValidation(new Formula1($"\"{words}\""))
        {
            Type = DataValidationValues.List,
            AllowBlank = true,
            // The person's own words may stand there as well; they are mapped.
            ShowErrorMessage = false,
            SequenceOfReferences = new ListValue<StringValue> { InnerText = FormattableString.Invariant($"{Letters(index)}{rows + 1}:{Letters(index)}{rows + RowsWithLists}") },
        };
    }

    private static string Letters(int column) => column < 26 ? ((char)('A' + column)).ToString() : Letters((column / 26) - 1) + (char)('A' + (column % 26));
}
