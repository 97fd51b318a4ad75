using MathNet.Numerics.LinearAlgebra;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class RecurrenceTestTests
{
    /// <summary>Every unit has one event at most and then leaves: observed and expected are those of the log-rank test.</summary>
    [Theory]
    [InlineData("log_rank.leukemia_two_groups", "weeks", "treatment", "6-MP", "control")]
    [InlineData("log_rank.motor_insulation_three_groups", "time", "temp", "170", "190", "220")]
    public void With_one_event_a_unit_the_score_is_that_of_the_published_log_rank_tests(
        string id, string age, string column, params string[] names)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        CsvRows rows = check.Rows;
        (double[] ages, double[] status, string[] group) = (rows.Numbers(age), rows.Numbers("status"), rows.Text(column));
        RecurrenceTestResult result = RecurrenceTest.Compare(
        [
            .. names.Select(name => new HistoryGroup(name,
            [
                .. Enumerable.Range(0, rows.Count).Where(i => group[i] == name)
                    .Select(i => new EventHistory(0, ages[i], status[i] == 1 ? [ages[i]] : [])),
            ])),
        ]);
        check.AssertAllClose(result.Groups.Select(g => (double)g.Observed), "observed");
        check.AssertAllClose(result.Groups.Select(g => g.Expected), "expected");
        check.AssertClose(result.DegreesOfFreedom, "df");
        Assert.True(result.PValue < 0.02);
    }

    /// <summary>
    /// Valve seats in groups by place in the file, k mod 2 and k mod 3. Expected: R 4.2.2, survival 3.5-3, coxph with ties by Breslow and
    /// engines as clusters, robust score test at no effect (tied events of an engine moved apart by 1e-4 day).
    /// </summary>
    [Theory]
    [InlineData(2, 0.199438026607, 1.78705718422, 16.0128609072)]
    [InlineData(3, 0.195420656722, -1.3716716198, 14.9063519735)]
    public void Recurring_events_agree_with_the_robust_score_test_of_a_proportional_model(
        int groups, double chiSquare, double second, double varianceOfSecond)
    {
        EventHistory[] units = PublishedHistories.ValveSeats();
        RecurrenceTestResult result = RecurrenceTest.Compare(
            [.. Enumerable.Range(0, groups).Select(g => new HistoryGroup($"{g}", [.. units.Where((_, k) => k % groups == g)]))]);
        Assert.Equal(chiSquare, result.ChiSquare!.Value, chiSquare * 1e-9);
        RecurrenceTestGroup row = result.Groups[1];
        Assert.Equal(second, row.Observed - row.Expected, Math.Abs(second) * 1e-9);
        Assert.Equal(varianceOfSecond, row.SeDifference * row.SeDifference, varianceOfSecond * 1e-9);
        Assert.Equal(groups - 1, result.DegreesOfFreedom);
        Assert.False(result.FewUnits);
    }

    [Fact]
    public void Any_groups_give_chances_and_running_sums_agree_with_the_plain_ones() => Drawn.Each(
        AnyHistories.All,
        2000,
        histories =>
        {
            HistoryGroup[] groups =
                [.. Enumerable.Range(0, 3).Select(g => new HistoryGroup($"{g}", [.. histories.Where((_, k) => k % 3 == g)]))];
            RecurrenceTestResult result = RecurrenceTest.Compare(groups);
            Assert.True(result.PValue is null or (>= 0 and <= 1));
            Assert.Equal(result.ChiSquare is null, result.PValue is null);
            Matrix<double> variance = Plain(groups, out double[] expected);
            for (int g = 0; g < 3; g++)
            {
                Assert.Equal(expected[g], result.Groups[g].Expected, 1e-9);
                Assert.Equal(variance[g, g], result.Groups[g].SeDifference * result.Groups[g].SeDifference, 1e-9);
            }

            Assert.Equal(result.Groups.Sum(g => g.Observed), result.Groups.Sum(g => g.Expected), 1e-9);
        });

    /// <summary>
    /// Units with rates of their own, late entry, three equal groups: 5 % of 2000 trials, +/- 4 x 0.5 % and a little for 25 units.
    /// </summary>
    [Fact]
    public void The_level_is_kept_where_nothing_differs_and_a_fourfold_rate_is_found()
    {
        var random = new Random(91);
        int alarms = 0, found = 0;
        HistoryGroup Group(string name, double rate) =>
            new(name, [.. Enumerable.Range(0, 25).Select(i => SimulatedHistories.Mixed(random, rate, 2 + random.NextDouble(), i % 2))]);
        for (int trial = 0; trial < 2000; trial++)
        {
            alarms += RecurrenceTest.Compare([Group("a", 2), Group("b", 2), Group("c", 2)]).PValue < 0.05 ? 1 : 0;
            found += trial < 300 && RecurrenceTest.Compare([Group("a", 2), Group("b", 8)]).PValue < 0.05 ? 1 : 0;
        }

        Assert.InRange(alarms / 2000.0, 0.02, 0.07);
        Assert.InRange(found / 300.0, 0.7, 1);
    }

    [Fact]
    public void Nothing_to_compare_is_said_and_bad_groups_are_refused()
    {
        EventHistory[] one = [new(0, 5, [1])];
        Assert.Null(RecurrenceTest.Compare([new("a", one), new("b", [])]).PValue);
        Assert.Null(RecurrenceTest.Compare([new("a", one), new("b", [new(5, 9, [6])])]).PValue);
        Assert.Null(RecurrenceTest.Compare([new("a", []), new("b", [])]).PValue);
        Assert.True(RecurrenceTest.Compare([new("a", [.. one, .. one]), new("b", [new(0, 5, [2, 3])])]).FewUnits);
        Assert.Throws<ArgumentException>(() => RecurrenceTest.Compare([new("a", one)]));
        Assert.Throws<ArgumentException>(() => RecurrenceTest.Compare([new("a", one), new("a", one)]));
    }

    /// <summary>By hand: 2 of 2 units with one event each less 1 of 2: 1 - 1/2, robust errors 0 and root(2 x (1/4)^2).</summary>
    [Fact]
    public void The_difference_of_two_curves_has_the_bounds_of_both()
    {
        MeanCumulativeCurve one = MeanCumulativeFunction.Estimate([new(0, 9, [3]), new(0, 9, [3])]);
        MeanCumulativeCurve two = MeanCumulativeFunction.Estimate([new(0, 9, [4]), new(0, 9, [])]);
        Estimate difference = one.DifferenceFrom(two, 5)!;
        Assert.Equal(0.5, difference.Value, 1e-12);
        Assert.Equal(0.5 - (1.959963984540054 * Math.Sqrt(0.125)), difference.Lower!.Value, 1e-12);
        Assert.Equal(0.5 + (1.959963984540054 * Math.Sqrt(0.125)), difference.Upper!.Value, 1e-12);
        Assert.Null(one.DifferenceFrom(two, 9.1));
        Assert.Null(one.DifferenceFrom(two, 1)!.Lower);
    }

    private static Matrix<double> Plain(HistoryGroup[] groups, out double[] expected)
    {
        (EventHistory History, int Group)[] units = [.. groups.SelectMany((g, i) => g.Histories.Select(h => (h, i)))];
        expected = new double[groups.Length];
        Matrix<double> scores = Matrix<double>.Build.Dense(Math.Max(1, units.Length), groups.Length);
        foreach (double age in units.SelectMany(u => u.History.Ages).Distinct())
        {
            int[] atRisk = [.. Enumerable.Range(0, units.Length).Where(i => units[i].History.From < age && age <= units[i].History.To)];
            double mean = units.Sum(u => u.History.Ages.Count(a => a == age)) / (double)atRisk.Length;
            for (int g = 0; g < groups.Length; g++)
            {
                double share = atRisk.Count(i => units[i].Group == g) / (double)atRisk.Length;
                expected[g] += share * atRisk.Length * mean;
                foreach (int i in atRisk)
                {
                    scores[i, g] += ((units[i].Group == g ? 1 : 0) - share) * (units[i].History.Ages.Count(a => a == age) - mean);
                }
            }
        }

        return scores.TransposeThisAndMultiply(scores);
    }
}
