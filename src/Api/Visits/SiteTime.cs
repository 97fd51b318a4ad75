using NodaTime;
using NodaTime.Text;
using Washwear.Api.Http;

namespace Washwear.Api.Visits;

/// <summary>Wall times of a site as a browser's form writes them.</summary>
internal static class SiteTime
{
    private static readonly LocalDateTimePattern Minutes = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");
    private static readonly LocalDateTimePattern Seconds = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss");
    private static readonly LocalDatePattern Day = LocalDatePattern.Iso;

    /// <summary>An instant on the wall clock, cut to the minute.</summary>
    /// <param name="at">The instant.</param>
    /// <param name="zone">The site's time zone.</param>
    public static string Of(DateTimeOffset at, DateTimeZone zone) =>
        Minutes.Format(Instant.FromDateTimeOffset(at).InZone(zone).LocalDateTime);

    /// <summary>The instant of a wall time; a text that is none is given back as it is, for the rules to refuse.</summary>
    /// <param name="text">Wall time, such as 2026-03-01T14:05; null for null.</param>
    /// <param name="zone">The site's time zone; a time that a clock change skips or repeats is taken as the lenient resolver does.</param>
    public static string? ToInstant(string? text, DateTimeZone zone)
    {
        if (text is null)
        {
            return null;
        }

        ParseResult<LocalDateTime> parsed = Minutes.Parse(text);
        parsed = parsed.Success ? parsed : Seconds.Parse(text);
        return parsed.Success ? Written(parsed.Value.InZoneLeniently(zone)) : text;
    }

    /// <summary>The instant at which a day begins; a text that is none is given back as it is.</summary>
    /// <param name="text">Date, such as 2026-03-01; null for null.</param>
    /// <param name="zone">The site's time zone.</param>
    public static string? StartOf(string? text, DateTimeZone zone) =>
        text is null ? null : Day.Parse(text) is { Success: true } parsed ? Written(zone.AtStartOfDay(parsed.Value)) : text;

    // The first hours of year 1 east of Greenwich, and the last of year 9999 west of it, lie beside the years that can be written: as far as it
    // goes, for the rules to refuse.
    private static string Written(ZonedDateTime at) => InstantConverter.Format(Instant.Max(
        Instant.FromDateTimeOffset(DateTimeOffset.MinValue), Instant.Min(Instant.FromDateTimeOffset(DateTimeOffset.MaxValue), at.ToInstant())).ToDateTimeOffset());
}
