using NodaTime;
using Washwear.Api.Upkeep.Backups;

namespace Washwear.Api.Tests.Upkeep;

/// <summary>Which backups are kept and when the next is due, worked out with a calendar by hand.</summary>
public sealed class BackupKeepingTests
{
    private static readonly DateTimeZone Vienna = DateTimeZoneProviders.Tzdb["Europe/Vienna"];

    [Fact]
    public void Of_a_year_of_nights_the_last_days_the_last_of_weeks_and_the_last_of_months_stay()
    {
        // 2026-11-26 is a Thursday; weeks begin on Mondays 23, 16 and 9 November.
        DateTimeOffset last = At("2026-11-26T02:00:00Z");
        DateTimeOffset[] nights = [.. Enumerable.Range(0, 365).Select(night => last.AddDays(-night))];

        IReadOnlySet<DateTimeOffset> kept = new BackupKeeping(3, 3, 3).Kept(nights, DateTimeZone.Utc);

        string[] expected = ["2026-11-26", "2026-11-25", "2026-11-24", "2026-11-22", "2026-11-15", "2026-10-31", "2026-09-30"];
        Assert.Equal(expected.Order(), kept.Select(at => at.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)).Order());
    }

    [Fact]
    public void Of_several_in_a_day_the_newest_stays_and_the_day_is_that_of_the_time_zone()
    {
        // 23:30 UTC on 1 March is 00:30 on 2 March in Vienna.
        DateTimeOffset[] made = [At("2026-03-01T09:00:00Z"), At("2026-03-01T23:30:00Z"), At("2026-03-02T09:00:00Z")];

        Assert.Equal([made[0], made[2]], new BackupKeeping(2, 0, 0).Kept(made, Vienna).Order());
        Assert.Equal([made[1], made[2]], new BackupKeeping(2, 0, 0).Kept(made, DateTimeZone.Utc).Order());
    }

    [Fact]
    public void The_newest_stays_whatever_is_asked_for()
    {
        DateTimeOffset[] made = [At("2026-03-01T09:00:00Z"), At("2026-03-02T09:00:00Z")];

        Assert.Equal([made[1]], new BackupKeeping(0, 0, 0).Kept(made, Vienna));
        Assert.Empty(new BackupKeeping(7, 5, 12).Kept([], Vienna));
    }

    [Theory]
    [InlineData("2026-01-10T00:59:59Z", 2, "2026-01-09T01:00:00Z")]
    [InlineData("2026-01-10T01:00:00Z", 2, "2026-01-10T01:00:00Z")]
    [InlineData("2026-01-10T22:59:00Z", 0, "2026-01-09T23:00:00Z")]
    // 29 March 2026: from 02:00 to 03:00 the clock jumps; the hour is not there.
    [InlineData("2026-03-29T08:00:00Z", 2, "2026-03-29T01:00:00Z")]
    // 25 October 2026: 02:00 comes twice, at 00:00 and 01:00 UTC.
    [InlineData("2026-10-25T00:30:00Z", 2, "2026-10-25T00:00:00Z")]
    [InlineData("2026-10-25T12:00:00Z", 2, "2026-10-25T00:00:00Z")]
    public void It_is_due_at_the_hour_of_the_time_zone(string now, int hour, string due) =>
        Assert.Equal(At(due), BackupKeeping.LastDue(At(now), hour, Vienna));

    private static DateTimeOffset At(string text) => DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
