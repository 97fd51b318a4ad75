using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Sites;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Sites;

/// <summary>A kitchen in Vienna whose trading day ends at 02:00, on Wednesday 26 November 2025 at 18:00 its own time.</summary>
public sealed class KitchenWordsTests
{
    private static readonly Instant Now = Instant.FromUtc(2025, 11, 26, 17, 0);

    private static readonly SiteCalendar Calendar = new(
        DateTimeZoneProviders.Tzdb["Europe/Vienna"],
        [IsoDayOfWeek.Monday, IsoDayOfWeek.Tuesday, IsoDayOfWeek.Wednesday, IsoDayOfWeek.Thursday, IsoDayOfWeek.Friday, IsoDayOfWeek.Saturday],
        new LocalTime(2, 0));

    [Theory]
    [InlineData(1, "tonight before 02:00 (Thu 27 Nov)")]
    [InlineData(2, "tomorrow night before 02:00 (Fri 28 Nov)")]
    [InlineData(3, "Friday night before 02:00 (Sat 29 Nov)")]
    [InlineData(21, "Wed 17 Dec before 02:00")]
    public void A_limit_is_told_by_the_night_that_it_ends(int days, string words) =>
        Assert.Equal(words, KitchenClock.Before(Calendar.StartOf(new LocalDate(2025, 11, 26).PlusDays(days)), Now, Calendar));

    [Fact]
    public void A_limit_at_midnight_names_the_evening_before_it()
    {
        SiteCalendar midnight = new(Calendar.Zone, Enum.GetValues<IsoDayOfWeek>(), LocalTime.Midnight);
        Assert.Equal("tonight before midnight (Wed 26 Nov)", KitchenClock.Before(midnight.StartOf(new LocalDate(2025, 11, 27)), Now, midnight));
    }

    // The clocks of Vienna went back in the night to 26 October 2025: 02:00 came again (its own rule, last Sunday of October).
    [Fact]
    public void A_limit_in_the_night_of_a_clock_change_is_told_on_the_wall_clock() => Assert.Equal(
        "tonight before 02:00 (Sun 26 Oct)",
        KitchenClock.Before(Calendar.StartOf(new LocalDate(2025, 10, 26)), Instant.FromUtc(2025, 10, 25, 17, 0), Calendar));

    [Theory]
    [InlineData(17, 18, 0, "last night at 23:10", 22, 10, 25)]
    [InlineData(17, 18, 0, "yesterday at 15:00", 14, 0, 25)]
    [InlineData(17, 18, 0, "last night at 01:30", 0, 30, 26)]
    [InlineData(17, 18, 0, "today at 07:00", 6, 0, 26)]
    [InlineData(17, 18, 0, "Thu 20 Nov at 23:10", 22, 10, 20)]
    public void A_wash_is_told_by_the_trading_day_it_ended_in(int hour, int wall, int minute, string words, int utcHour, int utcMinute, int day)
    {
        Instant now = Instant.FromUtc(2025, 11, 26, hour, minute);
        Assert.Equal(wall, now.InZone(Calendar.Zone).Hour);
        Assert.Equal(words, KitchenClock.At(Instant.FromUtc(2025, 11, day, utcHour, utcMinute), now, Calendar));
    }

    [Theory]
    [InlineData(CleaningState.Clean, Cause.InOrder, 0, KitchenTask.WashToday, "Wash it tonight before 02:00.")]
    [InlineData(CleaningState.Due, Cause.InOrder, 0, KitchenTask.WashNow, "Wash it now. It was due")]
    [InlineData(CleaningState.Overdue, Cause.NobodyStarted, 30, KitchenTask.WashNow, "Wash it now. It is late by 1 day 6 h.")]
    [InlineData(CleaningState.Overdue, Cause.StoppedByPerson, 3, KitchenTask.WashNow, "let it run to the end")]
    [InlineData(CleaningState.Overdue, Cause.StoppedByFault, 3, KitchenTask.Wait, "Ask for a technician")]
    [InlineData(CleaningState.Overdue, Cause.WashDidNotCount, 3, KitchenTask.WashNow, "Detergent was left in. Rinse it out and wash again.")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingTechnician, 3, KitchenTask.Wait, "Cannot wash: a technician has been asked for since Sunday.")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutNoVisitAsked, 3, KitchenTask.Wait, "Nobody has been asked yet: ask for a technician now.")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingApproval, 3, KitchenTask.Wait, "the repair waits for a yes")]
    [InlineData(CleaningState.LockedOut, Cause.LockoutWaitingPart, 3, KitchenTask.Wait, "the repair waits for a part")]
    [InlineData(CleaningState.Silent, Cause.Silent, 0, KitchenTask.LookAtPlug, "Check plug and network")]
    [InlineData(CleaningState.Closed, Cause.SiteClosed, 0, KitchenTask.Nothing, "closed")]
    [InlineData(CleaningState.OutOfService, Cause.OutOfService, 0, KitchenTask.Nothing, "Out of service")]
    public void Each_state_and_cause_has_one_task_and_its_words(CleaningState state, Cause cause, double overdue, KitchenTask task, string words)
    {
        KitchenFacts facts = cause == Cause.LockoutNoVisitAsked ? Facts with { AskedAt = null } : Facts;
        UnitCleaning row = Row(state, cause, overdue);
        Assert.Equal(task, KitchenWords.Task(row, facts));
        Assert.Contains(words, KitchenWords.ToDo(row, facts), StringComparison.Ordinal);
        Assert.Equal(task == KitchenTask.Wait || state == CleaningState.OutOfService, KitchenWords.NextWash(row, facts) is null);
    }

    [Fact]
    public void A_unit_that_runs_full_washes_in_spite_of_its_fault_is_to_be_washed_and_the_fault_asked_about()
    {
        UnitCleaning row = Row(CleaningState.LockedOut, Cause.LockoutNoVisitAsked, 0) with { HasWashedSince = true };
        KitchenFacts washed = Facts with { LastTry = WashDayKind.Counted };
        Assert.Equal(KitchenTask.WashToday, KitchenWords.Task(row, washed));
        Assert.Contains("still reports a fault", KitchenWords.ToDo(row, washed), StringComparison.Ordinal);
        Assert.Equal(KitchenTask.Wait, KitchenWords.Task(row, Facts with { LastTry = WashDayKind.CountedByHand }));
    }

    private static KitchenFacts Facts => new(
        Now, Calendar, WashDayKind.DetergentLeft, Instant.FromUtc(2025, 11, 23, 12, 0), ProgrammeGrade.Standard, ["night", "deep"]);

    private static UnitCleaning Row(CleaningState state, Cause cause, double overdue) => Samples.Unit(1, state, cause, overdue, "kitchen", "-") with
    {
        Since = Now.ToDateTimeOffset().AddDays(-3),
        OverdueHours = overdue,
        LastCountedWashAt = Now.ToDateTimeOffset().AddDays(-4),
        DueAt = state is CleaningState.Clean or CleaningState.Silent or CleaningState.Closed
            ? new DateTimeOffset(2025, 11, 27, 2, 0, 0, TimeSpan.FromHours(1))
            : Now.ToDateTimeOffset().AddHours(-overdue - 2),
    };
}
