using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

public sealed class EarlySignsTests
{
    private const int First = 30;
    private static readonly Instant Start = Instant.FromUtc(2025, 1, 1, 22, 0);

    // Three times as bad at one wash a day: the published design for p0 = 0.02.
    private static readonly EarlySignOptions Threefold = EarlySignOptions.Usual with { WorseRatio = 3 };

    private static Instant Day(int day) => Start + Duration.FromDays(day);

    private static ObservedWash Wash(int day, bool? bad = false, double? minutes = null, string programme = "A") =>
        new(Day(day), bad, programme, minutes);

    private static UnitSigns Fold(IEnumerable<ObservedWash> washes, EarlySignOptions? options = null) =>
        washes.Aggregate(UnitSigns.Blank, (signs, wash) => signs.Add(wash, options ?? EarlySignOptions.Usual));

    private static IEnumerable<ObservedWash> Washes(int from, int to, bool? bad = false, Func<int, double>? minutes = null) =>
        Enumerable.Range(from, to - from).Select(day => Wash(day, bad, minutes?.Invoke(day)));

    // Ten washes of 89 and 91 minutes in turn: mean 90, n - 1 standard deviation sqrt(10/9).
    private static double Turns(int day) => day % 2 == 0 ? 89 : 91;

    private static EarlySign Sign(UnitSigns signs, SignKind kind) => EarlySigns.Of(signs)[(int)kind];

    public sealed class Bad_washes
    {
        [Fact]
        public void The_sum_climbs_by_the_published_designs_steps_and_a_sign_is_called_at_its_limit()
        {
            // 30 good washes beside 60 assumed at 3 %: 1.8 / 90 = 2 %. expected.json, bernoulli_cusum_run_length, p0 = 0.02: m = 27, H = 59.
            UnitSigns two = Fold([.. Washes(0, First), .. Washes(First, First + 2, bad: true)], Threefold);
            EarlySign before = Sign(two, SignKind.BadWashes);
            Assert.Equal((52, 59, 27), (two.Bad.Sum.Value, two.Bad.Sum.Limit, two.Bad.StepsPerBadWash));
            Assert.False(before.IsCalled);
            Assert.Equal(52 / 27.0, before.Statistic, 12);

            EarlySign sign = Sign(two.Add(Wash(First + 2, bad: true), Threefold), SignKind.BadWashes);
            Assert.Equal((Day(First), Day(First + 2)), (sign.Since, sign.CalledAt));
            Assert.Equal((3, 3.0), (sign.Washes, sign.Seen));
            Assert.Equal(0.02, sign.BaselineShare);
            Assert.Equal(59 / 27.0, sign.Limit, 12);

            // The rate reached, not the one wished: one wash a day gives the published 0.4868 a year.
            Assert.Equal(750.2908843, sign.WashesBetweenFalseAlarms!.Value, 6);
            Assert.Equal(0.4868111924, sign.FalseAlarmsPerYear!.Value, 9);
        }

        [Fact]
        public void A_sign_ends_when_the_sum_is_down_to_half_its_limit_and_the_sum_begins_at_0()
        {
            UnitSigns called = Fold([.. Washes(0, First), .. Washes(First, First + 3, bad: true)], Threefold);

            // Held at 59: after 29 good washes 30 is above half of 59, after 30 it is not.
            UnitSigns still = Washes(33, 33 + 29).Aggregate(called, (signs, wash) => signs.Add(wash, Threefold));
            Assert.True(Sign(still, SignKind.BadWashes).IsCalled);

            EarlySign ended = Sign(still.Add(Wash(62), Threefold), SignKind.BadWashes);
            Assert.Equal((0.0, false), (ended.Statistic, ended.IsCalled));
            Assert.Equal((Day(62), SignEnd.Better), (ended.EndedAt, ended.Ended));
        }

        [Fact]
        public void A_part_change_ends_a_sign_and_what_led_to_it_is_not_learnt()
        {
            UnitSigns called = Fold([.. Washes(0, First), .. Washes(First, First + 3, bad: true)], Threefold);
            UnitSigns mended = called.Restart(Day(40), Threefold);

            EarlySign sign = Sign(mended, SignKind.BadWashes);
            Assert.Equal((false, Day(40), SignEnd.Mended), (sign.IsCalled, sign.EndedAt!.Value, sign.Ended!.Value));
            Assert.Equal((30.0, 0.0), (mended.Bad.BaselineWashes, mended.Bad.BaselineBad));

            // Without a sign the bad wash was one of the unit's own.
            UnitSigns plain = Fold([.. Washes(0, First), Wash(First, bad: true)], Threefold).Restart(Day(40), Threefold);
            Assert.Equal((31.0, 1.0), (plain.Bad.BaselineWashes, plain.Bad.BaselineBad));
        }

