using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class TrendTestsTests
{
    [Fact]
    public void One_repaired_system_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("trend_tests.nist_case1");
        EventHistory[] one = [PublishedHistories.NistCase1()];
        AssertLaplace(check, TrendTests.Laplace(one));
        AssertHandbook(check, TrendTests.MilitaryHandbook(one), twoSided: true);
        check.AssertClose(TrendTests.LewisRobinson(one).Statistic, "lewis_robinson");
        ReverseArrangementsResult reversals = ReverseArrangements.Test(one);
        check.AssertClose(reversals.Reversals, "reverse_arrangements", "reversals");
        check.AssertClose(reversals.TiedPairs, "reverse_arrangements", "tied_pairs");
        check.AssertClose(reversals.Maximum, "reverse_arrangements", "maximum");
        check.AssertClose(reversals.Expected, "reverse_arrangements", "expected");
        check.AssertClose(reversals.Test.PImproving, "reverse_arrangements", "p_exact_at_least");
        check.AssertClose(reversals.ZWithPlusHalf, "reverse_arrangements", "z_with_plus_half");
        check.AssertClose(reversals.Z, "reverse_arrangements", "z_without_correction");
        Assert.True(reversals.IsExact);
        Assert.Equal(TrendDirection.Improving, reversals.Test.Direction);
    }

    [Fact]
    public void Several_units_with_windows_of_their_own_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("trend_tests.valve_seats_pooled");
        EventHistory[] units = PublishedHistories.ValveSeats();
        AssertLaplace(check, TrendTests.Laplace(units));
        AssertHandbook(check, TrendTests.MilitaryHandbook(units), twoSided: false);
        Assert.Equal(TrendDirection.Worsening, TrendTests.Laplace(units).Direction);
    }

    [Fact]
    public void A_record_that_ended_at_an_event_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("trend_tests.aircraft_generator_failure_terminated");
        EventHistory[] one = [PublishedHistories.AircraftGenerator()];
        AssertLaplace(check, TrendTests.Laplace(one, RecordEnd.AtEvent));
        AssertHandbook(check, TrendTests.MilitaryHandbook(one, RecordEnd.AtEvent), twoSided: true);
        Assert.Throws<ArgumentException>(() => TrendTests.Laplace([PublishedHistories.NistCase1()], RecordEnd.AtEvent));
    }

    [Fact]
    public void Every_published_test_has_its_test_here() => Assert.Equal(
        ["trend_tests.aircraft_generator_failure_terminated", "trend_tests.nist_case1", "trend_tests.valve_seats_pooled"],
        PublishedChecks.Ids("trend_tests."));

    /// <summary>By hand: ages 1, 3 in (0, 4] and 9 in (6, 10]: (1 - 2) + (3 - 2) + (9 - 8) = 1, variance 3 x 16/12 = 4.</summary>
    [Fact]
    public void Units_that_entered_late_count_from_the_middle_of_their_window()
    {
        TrendTest test = TrendTests.Laplace([new(0, 4, [1, 3]), new(6, 10, [9]), new(2, 3, [])]);
        Assert.Equal(0.5, test.Statistic!.Value, 1e-12);
        Assert.Equal((2, 3, 1), (test.Units, test.Events, test.EnteredLate));
        TrendTest handbook = TrendTests.MilitaryHandbook([new(0, 4, [1, 3]), new(6, 10, [9])]);
        Assert.Equal(2 * Math.Log(4 / 1.0 * (4 / 3.0) * (4 / 3.0)), handbook.Statistic!.Value, 1e-12);
    }

    /// <summary>
    /// By hand: orders of three times have 0 to 3 reversals in 1, 2, 2, 1 of 6 ways; both units together in 1, 4, 8, 10, 8, 4, 1 of 36.
    /// </summary>
    [Fact]
    public void Reversals_of_two_units_are_pooled_exactly()
    {
        ReverseArrangementsResult result = ReverseArrangements.Test([new(0, 9, [1, 3, 6]), new(2, 99, [3, 4, 6, 7])]);
        Assert.Equal((4, 1, 6), (result.Reversals, result.TiedPairs, result.Maximum));
        Assert.Equal(13 / 36.0, result.Test.PImproving!.Value, 1e-14);
        Assert.Equal(35 / 36.0, result.Test.PWorsening!.Value, 1e-14);
    }

    /// <summary>All in one order: 1/n! for the exact chance, which for 20 times is 4.11e-19 (20! = 2432902008176640000).</summary>
    [Fact]
    public void Far_tails_keep_their_digits()
    {
        double[] growing = [.. Enumerable.Range(1, 20).Select(i => i * (i + 1) / 2.0)];
        EventHistory[] improving = [new(0, growing[^1], growing)];
        Assert.Equal(1 / 2432902008176640000.0, ReverseArrangements.Test(improving).Test.PImproving!.Value, 1e-30);
        EventHistory[] old = [.. Enumerable.Repeat(new EventHistory(0, 1, [0.999999, 0.9999999]), 20)];
        TrendTest handbook = TrendTests.MilitaryHandbook(old);
        double x = handbook.Statistic!.Value / 2;
        double leading = Math.Exp((40 * Math.Log(x)) - Enumerable.Range(1, 40).Sum(i => Math.Log(i)));
        Assert.Equal(leading, handbook.PWorsening!.Value, leading * 1e-4);
        Assert.InRange(handbook.PWorsening.Value, 1e-300, 1e-200);
    }

    [Fact]
    public void Too_little_gives_no_statistic()
    {
        foreach (EventHistory[] few in new EventHistory[][] { [], [new(0, 5, [])], [new(3, 5, [])] })
        {
            Assert.Null(TrendTests.Laplace(few).PTwoSided);
            Assert.Null(TrendTests.MilitaryHandbook(few).PTwoSided);
            Assert.Null(TrendTests.LewisRobinson(few).PTwoSided);
            Assert.Null(ReverseArrangements.Test(few).Test.PTwoSided);
            Assert.Equal(TrendDirection.Level, TrendTests.Laplace(few).Direction);
        }

        Assert.Null(TrendTests.LewisRobinson([new(0, 9, [2, 4, 6])]).Statistic);
    }

    [Fact]
    public void Any_histories_give_chances_and_scaling_time_changes_none() => Drawn.Each(
        AnyHistories.All,
        3000,
        histories =>
        {
            EventHistory[] scaled = [.. histories.Select(h => new EventHistory(h.From * 8, h.To * 8, [.. h.Ages.Select(a => a * 8)]))];
            foreach ((TrendTest one, TrendTest other) in All(histories).Zip(All(scaled)))
            {
                Assert.Equal(one, other);
                Assert.Equal(one.Statistic is null, one.PTwoSided is null);
                Assert.True(one.PWorsening is null or (>= 0 and <= 1) && one.PImproving is null or (>= 0 and <= 1), $"{one}");
                Assert.True(double.IsFinite(one.Statistic ?? 0));
            }

            Assert.True(Variation.Of(histories).PValue is null or (>= 0 and <= 1));
        });

    [Fact]
    public void Time_run_backwards_turns_Laplace_round() => Drawn.Each(
        AnyHistories.All,
        2000,
        histories =>
        {
            EventHistory[] there = [.. histories.Select(h => new EventHistory(h.From, h.To, [.. h.Ages.Where(a => a < h.To)]))];
            EventHistory[] back =
            [
                .. there.Select(h => new EventHistory(
                    h.From, h.To, [.. h.Ages.Select(a => h.From + (h.To - a)).Where(a => a > h.From && a <= h.To).Order()])),
            ];
            Assert.Equal(-(TrendTests.Laplace(there).Statistic ?? 0), TrendTests.Laplace(back).Statistic ?? 0, 1e-6);
            Assert.Equal(
                -(TrendTests.LaplaceBetweenUnits(there).Statistic ?? 0), TrendTests.LaplaceBetweenUnits(back).Statistic ?? 0, 1e-4);
        });

    private static TrendTest[] All(EventHistory[] histories) =>
    [
        TrendTests.Laplace(histories), TrendTests.LaplaceBetweenUnits(histories), TrendTests.MilitaryHandbook(histories),
        TrendTests.LewisRobinson(histories), TrendTests.LewisRobinson(histories, RecordEnd.ByTime),
        ReverseArrangements.Test(histories).Test,
    ];

    private static void AssertLaplace(PublishedCheck check, TrendTest test)
    {
        check.AssertClose(test.Statistic, "laplace_z");
        check.AssertClose(test.PTwoSided, "laplace_p_two_sided");
    }

    private static void AssertHandbook(PublishedCheck check, TrendTest test, bool twoSided)
    {
        check.AssertClose(test.Statistic, "military_handbook", "chi_square");
        check.AssertClose(test.DegreesOfFreedom, "military_handbook", "df");
        check.AssertClose(test.PImproving, "military_handbook", "p_improving");
        check.AssertClose(test.PWorsening, "military_handbook", "p_deteriorating");
        if (twoSided)
        {
            check.AssertClose(test.PTwoSided, "military_handbook", "p_two_sided");
        }
    }
}
