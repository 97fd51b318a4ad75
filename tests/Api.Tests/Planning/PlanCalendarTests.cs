using System.Net;

namespace Washwear.Api.Tests.Planning;

/// <summary>The calendar over HTTP, read back by a reader of its own that knows RFC 5545 only.</summary>
public sealed class PlanCalendarTests
{
    [Fact]
    public async Task A_visit_is_an_event_of_a_whole_day_with_every_property_that_the_standard_asks_for()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([2000, 2000]);
        using HttpResponseMessage answer = await host.Admin.GetAsync("/v1/plan/calendar.ics");
        Assert.Equal("text/calendar", answer.Content.Headers.ContentType?.MediaType);
        CalendarReader calendar = CalendarReader.Read(await answer.Content.ReadAsStringAsync());
        Assert.Equal("2.0", calendar.Properties["VERSION"]);
        Assert.NotEmpty(calendar.Properties["PRODID"]);
        Dictionary<string, string> visit = Assert.Single(calendar.Events);
        string date = (await PlannedFleet.JobsAsync(host))[0].Date.Replace("-", string.Empty, StringComparison.Ordinal);
        Assert.Equal(date, visit["DTSTART;VALUE=DATE"]);
        Assert.Equal("CONFIRMED", visit["STATUS"]);
        Assert.Equal("0", visit["SEQUENCE"]);
        Assert.Equal("20260302T120000Z", visit["DTSTAMP"]);
        Assert.Equal("Quay (invented): 2 parts to replace", visit["SUMMARY"]);
        Assert.Equal("P-0: Wash pump (P-1), 40 min\nP-1: Wash pump (P-1), 40 min", visit["DESCRIPTION"]);
        Assert.EndsWith("@washwear", visit["UID"], StringComparison.Ordinal);
        Assert.EndsWith("/planning?site=quay", visit["URL"], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_changes_while_the_plan_stays_and_its_mark_says_so()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([2000]);
        using HttpResponseMessage first = await host.Admin.GetAsync("/v1/plan/calendar.ics");
        host.Clock.Advance(TimeSpan.FromHours(2));
        string again = await host.Admin.GetStringAsync("/v1/plan/calendar.ics");
        Assert.Equal(await first.Content.ReadAsStringAsync(), again);
        using var asked = new HttpRequestMessage(HttpMethod.Get, "/v1/plan/calendar.ics");
        asked.Headers.IfNoneMatch.Add(first.Headers.ETag!);
        using HttpResponseMessage unchanged = await host.Admin.SendAsync(asked);
        Assert.Equal(HttpStatusCode.NotModified, unchanged.StatusCode);
    }

    [Fact]
    public async Task A_moved_visit_keeps_its_uid_and_a_dropped_one_stays_as_cancelled()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([2000]);
        string uid = Assert.Single((await ReadAsync(host)).Events)["UID"];
        using HttpResponseMessage moved = await PlannedFleet.DecideAsync(
            host, """{"unit":"P-0","position":"wash-pump","decision":"accepted","by":"A","date":"2026-03-19"}""");
        host.Clock.Advance(TimeSpan.FromMinutes(1));
        Dictionary<string, string> after = Assert.Single((await ReadAsync(host)).Events);
        Assert.Equal((uid, "1", "20260319", "CONFIRMED", "20260302T120100Z"),
            (after["UID"], after["SEQUENCE"], after["DTSTART;VALUE=DATE"], after["STATUS"], after["DTSTAMP"]));

        using HttpResponseMessage dropped = await PlannedFleet.DecideAsync(
            host, """{"unit":"P-0","position":"wash-pump","decision":"rejected","by":"A","reason":"leaves"}""");
        Dictionary<string, string> cancelled = Assert.Single((await ReadAsync(host)).Events);
        Assert.Equal((uid, "2", "CANCELLED"), (cancelled["UID"], cancelled["SEQUENCE"], cancelled["STATUS"]));
    }

    [Fact]
    public async Task Other_sites_are_left_alone()
    {
        await using ApiHost host = await PlannedFleet.StartAsync([2000]);
        Assert.Single((await ReadAsync(host, "?site=QUAY")).Events);
        Assert.Empty((await ReadAsync(host, "?site=elsewhere")).Events);
        Assert.Equal("0", Assert.Single((await ReadAsync(host, "?stock_point=van-1")).Events)["SEQUENCE"]);
    }

    private static async Task<CalendarReader> ReadAsync(ApiHost host, string query = "") =>
        CalendarReader.Read(await host.Admin.GetStringAsync("/v1/plan/calendar.ics" + query));
}

/// <summary>
/// Reads an iCalendar document strictly, from RFC 5545 alone (3.1 content lines of at most 75 octets ended by CRLF, folded by a space; 3.3.11
/// escapes): no parser but the writer's own library was found on the package registry.
/// </summary>
internal sealed class CalendarReader
{
    private const int MostOctets = 75;

    public Dictionary<string, string> Properties { get; } = [];

    public List<Dictionary<string, string>> Events { get; } = [];

    public static CalendarReader Read(string text)
    {
        Assert.EndsWith("\r\n", text, StringComparison.Ordinal);
        string[] raw = text.Split("\r\n")[..^1];
        Assert.All(raw, line => Assert.InRange(System.Text.Encoding.UTF8.GetByteCount(line), 1, MostOctets));
        Assert.All(raw, line => Assert.DoesNotContain('\n', line));
        string[] lines = string.Join("\r\n", raw).Replace("\r\n ", string.Empty, StringComparison.Ordinal).Split("\r\n");
        Assert.Equal(("BEGIN:VCALENDAR", "END:VCALENDAR"), (lines[0], lines[^1]));
        var reader = new CalendarReader();
        Dictionary<string, string> into = reader.Properties;
        foreach (string line in lines[1..^1])
        {
            if (line == "BEGIN:VEVENT")
            {
                Assert.Same(reader.Properties, into);
                reader.Events.Add(into = []);
            }
            else if (line == "END:VEVENT")
            {
                Assert.NotSame(reader.Properties, into);
                into = reader.Properties;
            }
            else
            {
                int colon = line.IndexOf(':', StringComparison.Ordinal);
                Assert.Matches("^[A-Z-]+(;[A-Z-]+=[^;:]+)*$", line[..colon]);
                into.Add(line[..colon], Unescaped(line[(colon + 1)..]));
            }
        }

        Assert.Equal(reader.Events.Count, reader.Events.Select(one => one["UID"]).Distinct().Count());
        return reader;
    }

    private static string Unescaped(string value)
    {
        var text = new System.Text.StringBuilder();
        for (int i = 0; i < value.Length; i++)
        {
            if (value[i] != '\\')
            {
                text.Append(value[i]);
                continue;
            }

            char escaped = value[++i];
            Assert.Contains(escaped, "\\;,nN");
            text.Append(escaped is 'n' or 'N' ? '\n' : escaped);
        }

        return text.ToString();
    }
}
