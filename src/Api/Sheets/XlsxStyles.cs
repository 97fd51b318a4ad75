using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace Washwear.Api.Sheets;

/// <summary>Which cells of a workbook are dates or times: the number format of each cell style.</summary>
internal sealed class XlsxStyles
{
    private readonly TimeShape[] _shapes;

    private XlsxStyles(TimeShape[] shapes) => _shapes = shapes;

    /// <summary>What a number format shows.</summary>
    [Flags]
    public enum TimeShape : byte
    {
        /// <summary>A number.</summary>
        None = 0,

        /// <summary>A date.</summary>
        Date = 1,

        /// <summary>A time of day.</summary>
        Time = 2,
    }

    /// <summary>Reads the styles of a workbook.</summary>
    /// <param name="workbook">The workbook.</param>
    public static XlsxStyles Of(WorkbookPart workbook)
    {
        Stylesheet? sheet = workbook.WorkbookStylesPart?.Stylesheet;
        var formats = new Dictionary<uint, string>();
        foreach (NumberingFormat format in sheet?.NumberingFormats?.Elements<NumberingFormat>() ?? [])
        {
            formats[format.NumberFormatId?.Value ?? 0] = format.FormatCode?.Value ?? string.Empty;
        }

        return new XlsxStyles([.. (sheet?.CellFormats?.Elements<CellFormat>() ?? []).Select(style => ShapeOf(style.NumberFormatId?.Value ?? 0, formats))]);
    }

    /// <summary>What a cell style shows.</summary>
    /// <param name="style">Its index.</param>
    public TimeShape this[int style] => style >= 0 && style < _shapes.Length ? _shapes[style] : TimeShape.None;

    // ECMA-376 Part 1, 18.8.30: formats that every workbook knows by their number; those of some languages are between 27 and 58.
    private static TimeShape ShapeOf(uint id, Dictionary<uint, string> formats) =>
        formats.TryGetValue(id, out string? code) ? ShapeOf(code)
        : id switch
        {
            >= 14 and <= 17 => TimeShape.Date,
            >= 18 and <= 21 or >= 45 and <= 47 => TimeShape.Time,
            22 => TimeShape.Date | TimeShape.Time,
            >= 27 and <= 31 or 36 or >= 50 and <= 54 or 57 or 58 => TimeShape.Date,
            >= 32 and <= 35 or 55 or 56 => TimeShape.Time,
            _ => TimeShape.None,
        };

    /// <summary>What a format shows: letters outside quotes, escapes and brackets tell.</summary>
    /// <param name="code">The format, such as dd.mm.yyyy hh:mm.</param>
    internal static TimeShape ShapeOf(string code)
    {
        TimeShape shape = TimeShape.None;
        bool quoted = false;
        bool months = false;
        for (int i = 0; i < code.Length && (code[i] != ';' || quoted); i++)
        {
            char letter = char.ToLowerInvariant(code[i]);
            if (letter == '"')
            {
                quoted = !quoted;
            }
            else if (quoted)
            {
                continue;
            }
            else if (letter is '\\' or '_' or '*')
            {
                i++;
            }
            else if (letter == '[')
            {
                int end = code.IndexOf(']', i);
                bool elapsed = end == i + 2 && "hms".Contains(char.ToLowerInvariant(code[i + 1]), StringComparison.Ordinal);
                shape |= elapsed ? TimeShape.Time : TimeShape.None;
                i = end < 0 ? code.Length : end;
            }
            else if (letter is 'y' or 'd')
            {
                shape |= TimeShape.Date;
            }
            else if (letter is 'h' or 's')
            {
                shape |= TimeShape.Time;
            }
            else if (letter == 'm')
            {
                months = true;
            }
        }

        return shape == TimeShape.None && months && !code.StartsWith("General", StringComparison.OrdinalIgnoreCase) ? TimeShape.Date : shape;
    }
}
