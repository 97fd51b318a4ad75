using System.Text.Json;
using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

public sealed class SiteCalendarTests
{
    private static readonly IsoDayOfWeek[] AllWeek = [.. Enumerable.Range(1, 7).Select(d => (IsoDayOfWeek)d)];

    /// <summary>expected.json, compliance.due_instants: IANA rules for 2025 by R and by Python.</summary>
    [Fact]
    public void Trading_days_end_at_the_published_instants_around_clock_changes()
    {
        PublishedCheck check = PublishedChecks.Get("compliance.due_instants");
        int days = 0;
        foreach (JsonElement site in check.Expected.EnumerateArray())
        {
            SiteCalendar calendar = new(
                ComplianceCase.Zone(site.GetProperty("zone").GetString()!),
                AllWeek,
                ComplianceCase.Wall(site.GetProperty("trading_day_ends_at").GetString()!));
            foreach (JsonElement e in site.GetProperty("trading_days").EnumerateArray())
            {
                TradingDay day = calendar.Day(LocalDatePattern.Iso.Parse(e.GetProperty("day").GetString()!).Value);
                Assert.Equal(ComplianceCase.At(e.GetProperty("starts").GetString()!), day.Start);
                Assert.Equal(ComplianceCase.At(e.GetProperty("due").GetString()!), day.End);
                Assert.Equal(e.GetProperty("minutes_long").GetInt32(), (day.End - day.Start).TotalMinutes);
                Assert.Equal(e.GetProperty("due_local").GetString(), Local(day.End, calendar.Zone));
                Instant deadline = day.End + Duration.FromHours(4);
                Assert.Equal(ComplianceCase.At(e.GetProperty("deadline_4h").GetString()!), deadline);
                Assert.Equal(e.GetProperty("deadline_4h_local").GetString(), Local(deadline, calendar.Zone));
                Assert.Equal(day, calendar.DayOf(day.Start));
                Assert.Equal(day, calendar.DayOf(day.End - Duration.FromMilliseconds(1)));
                days++;
            }
        }

        Assert.Equal(15, days);
    }

    [Fact]
    public void A_date_that_the_zone_jumped_over_is_a_day_without_length_on_which_nobody_trades()
    {
        // Samoa went from Thursday 29 to Saturday 31 December 2011 (IANA, Pacific/Apia).
        SiteCalendar calendar = new(DateTimeZoneProviders.Tzdb["Pacific/Apia"], AllWeek, LocalTime.Midnight);

        TradingDay skipped = calendar.Day(new LocalDate(2011, 12, 30));

        Assert.Equal(skipped.Start, skipped.End);
        Assert.False(skipped.IsOpen);
        Assert.Equal(new LocalDate(2011, 12, 31), calendar.DayOf(skipped.Start).Date);
    }

    [Fact]
    public void A_closure_and_an_untraded_weekday_are_closed()
    {
        SiteCalendar calendar = new(DateTimeZone.Utc, [IsoDayOfWeek.Monday, IsoDayOfWeek.Tuesday], LocalTime.Midnight, [new LocalDate(2025, 6, 3)]);

        Assert.True(calendar.Day(new LocalDate(2025, 6, 2)).IsOpen);
        Assert.False(calendar.Day(new LocalDate(2025, 6, 3)).IsOpen);
        Assert.False(calendar.Day(new LocalDate(2025, 6, 4)).IsOpen);
    }

    private static string Local(Instant at, DateTimeZone zone) => at.InZone(zone).ToString("uuuu-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);
}
