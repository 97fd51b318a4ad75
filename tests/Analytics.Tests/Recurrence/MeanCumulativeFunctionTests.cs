using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class MeanCumulativeFunctionTests
{
    [Fact]
    public void The_published_curve_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("mcf.valve_seats");
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(PublishedHistories.ValveSeats());
        IReadOnlyList<MeanCumulativeStep> steps = curve.Steps;
        check.AssertAllClose(steps.Select(s => s.Age), "age");
        check.AssertAllClose(steps.Select(s => (double)s.AtRisk), "at_risk");
        check.AssertAllClose(steps.Select(s => (double)s.Events), "events");
        check.AssertAllClose(steps.Select(s => s.Mean), "mcf");
        check.AssertAllClose(steps.Select(s => s.SeRobust), "se_robust");
        check.AssertAllClose(steps.Select(s => s.SeNelson), "se_nelson");
        check.AssertAllClose(steps.Select(s => s.SePoisson), "se_poisson");
        check.AssertAllClose(steps.Select(s => s.Lower), "lower_log");
        check.AssertAllClose(steps.Select(s => s.Upper), "upper_log");
        check.AssertAllClose(steps.Select(s => s.LowerLinear), "lower_linear");
        check.AssertAllClose(steps.Select(s => s.UpperLinear), "upper_linear");
        Assert.Equal((41, 48), (curve.Units, curve.Events));
    }

    [Fact]
    public void Every_published_curve_has_its_test_here() => Assert.Equal(["mcf.valve_seats"], PublishedChecks.Ids("mcf."));

    [Fact]
    public void Running_sums_agree_with_the_plain_sums_over_all_units_and_ages() => Drawn.Each(
        AnyHistories.All,
        3000,
        histories =>
        {
            foreach (MeanCumulativeStep step in MeanCumulativeFunction.Estimate(histories).Steps)
            {
                (double mean, double variance, bool alone) = Plain(histories, step.Age);
                Assert.Equal(mean, step.Mean, mean * 1e-12);
                Assert.Equal(alone, step.SeRobust is null);
                Assert.Equal(variance, step.SeRobust * step.SeRobust ?? variance, mean * mean * 1e-12);
                Assert.True(double.IsFinite((step.Lower ?? 0) + (step.Upper ?? 0) + step.SePoisson + (step.SeNelson ?? 0)));
                Assert.True(step.Lower is null || (step.Lower > 0 && step.Lower <= step.Mean && step.Mean <= step.Upper));
            }
        });

    [Fact]
    public void Nelsons_running_sum_agrees_with_the_plain_double_sum() => Drawn.Each(
        AnyHistories.FromNew,
        2000,
        histories =>
        {
            MeanCumulativeStep[] steps = [.. MeanCumulativeFunction.Estimate(histories).Steps];
            for (int k = 0; k < steps.Length; k++)
            {
                double? variance = PlainNelson(histories, steps.AsSpan(0, k + 1));
                double allowed = steps[k].Mean * steps[k].Mean * 1e-12;
                Assert.True(steps[k].SeNelson is { } se
                    ? Math.Abs((se * se) - variance!.Value) <= allowed
                    : variance is null || variance <= allowed);
            }
        });

    [Fact]
    public void Equal_histories_have_no_spread_at_all()
    {
        EventHistory[] alike = [.. Enumerable.Repeat(new EventHistory(0, 9, [1, 1, 1, 2, 7]), 7)];
        Assert.All(MeanCumulativeFunction.Estimate(alike).Steps, s => Assert.Equal((0, s.Mean, s.Mean), (s.SeRobust, s.Lower, s.Upper)));
    }

    /// <summary>By hand: at 2 one of one unit, at 5 two of two, at 8 one of one: 1, 2, 3; nobody is watched from 10 to 12.</summary>
    [Fact]
    public void Late_entry_gaps_and_lone_units_are_told()
    {
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(
            [new(1, 6, [2, 5]), new(4, 10, [5, 8]), new(12, 14, []), new(13, 15, [])]);
        Assert.Equal([1, 2, 3], curve.Steps.Select(s => s.Mean));
        Assert.All(curve.Steps, s => Assert.Null(s.SeRobust));
        Assert.Equal([new(0, 1), new(10, 12)], curve.Unwatched);
        Assert.Equal([new(1, 4), new(6, 10), new(12, 13), new(14, 15)], curve.WatchedAlone);
        Assert.Equal([0, 1, 1, 2, 3, null], new[] { 1.5, 2, 4.9, 5, 15, 15.1 }.Select(curve.MeanAt));
    }

    [Fact]
    public void Counting_from_an_age_leaves_aside_what_came_before()
    {
        EventHistory[] histories = [new(0, 6, [2, 5]), new(4, 10, [5, 8]), new(0, 4, [3])];
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(histories, fromAge: 4);
        Assert.Equal([(5.0, 2, 1.0), (8.0, 1, 2.0)], curve.Steps.Select(s => (s.Age, s.AtRisk, s.Mean)));
        Assert.Equal((2, 3), (curve.Units, curve.Events));
        Assert.Null(curve.MeanAt(3.9));
    }

    [Fact]
    public void Nothing_watched_gives_an_empty_curve()
    {
        MeanCumulativeCurve none = MeanCumulativeFunction.Estimate([]);
        Assert.Empty(none.Steps);
        Assert.Null(none.LastAge);
        Assert.Null(none.MeanAt(0));
        Assert.Equal(0, MeanCumulativeFunction.Estimate([new(0, 5, [])]).MeanAt(5));
    }

    [Fact]
    public void A_thinned_curve_stands_where_the_curve_does_and_loses_no_event() => Drawn.Each(
        AnyHistories.All,
        500,
        histories =>
        {
            MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(histories);
            foreach (int most in new[] { 2, 3, 10 })
            {
                IReadOnlyList<MeanCumulativeStep> thin = curve.Thinned(most);
                Assert.True(thin.Count <= most);
                Assert.All(thin, t => Assert.Equal(t, curve.StepAt(t.Age)!.Value with { Events = t.Events }));
                Assert.Equal(curve.Events, thin.Sum(t => t.Events));
                Assert.True(curve.Steps.Count == 0 || (thin[0] == curve.Steps[0] && thin[^1].Age == curve.Steps[^1].Age));
            }
        });

    /// <summary>
    /// Units with rates of their own (gamma, shape 1/2) and random windows: 95 % bounds must hold the true mean at age 1 in 95 % of 2000
    /// trials, +/- 4 x 0.5 % and 1.5 % that the normal approximation may lack at 60 units; the Poisson bounds fall far short.
    /// </summary>
    [Fact]
    public void Robust_bounds_cover_where_units_differ()
    {
        var random = new Random(61);
        int robust = 0, poisson = 0;
        for (int trial = 0; trial < 2000; trial++)
        {
            EventHistory[] units = [.. Enumerable.Range(0, 60).Select(_ => SimulatedHistories.Mixed(random, 3, 0.5 + random.NextDouble()))];
            MeanCumulativeStep step = MeanCumulativeFunction.Estimate(units).StepAt(0.5)!.Value;
            robust += step.Lower <= 1.5 && step.Upper >= 1.5 ? 1 : 0;
            poisson += Math.Abs(step.Mean - 1.5) <= 1.959964 * step.SePoisson ? 1 : 0;
        }

        Assert.InRange(robust / 2000.0, 0.915, 0.97);
        Assert.InRange(poisson / 2000.0, 0, 0.85);
    }

    private static (double Mean, double Variance, bool Alone) Plain(EventHistory[] histories, double upTo)
    {
        double[] ages = [.. histories.SelectMany(h => h.Ages).Where(a => a <= upTo).Distinct().Order()];
        double mean = 0;
        bool alone = false;
        double[] influence = new double[histories.Length];
        foreach (double age in ages)
        {
            int[] atRisk = [.. Enumerable.Range(0, histories.Length).Where(i => histories[i].From < age && age <= histories[i].To)];
            double average = histories.Sum(h => h.Ages.Count(a => a == age)) / (double)atRisk.Length;
            mean += average;
            alone |= atRisk.Length == 1;
            foreach (int unit in atRisk)
            {
                influence[unit] += (histories[unit].Ages.Count(a => a == age) - average) / atRisk.Length;
            }
        }

        return (mean, influence.Sum(x => x * x), alone);
    }

    private static double? PlainNelson(EventHistory[] histories, ReadOnlySpan<MeanCumulativeStep> steps)
    {
        double sum = 0;
        for (int l = 0; l < steps.Length; l++)
        {
            double late = steps[l].Age;
            EventHistory[] watched = [.. histories.Where(h => late <= h.To)];
            if (watched.Length == 1)
            {
                return null;
            }

            double[] own = [.. watched.Select(h => (double)h.Ages.Count(a => a == late))];
            for (int k = 0; k <= l; k++)
            {
                double early = steps[k].Age;
                double[] earlier = [.. watched.Select(h => (double)h.Ages.Count(a => a == early))];
                double covariance = own.Zip(earlier, (x, y) => (x - own.Average()) * (y - earlier.Average())).Sum() / (watched.Length - 1);
                sum += (k == l ? 1 : 2) * covariance / steps[k].AtRisk;
            }
        }

        return sum;
    }
}
