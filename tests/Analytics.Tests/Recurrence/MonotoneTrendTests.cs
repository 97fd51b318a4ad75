using CsCheck;
using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

public sealed class MonotoneTrendTests
{
    [Theory]
    [InlineData("monotone_trend.yearly_counts", "count")]
    [InlineData("monotone_trend.nile_flow", "flow")]
    [InlineData("monotone_trend.twelve_months", null)]
    public void Published_series_are_met(string id, string? column)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        double[] values = column is null
            ? [.. check.Inputs.GetProperty("counts").EnumerateArray().Select(x => x.GetDouble())]
            : check.Rows.Numbers(column);
        MonotoneTrendResult result = MonotoneTrend.Test(values);
        check.AssertClose(result.Count, "n");
        check.AssertClose(result.S, "s");
        check.AssertClose(result.Variance, "variance");
        check.AssertClose(result.Z, "z");
        check.AssertClose(result.PValue, "p_value");
        check.AssertClose(result.TauB, "kendall_tau_b");
        check.AssertClose(result.Slope, "slope");
        check.AssertClose(result.RankLower, "slope_rank_lower");
        check.AssertClose(result.RankUpper, "slope_rank_upper");
        check.AssertClose(result.Interpolated!.Lower, "slope_lower_interpolated");
        check.AssertClose(result.Interpolated.Upper, "slope_upper_interpolated");
        check.AssertClose(result.WholeRank!.Lower, "slope_lower_whole_rank");
        check.AssertClose(result.WholeRank.Upper, "slope_upper_whole_rank");
        check.AssertClose(result.Intercept, "intercept_median");
    }

    [Fact]
    public void Every_published_series_has_its_test_here() => Assert.Equal(
        ["monotone_trend.nile_flow", "monotone_trend.twelve_months", "monotone_trend.yearly_counts"],
        PublishedChecks.Ids("monotone_trend."));

    [Fact]
    public void Any_series_gives_finite_figures_and_its_mirror_image_the_opposite() => Drawn.Each(
        Gen.Int[-3, 3].Array[0, 12],
        2000,
        drawn =>
        {
            double[] values = [.. drawn.Select(x => (double)x)];
            MonotoneTrendResult one = MonotoneTrend.Test(values);
            MonotoneTrendResult other = MonotoneTrend.Test([.. values.Reverse()]);
            Assert.Equal((-one.S, one.PValue), (other.S, other.PValue));
            Assert.Equal(-(one.Slope ?? 0), other.Slope ?? 0, 1e-12);
            Assert.Equal(-(one.Interpolated?.Lower ?? 0), other.Interpolated?.Upper ?? 0, 1e-12);
            Assert.Equal(one.Z is null, values.Distinct().Count() < 2);
            Assert.True(one.PValue is null or (>= 0 and <= 1));
            Assert.True(double.IsFinite((one.Slope ?? 0) + (one.TauB ?? 0) + (one.Intercept ?? 0) + one.Variance));
        });

    [Fact]
    public void Uneven_positions_count_in_the_slope() => Assert.Equal(0.5, MonotoneTrend.Test([0, 1, 4], positions: [0, 2, 8]).Slope);

    [Fact]
    public void What_cannot_be_a_series_is_refused()
    {
        Assert.Throws<ArgumentException>(() => MonotoneTrend.Test([1, double.NaN]));
        Assert.Throws<ArgumentException>(() => MonotoneTrend.Test([1, 2], positions: [1, 1]));
        Assert.Throws<ArgumentException>(() => MonotoneTrend.Test([1, 2], positions: [1]));
    }
}
