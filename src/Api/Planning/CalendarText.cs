using System.Globalization;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;

namespace Washwear.Api.Planning;

/// <summary>Where a visit goes.</summary>
/// <param name="Name">Name of the site.</param>
/// <param name="Plan">Address of its plan, from which each swap leads to the lives behind it.</param>
internal sealed record VisitPlace(string Name, Uri Plan);

/// <summary>Writes visits as an iCalendar document (RFC 5545): one event of a whole day a visit.</summary>
internal static class CalendarText
{
    /// <summary>Media type of the document.</summary>
    public const string ContentType = "text/calendar; charset=utf-8";

    /// <summary>The document.</summary>
    /// <param name="visits">The visits, cancelled ones included.</param>
    /// <param name="places">The sites by their numbers.</param>
    public static string Of(IReadOnlyList<GivenVisitRow> visits, IReadOnlyDictionary<int, VisitPlace> places)
    {
        var calendar = new Ical.Net.Calendar { ProductId = "-//Washwear//Planning//EN", Method = "PUBLISH" };
        calendar.AddProperty("X-WR-CALNAME", "Washwear visits");
        foreach (GivenVisitRow visit in visits)
        {
            calendar.Events.Add(Event(visit, places[visit.SiteId]));
        }

        return new CalendarSerializer().SerializeToString(calendar) ?? string.Empty;
    }

    // The stamp is that of the last change, so that what did not change reads the same at the next asking.
    private static CalendarEvent Event(GivenVisitRow visit, VisitPlace place)
    {
        DateOnly day = DateOnly.ParseExact(visit.Day, "yyyy-MM-dd", CultureInfo.InvariantCulture);
        var changed = new CalDateTime(DateTimeOffset.FromUnixTimeMilliseconds(visit.ChangedMs).UtcDateTime);
        return new CalendarEvent
        {
            Uid = visit.Uid,
            Sequence = visit.Sequence,
            Status = visit.Cancelled ? "CANCELLED" : "CONFIRMED",
            Summary = visit.Summary,
            Description = visit.Details,
            Location = place.Name,
            Url = place.Plan,
            Start = new CalDateTime(day),
            End = new CalDateTime(day.AddDays(1)),
            DtStamp = changed,
            LastModified = changed,
        };
    }
}
