using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Tiny histories whose answer can be seen: what the published cases leave open.</summary>
public sealed class CauseTimelineByHandTests
{
    // Monday 2 June 2025; the site trades every day from midnight to midnight UTC unless said otherwise.
    private static readonly LocalDate Monday = new(2025, 6, 2);
    private static readonly IsoDayOfWeek[] AllWeek = [.. Enumerable.Range(1, 7).Select(d => (IsoDayOfWeek)d)];
    private static readonly SiteCalendar Open = new(DateTimeZone.Utc, AllWeek, LocalTime.Midnight);
    private static readonly SiteCalendar ClosedOnSunday = new(DateTimeZone.Utc, AllWeek.Where(d => d != IsoDayOfWeek.Sunday), LocalTime.Midnight);
    private static readonly CleaningRule Daily = new("daily", ProgrammeGrade.Standard, new EveryTradingDays(1), Duration.FromHours(4));

    /// <summary>An instant so many hours after the begin of that Monday.</summary>
    private static Instant H(double hours) => Monday.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant() + Duration.FromHours(hours);

    private static Wash Kept(double end) => new(H(end - 1), H(end), ProgrammeGrade.Standard, WashOutcome.Completed);

    private static UnitHistory With(params Wash[] washes) =>
        new(new UnitService(null, Monday, null, []), washes, [], [], [], []);

    private static CleaningRule Hours(double every, double grace) =>
        new("hours", ProgrammeGrade.Standard, new EveryHours(Duration.FromHours(every)), Duration.FromHours(grace));

    private static CleaningRule Days(int n) => new("days", ProgrammeGrade.Standard, new EveryTradingDays(n), Duration.FromHours(4));

    private static CleaningTimeline Run(CleaningRule rule, SiteCalendar calendar, UnitHistory history, double to) =>
        CauseTimeline.Compute(rule, calendar, history, new Interval(H(0), H(to)));

    private static string Results(CleaningTimeline result) =>
        string.Join(' ', result.Obligations.Select(o => $"{(o.Due - H(0)).TotalHours}:{o.Result}"));

    private static string Spans(CleaningTimeline result) =>
        string.Join(' ', result.Spans.Select(s => $"{(s.From - H(0)).TotalHours}:{s.Cause}"));

    public sealed class Every_hours
    {
        [Theory]
        [InlineData(28, "24:OnTime")] // exactly at the deadline
        [InlineData(30, "24:Late")]
        [InlineData(50, "24:Late")] // the second, due at 48, was not yet past its deadline: it is withdrawn, not kept
        [InlineData(53, "24:Late 48:Late")]
        public void A_gap_owes_one_wash_for_each_interval_whose_deadline_passed(double washEnd, string expected) =>
            Assert.StartsWith(expected, Results(Run(Hours(24, 4), Open, With(Kept(washEnd)), 1000)), StringComparison.Ordinal);

        [Fact]
        public void A_fortnight_without_washing_is_not_one_late_wash()
        {
            CleaningTimeline result = Run(Hours(24, 4), Open, With(), 14 * 24);

            Assert.Equal((13, 0), (result.Summary.Due, result.Summary.OnTime));
            Assert.All(result.Obligations, o => Assert.Equal(ObligationResult.Missed, o.Result));
            Assert.Equal("0:InOrder 28:NobodyStarted", Spans(result));
        }

        [Fact]
        public void A_gap_whose_deadline_passed_in_silence_owes_nothing_that_is_known_and_keeps_nothing_either()
        {
            UnitHistory history = With(Kept(30)) with { Service = new UnitService(Duration.FromHours(20), Monday, null, []) };

            Assert.Equal("24:Unknown", Results(Run(Hours(24, 4), Open, history, 57)));
        }

        [Fact]
        public void The_clock_starts_again_at_every_wash_that_counts() =>
            Assert.Equal("24:OnTime 34:OnTime 59:Missed", Results(Run(Hours(24, 4), Open, With(Kept(10), Kept(35)), 64)));

        [Fact]
        public void Hours_that_run_out_on_a_closed_day_fall_due_when_it_ends()
        {
            // Washed on Saturday at 22:00; 24 h later it is Sunday and closed; due on Monday at 0:00, deadline 4:00.
            CleaningTimeline result = Run(Hours(24, 4), ClosedOnSunday, With([.. Enumerable.Range(0, 6).Select(d => Kept((24 * d) + 22))]), 176);

            Assert.Equal("0:InOrder 144:SiteClosed 168:InOrder 172:NobodyStarted", Spans(result));
            Assert.EndsWith("168:Missed", Results(result), StringComparison.Ordinal);
        }

        [Fact]
        public void A_deadline_that_falls_on_a_closed_day_stands()
        {
            // Due on Saturday at 23:00, when the site was open; the deadline of Sunday 3:00 passes while it is closed.
            CleaningTimeline result = Run(Hours(143, 4), ClosedOnSunday, With(), 170);

            Assert.Equal("0:InOrder 144:SiteClosed 168:NobodyStarted", Spans(result));
            Assert.Equal("143:Missed", Results(result));
        }