        [Fact]
        public void Too_few_washes_are_told_and_not_charted()
        {
            EarlySign sign = Sign(Fold(Washes(0, First)), SignKind.BadWashes);

            Assert.False(sign.IsCharted);
            Assert.Null(sign.FalseAlarmsPerYear);
            Assert.Null(sign.ShareOfLimit);
        }

        [Theory]
        [InlineData(WashOutcome.Completed, null, null, false)]
        [InlineData(WashOutcome.Completed, true, null, true)]
        [InlineData(WashOutcome.StoppedByFault, null, null, true)]
        [InlineData(WashOutcome.StoppedByPerson, true, null, null)]
        [InlineData(WashOutcome.Refused, null, null, null)]
        [InlineData(WashOutcome.Unknown, true, null, null)]
        [InlineData(WashOutcome.Completed, true, "cook", null)]
        [InlineData(WashOutcome.StoppedByFault, null, "cook", null)]
        public void Only_what_the_machine_did_enters_the_chart(WashOutcome outcome, bool? left, string? attestedBy, bool? bad)
        {
            var wash = new Wash(Day(0), Day(0) + Duration.FromMinutes(80), ProgrammeGrade.Standard, outcome, left, attestedBy);
            ObservedWash seen = ObservedWash.Of(wash, "A");

            Assert.Equal(bad, seen.IsBad);
            Assert.Equal(outcome == WashOutcome.Completed && attestedBy is null ? 80 : null, seen.Minutes);
        }
    }

    public sealed class Durations
    {
        [Fact]
        public void A_score_is_Students_deviation_carried_over_to_the_normal_distribution()
        {
            // (t - 90) / (sqrt(10/9) sqrt(1 + 1/10)) = 2.262157 at t = 90 + 2.262157 x 1.105542: the 0.975 quantile of Student's
            // distribution with 9 degrees of freedom in any table, so the score is 1.959964.
            ProgrammeDurations known = Fold(Washes(0, 10, minutes: Turns)).Durations.Programmes[0];
            Assert.Equal((10, 90.0, 10.0), (known.Count, known.Mean, known.SquaredDeviations));
            Assert.Equal(1.959964, known.Score(90 + (2.262157 * Math.Sqrt(10.0 / 9 * 1.1))), 5);
            Assert.Equal(-1.959964, known.Score(90 - (2.262157 * Math.Sqrt(10.0 / 9 * 1.1))), 5);
        }

        [Fact]
        public void Washes_that_grow_longer_raise_the_sign_of_longer_washes_alone()
        {
            UnitSigns signs = Fold([.. Washes(0, 10, minutes: Turns), .. Washes(10, 20, minutes: _ => 105)]);

            EarlySign longer = Sign(signs, SignKind.LongerWashes);
            Assert.True(longer.IsCalled);
            Assert.Equal(Day(10), longer.Since);
            Assert.Equal(105.0, longer.Seen / longer.Washes, 9);
            Assert.InRange(longer.Expected / longer.Washes, 90, 94);
            Assert.Equal((false, 0.0), (Sign(signs, SignKind.ShorterWashes).IsCalled, Sign(signs, SignKind.ShorterWashes).Statistic));

            // A single wash, however odd, adds 3 - 0.5 at most.
            Assert.Equal(2.5, Sign(Fold([.. Washes(0, 10, minutes: Turns), Wash(10, minutes: 900)]), SignKind.LongerWashes).Statistic, 12);
        }

        [Fact]
        public void Washes_that_grow_shorter_raise_the_other_sign()
        {
            UnitSigns signs = Fold([.. Washes(0, 10, minutes: Turns), .. Washes(10, 20, minutes: _ => 75)]);
            Assert.True(Sign(signs, SignKind.ShorterWashes).IsCalled);
            Assert.False(Sign(signs, SignKind.LongerWashes).IsCalled);
        }

