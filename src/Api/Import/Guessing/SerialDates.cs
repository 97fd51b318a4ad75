using NodaTime;
using Washwear.Api.Sheets;

namespace Washwear.Api.Import.Guessing;

/// <summary>Dates that a spreadsheet lost the format of: days counted by its calendar, with their fraction, such as 46235.9167 for 1 August 2026, 22:00.</summary>
internal static class SerialDates
{
    // 2000-01-01 to 2099-12-31: no number of a column of dates is anything else in there.
    private const double First = 36_526;
    private const double Last = 73_050;

    private static readonly SheetCalendar Usual = new(From1904: false);

    /// <summary>The wall time that a number in a column of dates stands for; null: the cell holds no such number.</summary>
    /// <param name="cell">The cell.</param>
    /// <param name="mark">What stands before the fraction of numbers that are written as words.</param>
    public static LocalDateTime? Read(SheetCell cell, DecimalMark? mark)
    {
        double number = cell.Number;
        if (cell.Kind == CellKind.Text ? !NumberText.TryRead(cell.Text, mark, out number) : cell.Kind != CellKind.Number)
        {
            return null;
        }

        return number is >= First and < Last + 1
            ? cell.At != default ? cell.At : Usual.At(number)
            : null;
    }

    /// <summary>The time of day that a share of a day stands for in a column of times; null: the cell holds none.</summary>
    /// <param name="cell">The cell.</param>
    public static LocalTime? Clock(SheetCell cell) =>
        cell is { Kind: CellKind.Number, Number: >= 0 and < 1 } ? Usual.At(cell.Number)?.TimeOfDay : null;
}
