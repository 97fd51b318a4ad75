using NodaTime;
using Washwear.Api.Registry;

namespace Washwear.Api.Projections;

/// <summary>When a unit is at its site, by the site's own calendar.</summary>
/// <param name="FromMs">Start of the day of commissioning, milliseconds UTC.</param>
/// <param name="ToMs">End of the day on which it left, exclusive, milliseconds UTC; null: it is still there.</param>
public readonly record struct ServiceSpan(long FromMs, long? ToMs)
{
    /// <summary>The span of a unit.</summary>
    /// <param name="unit">The unit.</param>
    public static ServiceSpan Of(UnitEntry unit)
    {
        DateOnly from = unit.Resource.CommissionedOn;
        return new ServiceSpan(StartOf(from, unit.Site.Zone), unit.Resource.DecommissionedOn is { } left ? EndOf(left, unit.Site.Zone) : null);
    }

    private static long EndOf(DateOnly date, DateTimeZone zone) =>
        date == DateOnly.MaxValue ? DateTimeOffset.MaxValue.ToUnixTimeMilliseconds() : StartOf(date.AddDays(1), zone);

    private static long StartOf(DateOnly date, DateTimeZone zone) =>
        zone.AtStartOfDay(new LocalDate(date.Year, date.Month, date.Day)).ToInstant().ToUnixTimeMilliseconds();
}
