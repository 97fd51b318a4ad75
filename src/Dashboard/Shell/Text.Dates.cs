using NodaTime;

namespace Washwear.Dashboard.Shell;

public static partial class Text
{
    /// <summary>An instant on the wall clock of a place, such as 'Tue 3 Jun 2025, 14:05', or on the clock that the reader has chosen.</summary>
    /// <param name="at">The instant; null: not known.</param>
    /// <param name="timeZone">IANA time zone of the place; one that is not known is shown as UTC and says so.</param>
    /// <returns>Weekday, date and time; a clock that is not the place's says which it is.</returns>
    public static string Moment(DateTimeOffset? at, string timeZone)
    {
        if (at is null)
        {
            return NotKnown;
        }

        (ZonedDateTime local, bool isNamed) = Local(at.Value, timeZone);
        ReaderPreferences reader = ReaderPreferences.Current;
        string text = local.ToString("ddd" + Quoted(reader.Dates.Weekday) + reader.Dates.Date + ", " + reader.Dates.Time, Culture);
        return isNamed ? text + " " + local.Zone.GetZoneInterval(local.ToInstant()).Name : text;
    }

    /// <summary>The time of day of an instant at a place, such as '14:05', or on the clock that the reader has chosen.</summary>
    /// <param name="at">The instant.</param>
    /// <param name="timeZone">IANA time zone; one that is not known is UTC.</param>
    /// <returns>Hours and minutes.</returns>
    public static string Clock(DateTimeOffset at, string timeZone) =>
        Local(at, timeZone).At.ToString(ReaderPreferences.Current.Dates.Time, Culture);

    /// <summary>The calendar date of an instant at a place, such as '3 Jun 2025', or by the clock that the reader has chosen.</summary>
    /// <param name="at">The instant; null: not known.</param>
    /// <param name="timeZone">IANA time zone.</param>
    /// <returns>The date.</returns>
    public static string Date(DateTimeOffset? at, string timeZone) =>
        at is null ? NotKnown : Local(at.Value, timeZone).At.ToString(ReaderPreferences.Current.Dates.Date, Culture);

    /// <summary>A calendar date, such as '3 Jun 2025'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>The date in words.</returns>
    public static string Date(DateOnly day) => Shown(day, ReaderPreferences.Current.Dates.Date);

    /// <summary>A day of a year that is plain, such as '3 Jun'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>Day and month.</returns>
    public static string DayMonth(DateOnly day) => Shown(day, ReaderPreferences.Current.Dates.DayMonth);

    /// <summary>A day of the weeks ahead or just gone, such as 'Tue 3 Jun'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>Weekday, day and month.</returns>
    public static string WeekdayMonth(DateOnly day) =>
        Shown(day, "ddd" + Quoted(ReaderPreferences.Current.Dates.Weekday) + ReaderPreferences.Current.Dates.DayMonth);

    /// <summary>A day with its weekday, such as 'Tue 3 Jun 2025'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>Weekday and date.</returns>
    public static string WeekdayDate(DateOnly day) =>
        Shown(day, "ddd" + Quoted(ReaderPreferences.Current.Dates.Weekday) + ReaderPreferences.Current.Dates.Date);

    /// <summary>A day of a week that is plain, such as 'Tue 3'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>Weekday and number of the day.</returns>
    public static string WeekdayNumber(DateOnly day) => Shown(day, "ddd d");

    /// <summary>The day of the week, such as 'Tuesday'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>Its name.</returns>
    public static string Weekday(DateOnly day) => Shown(day, "dddd");

    /// <summary>The day of the week in short, such as 'Tue'.</summary>
    /// <param name="day">The date.</param>
    /// <returns>Its abbreviation.</returns>
    public static string ShortWeekday(DateOnly day) => Shown(day, "ddd");

    /// <summary>A month of a year, such as 'June 2025'.</summary>
    /// <param name="day">A day of it.</param>
    /// <returns>Name and year.</returns>
    public static string MonthYear(DateOnly day) => Shown(day, "MMMM uuuu");

    /// <summary>A month of a year in short, such as 'Jun 2025'.</summary>
    /// <param name="day">A day of it.</param>
    /// <returns>Abbreviation and year.</returns>
    public static string ShortMonthYear(DateOnly day) => Shown(day, "MMM uuuu");

    /// <summary>A month in short, such as 'Jun'.</summary>
    /// <param name="day">A day of it.</param>
    /// <returns>Its abbreviation.</returns>
    public static string ShortMonth(DateOnly day) => Shown(day, "MMM");

    /// <summary>A time of day, such as '14:05' or '2:05 PM'.</summary>
    /// <param name="hour">Hour, 0 to 23.</param>
    /// <param name="minute">Minute, 0 to 59.</param>
    /// <returns>The time on a clock of 24 or 12 hours.</returns>
    public static string TimeOfDay(int hour, int minute) => new LocalTime(hour, minute).ToString(ReaderPreferences.Current.Dates.Time, Culture);

    private static string Shown(DateOnly day, string pattern) => LocalDate.FromDateOnly(day).ToString(pattern, Culture);

    private static string Quoted(string literal) => "'" + literal + "'";

    // The clock of the place is understood; any other says its name.
    private static (ZonedDateTime At, bool IsNamed) Local(DateTimeOffset at, string timeZone)
    {
        DateTimeZone? ofPlace = DateTimeZoneProviders.Tzdb.GetZoneOrNull(timeZone);
        DateTimeZone? chosen = ReaderPreferences.Current.TimeZone is { } own ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(own) : null;
        DateTimeZone zone = chosen ?? ofPlace ?? DateTimeZone.Utc;
        bool isNamed = ofPlace is null || zone.Id != ofPlace.Id || zone.Id is "UTC" or "Etc/UTC";
        return (Told(at).InZone(zone), isNamed);
    }

    // A wall clock may be a day ahead of or behind UTC: the ends of time are told a day early or late rather than not at all.
    private static Instant Told(DateTimeOffset at)
    {
        Instant first = Instant.FromUtc(1, 1, 2, 0, 0);
        Instant last = Instant.FromUtc(9999, 12, 30, 0, 0);
        Instant instant = Instant.FromDateTimeOffset(at);
        return instant < first ? first : instant > last ? last : instant;
    }
}
