using NodaTime;

namespace Washwear.Api.Demo;

/// <summary>When a kitchen is open, by its own clock.</summary>
/// <param name="Zone">Its time zone.</param>
/// <param name="ClosedWeekdays">Weekdays on which it does not trade.</param>
/// <param name="ClosesAtHours">When cooking ends and the night wash can start: hours after the midnight before the trading day.</param>
/// <param name="DayEndsAtHours">When the trading day ends: hours after midnight that begins the next date.</param>
/// <param name="Closures">Dates on which it does not trade, both ends included.</param>
internal sealed record KitchenHours(
    DateTimeZone Zone, IReadOnlyList<DayOfWeek> ClosedWeekdays, double ClosesAtHours, int DayEndsAtHours,
    IReadOnlyList<(DateOnly From, DateOnly To, string Reason)> Closures)
{
    internal bool Trades(DateOnly date) =>
        !ClosedWeekdays.Contains(date.DayOfWeek) && !Closures.Any(closure => date >= closure.From && date <= closure.To);

    /// <summary>The instant at which the wall clock shows so many hours after midnight; a time that is skipped moves forward.</summary>
    internal DateTimeOffset At(DateOnly date, double hours)
    {
        LocalDateTime wall = new LocalDateTime(date.Year, date.Month, date.Day, 0, 0).PlusSeconds((long)(hours * 3600));
        return Zone.AtLeniently(wall).ToInstant().ToDateTimeOffset();
    }

    internal DateTimeOffset DayStart(DateOnly date) => At(date, DayEndsAtHours);

    internal DateTimeOffset DayEnd(DateOnly date) => At(date.AddDays(1), DayEndsAtHours);

    internal DateOnly DateAt(DateTimeOffset instant) =>
        Instant.FromDateTimeOffset(instant).InZone(Zone).LocalDateTime.Date.ToDateOnly();
}
