using System.Globalization;
using NodaTime;

namespace Washwear.Api.Sheets;

/// <summary>What a cell of a sheet holds.</summary>
internal enum CellKind : byte
{
    /// <summary>Nothing.</summary>
    Empty,

    /// <summary>Words, or digits that were written as words.</summary>
    Text,

    /// <summary>A number.</summary>
    Number,

    /// <summary>Yes or no; the number is 1 or 0.</summary>
    YesNo,

    /// <summary>A date with a time of day.</summary>
    Moment,

    /// <summary>A date alone.</summary>
    Day,

    /// <summary>A time of day, or a length of time below a day; the number is its share of a day.</summary>
    Clock,

    /// <summary>A formula that came to nothing, such as a division by zero.</summary>
    Error,
}

/// <summary>One cell as it was found; wall times have no zone yet.</summary>
/// <param name="Kind">What it holds.</param>
/// <param name="Text">Its content as a person would write it: dates as ISO 8601, numbers with a point.</param>
/// <param name="Number">The number, where it holds one.</param>
/// <param name="At">The wall time, where it holds one; of a number in a workbook, the one that it would be if it were a date.</param>
internal readonly record struct SheetCell(CellKind Kind, string Text, double Number = 0, LocalDateTime At = default)
{
    /// <summary>A cell that holds nothing.</summary>
    public static SheetCell Empty { get; } = new(CellKind.Empty, string.Empty);

    /// <summary>Whether it holds nothing.</summary>
    public bool IsEmpty => Kind == CellKind.Empty;

    /// <summary>A cell of words; blank ones are empty.</summary>
    /// <param name="text">The words.</param>
    public static SheetCell OfText(string? text) =>
        string.IsNullOrWhiteSpace(text) ? Empty : new SheetCell(CellKind.Text, text.Trim().Replace('\u00A0', ' '));

    /// <summary>A cell with a number.</summary>
    /// <param name="number">The number.</param>
    public static SheetCell OfNumber(double number) => new(CellKind.Number, number.ToString("R", CultureInfo.InvariantCulture), number);

    /// <summary>A cell with yes or no.</summary>
    /// <param name="yes">Which.</param>
    public static SheetCell OfYesNo(bool yes) => new(CellKind.YesNo, yes ? "true" : "false", yes ? 1 : 0);

    /// <summary>A cell with a date or a time of day.</summary>
    /// <param name="kind">Which of the three.</param>
    /// <param name="at">The wall time.</param>
    /// <param name="serial">Days since the sheet's own first day.</param>
    public static SheetCell OfTime(CellKind kind, LocalDateTime at, double serial)
    {
        string form = kind switch
        {
            CellKind.Day => "uuuu-MM-dd",
            CellKind.Clock => at.Second == 0 ? "HH:mm" : "HH:mm:ss",
            _ => at.Second == 0 && at.Millisecond == 0 ? "uuuu-MM-dd HH:mm" : "uuuu-MM-dd HH:mm:ss.FFF",
        };
        return new SheetCell(kind, at.ToString(form, CultureInfo.InvariantCulture), serial, at);
    }
}

/// <summary>One row that is not empty.</summary>
/// <param name="Number">Its number as the sheet shows it, from 1.</param>
/// <param name="Cells">Its cells from the first column on; columns beyond the last are empty.</param>
/// <param name="Problem">Why it could not be cut into cells; null: it could.</param>
internal sealed record SheetRow(int Number, IReadOnlyList<SheetCell> Cells, string? Problem = null)
{
    /// <summary>The cell of a column, empty beyond the last.</summary>
    /// <param name="column">The column, from 0.</param>
    public SheetCell this[int column] => column < Cells.Count ? Cells[column] : SheetCell.Empty;

    /// <summary>Whether the row is a note to people: its first cell begins with #.</summary>
    public bool IsNote => Cells.Count > 0 && Cells[0].Kind == CellKind.Text && Cells[0].Text.StartsWith('#') && Cells[0].Text.Length > 1;
}
