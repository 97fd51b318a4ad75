using NodaTime;
using Washwear.Api.Registry;

namespace Washwear.Api.Projections;

/// <summary>When a unit is at its site and since when its part changes are on record, by the site's own calendar.</summary>
/// <param name="FromMs">Start of the day of commissioning, milliseconds UTC.</param>
/// <param name="ToMs">End of the day on which it left, exclusive, milliseconds UTC; null: it is still there.</param>
/// <param name="WatchFromMs">From when every part change is on record, milliseconds UTC.</param>
public readonly record struct ServiceSpan(long FromMs, long? ToMs, long WatchFromMs)
{
    /// <summary>The span of a unit.</summary>
    /// <param name="unit">The unit.</param>
    public static ServiceSpan Of(UnitEntry unit)
    {
        DateTimeZone zone = unit.Site.Zone;
        UnitResource resource = unit.Resource;
        long from = StartOf(resource.CommissionedOn, zone);
        return new ServiceSpan(
            from,
            resource.DecommissionedOn is { } left ? EndOf(left, zone) : null,
            resource.RecordsFrom is { } recorded ? StartOf(recorded, zone) : from);
    }

    private static long EndOf(DateOnly date, DateTimeZone zone) =>
        date == DateOnly.MaxValue ? DateTimeOffset.MaxValue.ToUnixTimeMilliseconds() : StartOf(date.AddDays(1), zone);

    private static long StartOf(DateOnly date, DateTimeZone zone) =>
        zone.AtStartOfDay(new LocalDate(date.Year, date.Month, date.Day)).ToInstant().ToUnixTimeMilliseconds();
}