        [Fact]
        public void What_stands_under_a_sign_is_not_learnt_until_it_has_become_usual()
        {
            UnitSigns called = Fold([.. Washes(0, 10, minutes: Turns), .. Washes(10, 60, minutes: _ => 105)]);
            Assert.InRange(called.Durations.Programmes[0].Mean, 90, 96);
            Assert.True(Sign(called, SignKind.LongerWashes).IsCalled);

            UnitSigns usual = Washes(60, 140, minutes: _ => 105).Aggregate(called, (signs, wash) => signs.Add(wash, EarlySignOptions.Usual));
            EarlySign longer = Sign(usual, SignKind.LongerWashes);
            Assert.Equal((false, SignEnd.Usual), (longer.IsCalled, longer.Ended!.Value));
            Assert.Equal(105.0, Assert.Single(usual.Durations.Programmes).Mean, 9);
        }

        [Fact]
        public void Programmes_are_compared_with_themselves_and_a_rare_one_with_nothing()
        {
            ObservedWash[] washes =
            [
                .. Enumerable.Range(0, 60).Select(day => Wash(day, minutes: day % 2 == 0 ? 90 : 30, programme: day % 2 == 0 ? "A" : "B")),
                Wash(60, minutes: 500, programme: "rare"),
            ];
            UnitSigns signs = Fold(washes);

            Assert.Equal(0.0, Sign(signs, SignKind.LongerWashes).Statistic, 12);
            Assert.Equal(["A", "B", "rare"], signs.Durations.Programmes.Select(one => one.Programme).Order());
        }

        [Fact]
        public void A_gross_outlier_among_the_first_washes_does_not_widen_the_measure()
        {
            UnitSigns signs = Fold(Washes(0, 10, minutes: day => day == 4 ? 400 : Turns(day)));
            Assert.Equal(9, signs.Durations.Programmes[0].Count);
            Assert.InRange(signs.Durations.Programmes[0].Mean, 89, 91);
        }

        [Fact]
        public void Durations_that_never_vary_are_charted_and_a_few_seconds_raise_nothing()
        {
            UnitSigns signs = Fold(Washes(0, 200, minutes: day => day < 50 ? 90 : 90.2));
            Assert.True(Sign(signs, SignKind.LongerWashes).IsCharted);
            Assert.False(signs.AnyStands);
        }

        [Fact]
        public void A_part_change_makes_durations_be_learnt_anew()
        {
            UnitSigns signs = Fold([.. Washes(0, 10, minutes: Turns), .. Washes(10, 20, minutes: _ => 105)]).Restart(Day(30), EarlySignOptions.Usual);
            Assert.Empty(signs.Durations.Programmes);
            Assert.False(Sign(signs, SignKind.LongerWashes).IsCharted);
            Assert.Equal((Day(30), SignEnd.Mended), (signs.BeganAt, Sign(signs, SignKind.LongerWashes).Ended));
        }

        [Fact]
        public void The_lattice_loses_little_against_the_exact_sum_of_unrounded_scores()
        {
            // Published: k = 1/2, h = 5 has 930.9 between false alarms of one side and 10.38 to a shift of one deviation (TabularCusum's
            // checks). Rounding to eighths moves the limit by up to an eighth, which lies between h = 4.9 and 5.1.
            double Lattice(double shift) => LatticeCusum.RunLength([.. DurationChart.StepsAt(shift)], 5 * DurationChart.UnitsPerDeviation);
            Assert.InRange(Lattice(0), TabularCusum.RunLength(0.5, 4.9, 0), TabularCusum.RunLength(0.5, 5.1, 0));
            Assert.InRange(Lattice(1), TabularCusum.RunLength(0.5, 4.9, 1), TabularCusum.RunLength(0.5, 5.1, 1));
        }
    }

    public sealed class Refused
    {
        [Fact]
        public void Numbers_that_make_no_chart_are_refused_by_name()
        {
            Assert.Contains("WorseRatio", Assert.Throws<ArgumentOutOfRangeException>(() =>
                Fold(Washes(0, 1), EarlySignOptions.Usual with { WorseRatio = 1 })).Message, StringComparison.Ordinal);
            Assert.Throws<ArgumentOutOfRangeException>(() =>
                Fold(Washes(0, 1), EarlySignOptions.Usual with { FalseAlarmsPerYear = double.NaN }));
        }

        [Fact]
        public void A_wash_before_those_folded_in_is_refused()
        {
            UnitSigns signs = Fold(Washes(0, 2));
            Assert.Throws<ArgumentOutOfRangeException>(() => signs.Add(Wash(0), EarlySignOptions.Usual));
            Assert.Throws<ArgumentOutOfRangeException>(() => signs.Restart(Day(0), EarlySignOptions.Usual));
        }
    }
}
