namespace Washwear.Dashboard.Shell;

/// <summary>How dates and times of day are put together for somebody; patterns of NodaTime.</summary>
/// <param name="Date">Day, month and year.</param>
/// <param name="DayMonth">Day and month.</param>
/// <param name="Weekday">What stands between the day of the week and the date.</param>
/// <param name="Time">Time of day.</param>
internal sealed record DatePatterns(string Date, string DayMonth, string Weekday, string Time)
{
    private static readonly DatePatterns[] All =
        [.. from order in new[] { 0, 1, 2 } from twelve in new[] { false, true } select Make(order, twelve)];

    /// <summary>Those of a reader.</summary>
    /// <param name="reader">Whose.</param>
    public static DatePatterns Of(ReaderPreferences reader)
    {
        CalendarWords words = CalendarWords.Of(reader.Language);
        int order = words.Dot.Length > 0 ? 2 : reader.Culture.MonthFirst && words.MayPutMonthFirst ? 1 : 0;
        return All[(order * 2) + (reader.TwelveHour ? 1 : 0)];
    }

    private static DatePatterns Make(int order, bool twelveHour)
    {
        string time = twelveHour ? "h:mm tt" : "HH:mm";
        return order switch
        {
            0 => new("d MMM uuuu", "d MMM", " ", time),
            1 => new("MMM d, uuuu", "MMM d", ", ", time),
            _ => new("d'.' MMM uuuu", "d'.' MMM", ", ", time),
        };
    }
}
