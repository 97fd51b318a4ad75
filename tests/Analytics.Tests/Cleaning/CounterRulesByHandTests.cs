using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Rules that count washes or operating hours, on histories small enough to count by hand.</summary>
public sealed class CounterRulesByHandTests
{
    private static readonly LocalDate Monday = new(2025, 6, 2);
    private static readonly SiteCalendar Open =
        new(DateTimeZone.Utc, Enumerable.Range(1, 7).Select(d => (IsoDayOfWeek)d), LocalTime.Midnight);

    [Fact]
    public void Descaling_after_every_three_washes_is_due_at_the_end_of_the_third()
    {
        // Third wash ends at hour 30, grace 10 h: overdue from 40 until the descaling of hour 45. Then washes at 50, 60, 70; due at 70, kept at 75.
        CleaningTimeline result = Run(
            new EveryWashes(3), [Washed(10), Washed(20), Washed(30), Descaled(45), Washed(50), Washed(60), Washed(70), Descaled(75)], []);

        Assert.Equal("30:Late@45 70:OnTime@75", Results(result));
        Assert.Equal("0:InOrder 40:NobodyStarted 45:InOrder", Spans(result));
    }

    [Fact]
    public void Descaling_before_it_is_due_starts_the_count_again_and_owes_nothing() =>
        Assert.Equal("50:Missed", Results(Run(new EveryWashes(3), [Washed(10), Washed(20), Descaled(25), Washed(30), Washed(40), Washed(50)], [])));

    [Fact]
    public void Each_further_three_washes_are_another_one_missed() =>
        Assert.Equal("30:Missed 60:Missed", Results(Run(
            new EveryWashes(3), [Washed(10), Washed(20), Washed(30), Washed(40), Washed(50), Washed(60)], [])));

    [Fact]
    public void Only_washes_that_the_unit_completed_are_counted()
    {
        Wash stopped = Washed(20) with { Outcome = WashOutcome.StoppedByPerson };
        Wash byHand = Washed(30) with { AttestedBy = "cook" };

        Assert.Empty(Run(new EveryWashes(2), [Washed(10), stopped, byHand], []).Obligations);
    }

    [Fact]
    public void By_operating_hours_it_is_due_at_the_reading_that_shows_them()
    {
        // 100 h since the reading of hour 5: the reading of hour 40 shows 80, that of hour 60 shows 120.
        CleaningTimeline result = Run(new EveryOperatingHours(100), [Descaled(65)], [(5, 1000), (40, 1080), (60, 1120)]);

        Assert.Equal("60:OnTime@65", Results(result));
    }

    [Fact]
    public void A_new_counter_adds_nothing_by_itself() =>
        // 80 h on the old counter, then 10 on the new one, then 15 more: 95 in all, then 5: 100.
        Assert.Equal("80:Missed", Results(Run(new EveryOperatingHours(100), [], [(5, 1000), (40, 1080), (50, 10), (60, 25), (80, 45)])));

    [Fact]
    public void What_passes_at_one_reading_makes_one_wash_due() =>
        Assert.Equal("60:Missed", Results(Run(new EveryOperatingHours(10), [], [(5, 1000), (60, 1095)])));

    private static CleaningTimeline Run(DueBasis basis, Wash[] washes, (double Hour, double Reading)[] meters)
    {
        UnitHistory history = new(new UnitService(null, Monday, null, []), washes, [], [], [], [])
        {
            Meters = [.. meters.Select(m => new MeterReading(H(m.Hour), m.Reading))],
        };
        CleaningRule rule = new("descale", ProgrammeGrade.Descale, basis, Duration.FromHours(10));
        return CauseTimeline.Compute(rule, Open, history, new Interval(H(0), H(100)));
    }

    private static Instant H(double hours) => Monday.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant() + Duration.FromHours(hours);

    private static Wash Washed(double end) => new(H(end - 1), H(end), ProgrammeGrade.Standard, WashOutcome.Completed);

    private static Wash Descaled(double end) => new(H(end - 1), H(end), ProgrammeGrade.Descale, WashOutcome.Completed);

    private static string Results(CleaningTimeline result) => string.Join(' ', result.Obligations.Select(o =>
        $"{(o.Due - H(0)).TotalHours}:{o.Result}{(o.ClosedAt is { } at ? $"@{(at - H(0)).TotalHours}" : "")}"));

    private static string Spans(CleaningTimeline result) =>
        string.Join(' ', result.Spans.Select(s => $"{(s.From - H(0)).TotalHours}:{s.Cause}"));
}
