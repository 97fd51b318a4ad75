using NodaTime;

namespace Washwear.Api.Sheets;

/// <summary>Dates of a workbook: days since its own first day, in one of two calendars (ECMA-376 Part 1, 18.17.4.1).</summary>
/// <param name="From1904">Whether day 0 is 1904-01-01; else day 1 is 1900-01-01, with a 29 February 1900 that never was.</param>
internal sealed record SheetCalendar(bool From1904)
{
    private const double Latest = 2_958_466;
    private const long MillisecondsPerDay = 86_400_000;
    private static readonly LocalDateTime Zero1904 = new(1904, 1, 1, 0, 0);
    private static readonly LocalDateTime ZeroAfterTheGap = new(1899, 12, 30, 0, 0);
    private static readonly LocalDateTime ZeroBeforeTheGap = new(1899, 12, 31, 0, 0);

    /// <summary>The wall time of a serial number, to the millisecond; null: it is none.</summary>
    /// <param name="serial">Days, with their fraction.</param>
    public LocalDateTime? At(double serial)
    {
        if (!(serial >= 0 && serial < Latest))
        {
            return null;
        }

        LocalDateTime zero = From1904 ? Zero1904 : serial >= 60 ? ZeroAfterTheGap : ZeroBeforeTheGap;
        return zero.PlusMilliseconds((long)Math.Round(serial * MillisecondsPerDay));
    }

    /// <summary>The cell of a serial number that is shown as a date or a time.</summary>
    /// <param name="serial">Days, with their fraction.</param>
    /// <param name="shape">How it is shown.</param>
    public SheetCell Cell(double serial, XlsxStyles.TimeShape shape)
    {
        if (At(serial) is not { } at)
        {
            return SheetCell.OfNumber(serial);
        }

        bool date = shape.HasFlag(XlsxStyles.TimeShape.Date);
        CellKind kind = serial < 1 && !date ? CellKind.Clock
            : date && !shape.HasFlag(XlsxStyles.TimeShape.Time) && serial == Math.Floor(serial) ? CellKind.Day
            : CellKind.Moment;
        return SheetCell.OfTime(kind, at, serial);
    }
}
