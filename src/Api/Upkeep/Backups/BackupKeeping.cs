using NodaTime;

namespace Washwear.Api.Upkeep.Backups;

/// <summary>How many backups are kept.</summary>
/// <param name="Daily">The newest of each of so many days that have one.</param>
/// <param name="Weekly">The newest of each of so many weeks, from Monday, that have one.</param>
/// <param name="Monthly">The newest of each of so many months that have one.</param>
internal sealed record BackupKeeping(int Daily, int Weekly, int Monthly)
{
    /// <summary>Those of some backups that are kept; the newest always is.</summary>
    /// <param name="madeAt">When each was made.</param>
    /// <param name="zone">Whose days count.</param>
    public IReadOnlySet<DateTimeOffset> Kept(IEnumerable<DateTimeOffset> madeAt, DateTimeZone zone)
    {
        DateTimeOffset[] newestFirst = [.. madeAt.OrderDescending()];
        LocalDate DayOf(DateTimeOffset at) => Instant.FromDateTimeOffset(at).InZone(zone).Date;
        return newestFirst.Take(1)
            .Concat(newestFirst.DistinctBy(DayOf).Take(Daily))
            .Concat(newestFirst.DistinctBy(at => DayOf(at).With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday))).Take(Weekly))
            .Concat(newestFirst.DistinctBy(at => DayOf(at).With(DateAdjusters.StartOfMonth)).Take(Monthly))
            .ToHashSet();
    }

    /// <summary>The last instant at which a nightly backup was due.</summary>
    /// <param name="now">The present.</param>
    /// <param name="hour">Hour of the day, 0 to 23.</param>
    /// <param name="zone">Whose day.</param>
    public static DateTimeOffset LastDue(DateTimeOffset now, int hour, DateTimeZone zone)
    {
        Instant present = Instant.FromDateTimeOffset(now);
        LocalDate today = present.InZone(zone).Date;
        Instant due = DueOn(today, hour, zone);
        return (due <= present ? due : DueOn(today.PlusDays(-1), hour, zone)).ToDateTimeOffset();
    }

    // An hour that the change of clocks leaves out is taken for the first one after it, one that comes twice for its first time.
    private static Instant DueOn(LocalDate day, int hour, DateTimeZone zone) =>
        day.At(new LocalTime(hour, 0)).InZoneLeniently(zone).ToInstant();
}
