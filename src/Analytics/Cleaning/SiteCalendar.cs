using NodaTime;
using NodaTime.TimeZones;

namespace Washwear.Analytics.Cleaning;

/// <summary>One trading day of a site: [<paramref name="Start"/>, <paramref name="End"/>).</summary>
/// <param name="Date">Date on which it begins and by which it is called.</param>
/// <param name="Start">Its first instant.</param>
/// <param name="End">Its end, which is the start of the next one: 23 or 25 h later when the clocks change.</param>
/// <param name="IsOpen">Whether the site trades on it; otherwise the site is closed for the whole of it.</param>
public readonly record struct TradingDay(LocalDate Date, Instant Start, Instant End, bool IsOpen);

/// <summary>
/// When a site trades. Trading day D runs from the wall time <see cref="TradingDayEndsAt"/> on date D to the same wall time on D + 1 (S1).
/// A wall time that a clock change skips moves forward by the skip; one that occurs twice is the first. Immutable; equal by reference.
/// </summary>
public sealed class SiteCalendar
{
    private readonly HashSet<LocalDate> _closures;
    private readonly bool[] _traded = new bool[8];

    /// <summary>Makes a calendar.</summary>
    /// <param name="zone">The site's time zone.</param>
    /// <param name="tradedWeekdays">Weekdays on which a trading day begins.</param>
    /// <param name="tradingDayEndsAt">Wall time at which one trading day ends and the next begins.</param>
    /// <param name="closures">Dates of the trading days on which the site is closed.</param>
    public SiteCalendar(
        DateTimeZone zone, IEnumerable<IsoDayOfWeek> tradedWeekdays, LocalTime tradingDayEndsAt, IEnumerable<LocalDate>? closures = null)
    {
        (Zone, TradingDayEndsAt) = (zone, tradingDayEndsAt);
        _closures = [.. closures ?? []];
        foreach (IsoDayOfWeek day in tradedWeekdays)
        {
            _traded[(int)day] = day != IsoDayOfWeek.None;
        }
    }

    /// <summary>The site's time zone.</summary>
    public DateTimeZone Zone { get; }

    /// <summary>Wall time at which one trading day ends and the next begins.</summary>
    public LocalTime TradingDayEndsAt { get; }

    /// <summary>Whether any weekday is traded at all.</summary>
    public bool EverTrades => _traded.Contains(true);

    /// <summary>First instant of the trading day of this date.</summary>
    /// <param name="date">Date of the trading day.</param>
    public Instant StartOf(LocalDate date) => Zone.ResolveLocal(date + TradingDayEndsAt, Resolvers.LenientResolver).ToInstant();

    /// <summary>The trading day of this date.</summary>
    /// <param name="date">Date of the trading day.</param>
    public TradingDay Day(LocalDate date)
    {
        Instant start = StartOf(date);
        Instant end = StartOf(date.PlusDays(1));

        // A zone that jumped over a whole date has a day without length: nobody can trade on it.
        bool open = _traded[(int)date.DayOfWeek] && !_closures.Contains(date) && end > start;
        return new TradingDay(date, start, end, open);
    }

    /// <summary>The trading day in which an instant lies.</summary>
    /// <param name="at">Any instant.</param>
    public TradingDay DayOf(Instant at)
    {
        TradingDay day = Day(at.InZone(Zone).Date);
        while (at < day.Start)
        {
            day = Day(day.Date.PlusDays(-1));
        }

        while (at >= day.End)
        {
            day = Day(day.Date.PlusDays(1));
        }

        return day;
    }
}