        [Fact]
        public void Time_out_of_service_does_not_stop_the_clock_but_nothing_falls_due_in_it()
        {
            UnitHistory history = With() with { Service = new UnitService(null, Monday, null, [new OutOfServicePeriod(H(20), H(100))]) };

            Assert.Equal("0:InOrder 20:OutOfService 100:InOrder 104:NobodyStarted", Spans(Run(Hours(24, 4), Open, history, 120)));
        }
    }

    public sealed class Every_trading_days
    {
        [Fact]
        public void With_two_days_a_wash_is_due_at_the_end_of_the_second_day_after_the_last_one() =>
            // Washed on Tuesday (hour 30): next due at the end of Thursday. Not washed: the one after at the end of Saturday.
            Assert.Equal("48:OnTime 96:Missed 144:Missed", Results(Run(Days(2), Open, With(Kept(30)), 150)));

        [Fact]
        public void Closed_days_are_not_counted() =>
            // Washed on Friday: Saturday is the first day that counts, Monday the second.
            Assert.EndsWith("192:Missed", Results(Run(Days(2), ClosedOnSunday, With(Kept(26), Kept(74), Kept(100)), 200)), StringComparison.Ordinal);

        [Fact]
        public void A_wash_in_the_grace_keeps_the_day_before_and_not_its_own() =>
            Assert.Equal("24:OnTime 48:Missed", Results(Run(Daily, Open, With(Kept(27)), 53)));

        [Fact]
        public void A_wash_that_kept_the_day_before_is_no_attempt_that_failed() =>
            Assert.Equal("0:InOrder 52:NobodyStarted", Spans(Run(Daily, Open, With(Kept(27)), 53)));

        [Fact]
        public void With_a_grace_longer_than_a_day_one_wash_keeps_the_older_day_and_leaves_the_younger_open()
        {
            CleaningRule patient = new("patient", ProgrammeGrade.Standard, new EveryTradingDays(1), Duration.FromHours(30));

            // Monday's deadline is hour 54, Tuesday's 78: the wash at 50 keeps Monday, the one at 51 Tuesday, Wednesday is missed.
            Assert.Equal("24:OnTime 48:OnTime 72:Missed", Results(Run(patient, Open, With(Kept(50), Kept(51)), 103)));
        }
    }

    public sealed class Causes
    {
        [Fact]
        public void A_refusal_without_a_known_fault_is_a_lockout_and_one_at_the_very_clearing_of_a_fault_too()
        {
            Wash refused = new(H(10), null, ProgrammeGrade.Standard, WashOutcome.Refused);
            UnitHistory history = With(refused) with { Faults = [new WashFault("P1", H(5), H(10), true)] };

            Assert.Equal("0:InOrder 28:LockoutNoVisitAsked", Spans(Run(Daily, Open, history, 30)));
        }

        [Fact]
        public void A_refusal_at_the_very_raising_of_a_fault_belongs_to_it()
        {
            Wash refused = new(H(10), null, ProgrammeGrade.Standard, WashOutcome.Refused);
            UnitHistory history = With(refused) with { Faults = [new WashFault("P1", H(10), H(20), true)] };

            Assert.Equal("0:InOrder 28:NobodyStarted", Spans(Run(Daily, Open, history, 30)));
        }

        [Fact]
        public void An_approval_asked_for_after_the_visit_is_what_the_lockout_waits_for()
        {
            UnitHistory history = With() with
            {
                Faults = [new WashFault("P1", H(5), null, true)],
                Visits = [new Visit(H(6), H(29), H(30), VisitOutcome.RepairedNotProven)],
                Approvals = [new Approval(H(31), H(33), false)],
            };

            Assert.Equal(
                "0:InOrder 28:LockoutWaitingTechnician 29:BeingWorkedOn 30:LockoutNoVisitAsked 31:LockoutWaitingApproval 33:LockoutNoVisitAsked",
                Spans(Run(Daily, Open, history, 40)));
        }

        [Fact]
        public void Before_its_first_sign_of_life_a_unit_without_a_known_begin_is_silent_and_owes_nothing()
        {
            UnitHistory history = new(UnitService.Always, [], [], [H(30)], [], []);

            CleaningTimeline result = Run(Daily, Open, history, 60);

            Assert.Equal("0:Silent 30:InOrder 52:NobodyStarted", Spans(result));
            Assert.Equal("48:Missed", Results(result));
        }

        [Fact]
        public void Outside_the_rules_validity_and_the_units_service_nothing_is_asked()
        {
            CleaningRule tuesday = new("t", ProgrammeGrade.Standard, new EveryTradingDays(1), Duration.Zero, Monday.PlusDays(1), Monday.PlusDays(3));
            UnitHistory history = new(new UnitService(null, Monday, Monday.PlusDays(3), []), [], [], [], [], []);

            CleaningTimeline result = Run(tuesday, Open, history, 120);

            Assert.Equal("0:NoRule 24:InOrder 48:NobodyStarted 72:OutOfService 96:NoRule", Spans(result));
            Assert.Equal("48:Missed 72:Excused", Results(result));
            Assert.Equal(48, result.Summary.Judged.TotalHours);
        }

