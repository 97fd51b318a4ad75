using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Api.Planning;

/// <summary>Days on which a site can be visited.</summary>
internal static class PlanDates
{
    private const int MostDaysLooked = 400;

    /// <summary>The first trading day on or after a day; null: none within a year and a bit.</summary>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="from">First day that comes into question.</param>
    public static DateOnly? NextOpen(SiteCalendar calendar, DateOnly from)
    {
        for (int ahead = 0; ahead < MostDaysLooked; ahead++)
        {
            DateOnly day = from.AddDays(ahead);
            if (IsOpen(calendar, day))
            {
                return day;
            }
        }

        return null;
    }

    /// <summary>The Monday of a day's week.</summary>
    /// <param name="day">The day.</param>
    public static DateOnly Monday(DateOnly day) => day.AddDays(-(((int)day.DayOfWeek + 6) % 7));

    /// <summary>Whether a site trades on a day.</summary>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="day">The day.</param>
    public static bool IsOpen(SiteCalendar calendar, DateOnly day) => calendar.Day(LocalDate.FromDateOnly(day)).IsOpen;

    /// <summary>The trading days of seven days.</summary>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="from">First day of the week.</param>
    public static IEnumerable<DateOnly> OpenIn(SiteCalendar calendar, DateOnly from) =>
        Enumerable.Range(0, 7).Select(from.AddDays).Where(day => IsOpen(calendar, day));
}
