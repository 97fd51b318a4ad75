using CsCheck;
using MathNet.Numerics.Distributions;
using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class CountTrendTests
{
    /// <summary>
    /// The published twelve months with equal exposure. Expected: R 4.2.2, prop.trend.test(counts, rep(1e12, 12)), whose chi-square is z^2
    /// where events are rare.
    /// </summary>
    [Fact]
    public void Counts_agree_with_the_trend_test_of_proportions()
    {
        double[] counts = [2, 0, 1, 1, 3, 2, 2, 4, 3, 5, 3, 6];
        TrendVerdict verdict = TrendVerdict.OfCounts([.. counts.Select(c => new PeriodCount(30, (int)c))]);
        Assert.Equal((TrendFinding.GettingWorse, TrendTestReason.VariesAsPoisson), (verdict.Finding, verdict.Reason));
        Assert.Equal(8.2237762237981, verdict.Test!.Statistic!.Value * verdict.Test.Statistic.Value, 1e-6);
        Assert.Equal(0, verdict.Change!.FewestToGettingWorse is null ? -1 : 0);
    }

    /// <summary>Yearly counts vary more than Poisson, so that the published Mann-Kendall test decides.</summary>
    [Fact]
    public void Counts_that_vary_more_are_judged_by_ranks()
    {
        PublishedCheck check = PublishedChecks.Get("monotone_trend.yearly_counts");
        TrendVerdict verdict = TrendVerdict.OfCounts([.. check.Rows.Numbers("count").Select(c => new PeriodCount(1, (int)c))]);
        Assert.Equal((TrendFinding.GettingBetter, TrendTestReason.VariesMoreThanPoisson), (verdict.Finding, verdict.Reason));
        check.AssertClose(verdict.Test!.Statistic, "z");
        check.AssertClose(verdict.Test.PTwoSided, "p_value");
        Assert.Equal(0, verdict.Change!.QuietUntilGettingBetter);
    }

    [Fact]
    public void More_exposure_with_as_many_more_events_is_no_trend()
    {
        TrendVerdict verdict = TrendVerdict.OfCounts([.. Enumerable.Range(1, 12).Select(j => new PeriodCount(100 * j, 2 * j))]);
        Assert.Equal(TrendFinding.NoTrendShown, verdict.Finding);
        Assert.Equal(0, verdict.Test!.Statistic!.Value, 1e-9);
    }

    [Fact]
    public void Little_data_and_bad_data()
    {
        Assert.Equal((TrendFinding.TooLittleData, null), (TrendVerdict.OfCounts([]).Finding, TrendVerdict.OfCounts([]).Change));
        Assert.Equal(TrendFinding.TooLittleData, TrendVerdict.OfCounts([new(30, 1), new(0, 0), new(30, 2)]).Finding);
        Assert.Throws<ArgumentException>(() => TrendVerdict.OfCounts([new(0, 1)]));
        Assert.Throws<ArgumentException>(() => TrendVerdict.OfCounts([new(double.NaN, 1)]));
    }

    [Fact]
    public void Any_counts_give_a_verdict_without_NaN_and_time_run_backwards_turns_it_round() => Drawn.Each(
        Gen.Select(Gen.Int[0, 4], Gen.Int[0, 6]).Array[0, 14],
        1000,
        drawn =>
        {
            PeriodCount[] periods = [.. drawn.Select(d => new PeriodCount(d.Item1 * 30.4, d.Item1 == 0 ? 0 : d.Item2))];
            TrendVerdict one = TrendVerdict.OfCounts(periods), other = TrendVerdict.OfCounts([.. periods.Reverse()]);
            Assert.True(one.Test?.PTwoSided is null or (>= 0 and <= 1));
            Assert.True(double.IsFinite((one.Variation ?? 0) + (one.VariationPValue ?? 0)));
            Assert.Equal(one.Test?.Statistic ?? 0, -(other.Test?.Statistic ?? 0), 1e-9);
            Assert.Equal(one.Finding == TrendFinding.GettingWorse, other.Finding == TrendFinding.GettingBetter);
        });

    /// <summary>Poisson months without trend and with uneven exposure: a trend is called in 5 % of 2000 trials, +/- 4 x 0.5 %.</summary>
    [Fact]
    public void The_level_is_kept_without_trend()
    {
        var random = new Random(111);
        int alarms = Enumerable.Range(0, 2000).Count(_ => TrendVerdict.OfCounts(
            [.. Enumerable.Range(0, 18).Select(j => 5.0 + (j % 5)).Select(e => new PeriodCount(e, Poisson.Sample(random, e * 0.5)))])
            .Finding is TrendFinding.GettingWorse or TrendFinding.GettingBetter);
        Assert.InRange(alarms / 2000.0, 0.03, 0.07);
    }
}
