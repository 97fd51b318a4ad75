namespace Washwear.Dashboard.Shell;

/// <summary>Weeks as the reader counts them: from the day on which a week begins for them.</summary>
public static class Weeks
{
    private const int DaysPerWeek = 7;

    /// <summary>Place of a day in its week.</summary>
    /// <param name="day">The day.</param>
    /// <returns>0 for the day on which the week begins, 6 for the last.</returns>
    public static int RowOf(DateOnly day) => ((int)day.DayOfWeek - (int)ReaderPreferences.Current.FirstDay + DaysPerWeek) % DaysPerWeek;

    /// <summary>The day on which the week of a day begins.</summary>
    /// <param name="day">The day.</param>
    /// <returns>That day or one of the six before it.</returns>
    public static DateOnly BeginOf(DateOnly day) => DateOnly.FromDayNumber(Math.Max(0, day.DayNumber - RowOf(day)));

    /// <summary>Name of a day of the week in short.</summary>
    /// <param name="row">0 for the day on which the week begins, 6 for the last.</param>
    /// <returns>Such as 'Mon'.</returns>
    public static string NameOf(int row) => Text.ShortWeekday(Any.AddDays(row));

    /// <summary>Name of the day on which a week begins.</summary>
    /// <returns>Such as 'Monday'.</returns>
    public static string FirstName() => Text.Weekday(Any);

    // The first day of a week, whichever.
    private static DateOnly Any => BeginOf(new DateOnly(2025, 6, 11));
}
