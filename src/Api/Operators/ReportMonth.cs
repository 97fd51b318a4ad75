using System.Globalization;
using NodaTime;
using Washwear.Api.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Operators;

/// <summary>A month as an operator's ovens have it.</summary>
/// <param name="First">Its first day.</param>
/// <param name="Zone">Time zone by which it begins and ends.</param>
/// <param name="Before">Begin of the month before.</param>
/// <param name="From">Its begin.</param>
/// <param name="To">Its end; for one in course, the last full hour.</param>
/// <param name="IsOver">Whether it is over.</param>
internal sealed record ReportMonth(LocalDate First, DateTimeZone Zone, Instant Before, Instant From, Instant To, bool IsOver)
{
    /// <summary>The earliest month that can be asked for.</summary>
    public static readonly LocalDate Earliest = new(2000, 1, 1);

    /// <summary>The month's code, such as 2026-10.</summary>
    public string Code => First.ToString("uuuu-MM", CultureInfo.InvariantCulture);

    /// <summary>The month in words, such as 'October 2026'.</summary>
    public string Name => First.ToString("MMMM uuuu", CultureInfo.InvariantCulture);

    /// <summary>The time zone of most units; of those of equally many, the first by name.</summary>
    /// <param name="units">The units.</param>
    /// <returns>UTC where there is none.</returns>
    public static DateTimeZone ZoneOf(IEnumerable<UnitEntry> units) =>
        units.CountBy(unit => unit.Site.Zone.Id).OrderByDescending(pair => pair.Value).ThenBy(pair => pair.Key, StringComparer.Ordinal)
            .Select(pair => DateTimeZoneProviders.Tzdb.GetZoneOrNull(pair.Key)).FirstOrDefault() ?? DateTimeZone.Utc;

    /// <summary>A month by the time zone of most of an operator's units.</summary>
    /// <param name="units">The operator's units.</param>
    /// <param name="first">The month's first day; null: the last month that is over.</param>
    /// <param name="asOf">The instant.</param>
    /// <returns>The month; null where less than an hour of it is over.</returns>
    public static ReportMonth? Of(IEnumerable<UnitEntry> units, LocalDate? first, DateTimeOffset asOf)
    {
        DateTimeZone zone = ZoneOf(units);
        var hour = Instant.FromDateTimeOffset(ComplianceReports.LastFullHour(asOf));
        LocalDate asked = first ?? hour.InZone(zone).Date.With(DateAdjusters.StartOfMonth).PlusMonths(-1);
        Instant Begin(LocalDate day) => zone.AtStartOfDay(day).ToInstant();
        (Instant from, Instant end) = (Begin(asked), Begin(asked.PlusMonths(1)));
        return hour <= from ? null : new ReportMonth(asked, zone, Begin(asked.PlusMonths(-1)), from, Instant.Min(end, hour), end <= hour);
    }
}
