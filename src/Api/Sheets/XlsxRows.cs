using System.Globalization;
using System.Text;
using System.Xml;
using Washwear.Api.Ingest;

namespace Washwear.Api.Sheets;

/// <summary>Cells that are one: the value of the first counts for all.</summary>
internal readonly record struct MergedCells(int FirstRow, int LastRow, int FirstColumn, int LastColumn);

/// <summary>Reads the rows of one sheet of a workbook as they come.</summary>
/// <param name="strings">Words that cells share.</param>
/// <param name="styles">Which cells are dates.</param>
/// <param name="calendar">Which dates they are.</param>
internal sealed class XlsxRows(IReadOnlyList<string> strings, XlsxStyles styles, SheetCalendar calendar)
{
    private const int MostMerged = 100_000;

    private readonly StringBuilder _text = new();
    private readonly char[] _chunk = new char[1024];

    /// <summary>The rows that have at least one cell with something in it.</summary>
    /// <param name="part">The sheet.</param>
    public IEnumerable<SheetRow> Read(Stream part)
    {
        using XmlReader xml = XlsxXml.Open(part);
        int row = 0;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "row")
            {
                continue;
            }

            row = int.TryParse(xml.GetAttribute("r"), NumberStyles.None, CultureInfo.InvariantCulture, out int told) && told > 0 ? told : row + 1;
            List<SheetCell> cells = xml.IsEmptyElement ? [] : Cells(xml);
            if (cells.Count > 0)
            {
                yield return new SheetRow(row, cells);
            }
        }
    }

    /// <summary>The merged cells, which a sheet tells only after its rows.</summary>
    /// <param name="part">The sheet.</param>
    public static IReadOnlyList<MergedCells> Merged(Stream part)
    {
        using XmlReader xml = XlsxXml.Open(part);
        var merged = new List<MergedCells>();
        while (xml.Read() && merged.Count < MostMerged)
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "mergeCell" && xml.GetAttribute("ref")?.Split(':') is [var first, var last]
                && Place(first) is (int top, int left) && Place(last) is (int bottom, int right))
            {
                merged.Add(new MergedCells(top, bottom, left, Math.Min(right, SheetLimits.Columns - 1)));
            }
        }

        return [.. merged.OrderBy(one => one.FirstRow)];
    }

    // A1 is row 1, column 0.
    private static (int Row, int Column)? Place(string place)
    {
        int letters = place.TakeWhile(char.IsAsciiLetter).Count();
        return int.TryParse(place.AsSpan(letters), NumberStyles.None, CultureInfo.InvariantCulture, out int row) ? (row, ColumnOf(place)) : null;
    }

    private static int ColumnOf(string place)
    {
        int column = 0;
        for (int i = 0; i < place.Length && char.IsAsciiLetter(place[i]) && i < 4; i++)
        {
            column = (column * 26) + (char.ToUpperInvariant(place[i]) - 'A' + 1);
        }

        return column - 1;
    }

    private List<SheetCell> Cells(XmlReader xml)
    {
        var cells = new List<SheetCell>();
        int last = -1;
        int next = 0;
        int depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "c")
            {
                continue;
            }

            int column = xml.GetAttribute("r") is { Length: > 1 } place ? ColumnOf(place) : next;
            next = column + 1;
            SheetCell cell = Cell(xml);
            if (cell.IsEmpty || column < 0)
            {
                continue;
            }

            if (column >= SheetLimits.Columns)
            {
                throw new UnreadableBodyException(
                    "too_many_columns", FormattableString.Invariant($"The sheet has more than {SheetLimits.Columns} columns."), "Keep only the columns that matter.");
            }

            while (cells.Count <= column)
            {
                cells.Add(SheetCell.Empty);
            }

            cells[column] = cell;
            last = Math.Max(last, column);
        }

        return cells;
    }

    // A formula stands before the value that it last came to; only the value is read.
    private SheetCell Cell(XmlReader xml)
    {
        string type = xml.GetAttribute("t") ?? "n";
        int style = int.TryParse(xml.GetAttribute("s"), NumberStyles.None, CultureInfo.InvariantCulture, out int told) ? told : 0;
        if (xml.IsEmptyElement)
        {
            return SheetCell.Empty;
        }

        _text.Clear();
        int depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName is "v" or "t")
            {
                XlsxXml.AppendText(xml, _text, _chunk);
            }
            else if (xml.NodeType == XmlNodeType.Element && xml.LocalName is "f" or "rPh" && !xml.IsEmptyElement)
            {
                int inside = xml.Depth;
                while (xml.Read() && xml.Depth > inside)
                {
                }
            }
        }

        return Value(type, style, _text.ToString());
    }

    private SheetCell Value(string type, int style, string text)
    {
        if (text.Length == 0)
        {
            return SheetCell.Empty;
        }

        switch (type)
        {
            case "s":
                return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int index) && index < strings.Count
                    ? SheetCell.OfText(strings[index])
                    : throw XlsxGuard.Damaged();
            case "b":
                return SheetCell.OfYesNo(text == "1");
            case "e":
                return new SheetCell(CellKind.Error, text);
            case "n":
                return !double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) || !double.IsFinite(number)
                    ? SheetCell.OfText(text)
                    : styles[style] is var shape && shape != XlsxStyles.TimeShape.None
                    ? calendar.Cell(number, shape)
                    : SheetCell.OfNumber(number) with { At = calendar.At(number) ?? default };
            default:
                // str, inlineStr, and d, whose ISO 8601 text is read as any other.
                return SheetCell.OfText(text);
        }
    }
}
