using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Numbers that make no chart are refused; none is answered with NaN or by never coming back.</summary>
public sealed class ControlChartRangeTests
{
    [Fact]
    public void Numbers_that_make_no_chart_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => BernoulliCusum.Design(0.02, 0.06, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => BernoulliCusum.Design(double.NaN, 0.06, 700));
        Assert.Throws<ArgumentOutOfRangeException>(() => BernoulliCusum.Design(0.06, 0.02, 700));
        Assert.Throws<ArgumentOutOfRangeException>(() => BernoulliCusum.RunLength(14, 42, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => GapChart.Limits(1e-12, 1, 0.01));
        Assert.Throws<ArgumentOutOfRangeException>(() => GapChart.Limits(0.04, 1, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => ProportionChart.ProbabilityLimits(30, 0.04, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => TabularCusum.LimitTwoSided(0.5, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => MovingAverageChart.FallingRunLength(0, 3, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => LatticeCusum.RunLength([(1, 0.5), (-1, 0.5)], 4, 4));
    }

    [Fact]
    public void A_sum_that_steps_one_up_or_down_with_equal_chance_has_the_run_length_worked_out_by_hand()
    {
        // Symmetric walk held at 0: from s the expected time to reach n is (n - s)(n + s + 1).
        Assert.Equal(20, LatticeCusum.RunLength([(1, 0.5), (-1, 0.5)], 4), 9);
        Assert.Equal(8, LatticeCusum.RunLength([(1, 0.5), (-1, 0.5)], 4, 3), 9);
        (int limit, double between) = LatticeCusum.Design([(1, 0.5), (-1, 0.5)], 25);
        Assert.Equal(5, limit);
        Assert.Equal(30, between, 9);
    }
}
