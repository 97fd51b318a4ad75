using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Sites;

/// <summary>Instants on a kitchen's wall clock, as people in it say them: tonight, last night, on Friday.</summary>
public static class KitchenClock
{
    private enum DayPart
    {
        Day,
        Evening,
        Night,
    }

    // From here on until the morning people say 'night'.
    private const int EveningHour = 18;
    private const int MorningHour = 6;

    private static KitchenClockTexts Texts => SiteTexts.Now.Clock;

    /// <summary>A limit to come.</summary>
    /// <param name="due">The instant, after <paramref name="asOf"/>.</param>
    /// <param name="asOf">The present instant.</param>
    /// <param name="calendar">When the site trades; a limit at the end of a trading day belongs to that day.</param>
    /// <param name="withDate">Whether the date follows in brackets.</param>
    /// <returns>Such as 'tonight before 02:00 (Thu 26 Nov)'.</returns>
    public static string Before(Instant due, Instant asOf, SiteCalendar calendar, bool withDate = true)
    {
        ArgumentNullException.ThrowIfNull(calendar);
        LocalDateTime wall = due.InZone(calendar.Zone).LocalDateTime;
        LocalDate day = calendar.DayOf(due - Duration.Epsilon).Date;
        int ahead = Period.DaysBetween(calendar.DayOf(asOf).Date, day);
        string? part = (ahead, PartOf(wall.TimeOfDay)) switch
        {
            ( <= 0, DayPart.Evening) => Texts.ThisEvening,
            ( <= 0, DayPart.Night) => Texts.Tonight,
            ( <= 0, _) => Texts.Today,
            (1, DayPart.Evening) => Texts.TomorrowEvening,
            (1, DayPart.Night) => Texts.TomorrowNight,
            (1, _) => Texts.Tomorrow,
            ( < 7, DayPart.Evening) => Fill.In(Texts.WeekdayEvening, ("weekday", Weekday(day))),
            ( < 7, DayPart.Night) => Fill.In(Texts.WeekdayNight, ("weekday", Weekday(day))),
            ( < 7, _) => Weekday(day),
            _ => null,
        };
        string clock = wall.TimeOfDay == LocalTime.Midnight ? Texts.Midnight : Text.TimeOfDay(wall.Hour, wall.Minute);

        // Midnight and the hours after it belong to another date than the evening before.
        LocalDate date = wall.TimeOfDay == LocalTime.Midnight ? wall.Date.PlusDays(-1) : wall.Date;
        string on = Date(date, asOf, calendar);
        return Fill.In(part is not null && withDate ? Texts.BeforeDated : Texts.Before, ("day", part ?? on), ("clock", clock), ("date", on));
    }

    /// <summary>An instant that has passed.</summary>
    /// <param name="at">The instant.</param>
    /// <param name="asOf">The present instant.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <returns>Such as 'last night at 23:10' or 'Fri 20 Nov at 23:10'.</returns>
    public static string At(Instant at, Instant asOf, SiteCalendar calendar)
    {
        ArgumentNullException.ThrowIfNull(calendar);
        LocalDateTime wall = at.InZone(calendar.Zone).LocalDateTime;
        int ago = Period.DaysBetween(calendar.DayOf(at).Date, calendar.DayOf(asOf).Date);
        string part = (ago, PartOf(wall.TimeOfDay)) switch
        {
            (0, _) => Texts.Today,
            (1, DayPart.Evening) => Texts.LastEvening,
            (1, DayPart.Night) => Texts.LastNight,
            (1, _) => Texts.Yesterday,
            _ => Date(wall.Date, asOf, calendar),
        };
        return Fill.In(Texts.At, ("day", part), ("clock", Text.TimeOfDay(wall.Hour, wall.Minute)));
    }

    /// <summary>The day of an instant that has passed.</summary>
    /// <param name="at">The instant.</param>
    /// <param name="asOf">The present instant.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <returns>Such as 'today', 'yesterday', 'Tuesday' within the last six days, or 'Tue 3 Nov'.</returns>
    public static string Day(Instant at, Instant asOf, SiteCalendar calendar)
    {
        ArgumentNullException.ThrowIfNull(calendar);
        LocalDate day = at.InZone(calendar.Zone).Date;
        return Period.DaysBetween(day, asOf.InZone(calendar.Zone).Date) switch
        {
            0 => Texts.Today,
            1 => Texts.Yesterday,
            > 1 and < 7 => Weekday(day),
            _ => Date(day, asOf, calendar),
        };
    }

    // English has one word for evening and night, other languages have two.
    private static DayPart PartOf(LocalTime time) => time.Hour switch
    {
        >= EveningHour => DayPart.Evening,
        < MorningHour => DayPart.Night,
        _ => DayPart.Day,
    };

    private static string Weekday(LocalDate day) => Text.Weekday(day.ToDateOnly());

    private static string Date(LocalDate day, Instant asOf, SiteCalendar calendar) =>
        Math.Abs(Period.DaysBetween(asOf.InZone(calendar.Zone).Date, day)) > 180 ? Text.WeekdayDate(day.ToDateOnly()) : Text.WeekdayMonth(day.ToDateOnly());
}