        [Theory]
        [InlineData(ProgrammeGrade.Intensive, ProgrammeGrade.Standard, true)]
        [InlineData(ProgrammeGrade.Light, ProgrammeGrade.Standard, false)]
        [InlineData(ProgrammeGrade.Descale, ProgrammeGrade.Rinse, false)]
        [InlineData(ProgrammeGrade.Intensive, ProgrammeGrade.Descale, false)]
        [InlineData(ProgrammeGrade.Descale, ProgrammeGrade.Descale, true)]
        public void A_higher_grade_counts_and_descaling_stands_apart(ProgrammeGrade grade, ProgrammeGrade asked, bool counts) =>
            Assert.Equal(counts, new Wash(H(1), H(2), grade, WashOutcome.Completed).CountsFor(asked));
    }

    public sealed class Status
    {
        [Fact]
        public void Goes_from_clean_to_due_to_overdue_and_says_whose_move_it_is()
        {
            CleaningStatus At(double hours) => CauseTimeline.At(Daily, Open, With(Kept(20)), H(hours));

            Assert.Equal((CleaningState.Clean, H(48), Mover.Nobody), (At(47).State, At(47).Due, At(47).WhoseMove));
            Assert.Equal((CleaningState.Due, H(48), Mover.Kitchen), (At(48).State, At(48).Due, At(48).WhoseMove));
            Assert.Equal((CleaningState.Overdue, H(52), Mover.Kitchen), (At(52).State, At(52).Since, At(52).WhoseMove));
            Assert.Equal(Duration.FromHours(9), At(61).OverdueBy);
            Assert.Equal(H(20), At(61).LastCountedWashEnd);
        }

        [Fact]
        public void Tells_a_lockout_before_a_wash_is_overdue()
        {
            UnitHistory history = With(Kept(20)) with
            {
                Faults = [new WashFault("P1", H(25), null, true)],
                Visits = [new Visit(H(26), null, null, null)],
            };

            CleaningStatus status = CauseTimeline.At(Daily, Open, history, H(30));

            Assert.Equal((CleaningState.LockedOut, Cause.InOrder, Mover.Service), (status.State, status.Cause, status.WhoseMove));
            Assert.Equal(Cause.LockoutWaitingTechnician, status.Lockout);
        }

        [Theory]
        [InlineData(28, null, false, true)] // it ran one itself: who said that it cannot?
        [InlineData(28, null, true, false)] // and then it refused the next one
        [InlineData(28, "shift lead", false, false)] // somebody cleaned it by hand
        public void Of_a_locked_out_unit_tells_whether_it_washed_itself_since(double end, string? attestedBy, bool refusedNext, bool hasWashed)
        {
            Wash[] washes = [Kept(20), Kept(end) with { AttestedBy = attestedBy }];
            Wash[] refused = refusedNext ? [new Wash(H(29), null, ProgrammeGrade.Standard, WashOutcome.Refused)] : [];
            UnitHistory history = With([.. washes, .. refused]) with { Faults = [new WashFault("P1", H(25), null, true)] };

            CleaningStatus status = CauseTimeline.At(Daily, Open, history, H(30));

            Assert.Equal((CleaningState.LockedOut, hasWashed, H(28)), (status.State, status.HasWashedSince, status.LastCountedWashEnd));
        }

        [Fact]
        public void Of_a_unit_nobody_has_ever_heard_from_is_silent_since_always()
        {
            CleaningStatus status = CauseTimeline.At(Daily, Open, new UnitHistory(UnitService.Always, [], [], [], [], []), H(0));

            Assert.Equal((CleaningState.Silent, null, null), (status.State, status.Since, status.Due));
        }
    }

    public sealed class Refused_input
    {
        [Fact]
        public void Rules_and_washes_that_cannot_be_are_refused_with_the_reason()
        {
            Assert.Contains("shorter than the interval", Assert.Throws<ArgumentException>(() => Hours(4, 4)).Message, StringComparison.Ordinal);
            Assert.Throws<ArgumentException>(() => Hours(4, -1));
            Assert.Throws<ArgumentOutOfRangeException>(() => Hours(0, 0));
            Assert.Throws<ArgumentOutOfRangeException>(() => Days(0));
            Assert.Throws<ArgumentOutOfRangeException>(() => new Wash(H(1), H(0), ProgrammeGrade.Light, WashOutcome.Completed));
        }

        [Fact]
        public void A_site_that_never_trades_owes_nothing_and_is_closed()
        {
            SiteCalendar never = new(DateTimeZone.Utc, [], LocalTime.Midnight);

            foreach (CleaningRule rule in new[] { Daily, Hours(24, 4), Days(3) })
            {
                CleaningTimeline result = Run(rule, never, With(), 100);
                Assert.Equal(("0:SiteClosed", 0), (Spans(result), result.Summary.Due));
                Assert.Null(result.Summary.OnTimeShare);
                Assert.Null(result.Summary.TimeWithinShare);
            }
        }
    }
}
