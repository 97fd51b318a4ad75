using System.Text.Json;
using CsCheck;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class PoissonRateTests
{
    [Fact]
    public void Garwoods_bounds_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("poisson_exact.garwood");
        Assert.Equal(7, check.Expected.GetArrayLength());
        foreach (JsonElement e in check.Expected.EnumerateArray())
        {
            int count = e.GetProperty("count").GetInt32();
            Estimate rate = PoissonRate.Exact(count, e.GetProperty("exposure").GetDouble())!;
            check.AssertClose(e.GetProperty("rate"), rate.Value, $"{count} rate");
            check.AssertClose(e.GetProperty("lower"), rate.Lower, $"{count} lower");
            check.AssertClose(e.GetProperty("upper"), rate.Upper, $"{count} upper");
        }
    }

    [Fact]
    public void The_handbooks_time_between_failures_is_met()
    {
        PublishedCheck check = PublishedChecks.Get("poisson_exact.nist_mtbf_interval");
        double hours = check.Inputs.GetProperty("total_hours").GetDouble();
        int failures = check.Inputs.GetProperty("failures").GetInt32();
        MeanTimeBetweenFailures between = PoissonRate.MeanTimeBetween(failures, hours, check.Inputs.GetProperty("level").GetDouble())!;
        check.AssertClose(between.Value, "mtbf");
        check.AssertClose(between.Lower, "lower");
        check.AssertClose(between.Upper, "upper");
        check.AssertClose(between.Lower / between.Value, "factor_lower");
        check.AssertClose(between.Upper / between.Value, "factor_upper");

        MeanTimeBetweenFailures none = PoissonRate.MeanTimeBetween(0, hours, 0.95)!;
        check.AssertClose(none.Lower, "zero_failures_lower_95_one_sided");
        Assert.Null(none.Value);
        Assert.Null(none.Upper);
        Assert.Contains("one-sided", none.Bounds, StringComparison.Ordinal);
    }

    /// <summary>-ln 0.05 = 2.9957: the 'rule of three' (Hanley and Lippman-Hand 1983, J. American Medical Association 249, 1743).</summary>
    [Fact]
    public void No_event_leaves_the_rule_of_three() => Assert.Equal(2.995732274, PoissonRate.UpperBound(0, 1, 0.95)!.Value, 9);

    [Fact]
    public void No_exposure_gives_no_rate()
    {
        Assert.Null(PoissonRate.Exact(3, 0));
        Assert.Null(PoissonRate.UpperBound(0, 0));
        Assert.Null(PoissonRate.MeanTimeBetween(0, 0));
        Assert.Null(PoissonRate.MeanTimeBetween(2, 0));
    }

    [Theory]
    [InlineData(-1, 1, 0.95)]
    [InlineData(1, -1, 0.95)]
    [InlineData(1, double.NaN, 0.95)]
    [InlineData(1, double.PositiveInfinity, 0.95)]
    [InlineData(1, 1e-300, 0.95)]
    [InlineData(1, 1, 1.0)]
    [InlineData(1, 1, double.NaN)]
    public void Impossible_numbers_are_refused(int count, double exposure, double level)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => PoissonRate.Exact(count, exposure, level));
        Assert.Throws<ArgumentOutOfRangeException>(() => PoissonRate.UpperBound(count, exposure, level));
        Assert.Throws<ArgumentOutOfRangeException>(() => PoissonRate.MeanTimeBetween(count, exposure, level));
    }

    [Fact]
    public void More_exposure_lowers_and_another_event_raises_all_of_the_rate() => Gen
        .Select(Gen.Int[0, 5000], Gen.Double[0.01, 1000], Gen.Double[1.001, 50], Gen.Double[0.5, 0.999])
        .Sample((count, exposure, more, level) =>
        {
            Estimate rate = PoissonRate.Exact(count, exposure, level)!;
            Estimate longer = PoissonRate.Exact(count, exposure * more, level)!;
            Estimate another = PoissonRate.Exact(count + 1, exposure, level)!;
            Assert.True(rate.Lower <= rate.Value && rate.Value < rate.Upper);
            Assert.True(longer.Upper < rate.Upper && longer.Lower <= rate.Lower && longer.Value <= rate.Value);
            Assert.True(another.Upper > rate.Upper && another.Lower > rate.Lower);
            Assert.True(PoissonRate.UpperBound(count, exposure, level) < rate.Upper);
        });
}
