using System.Text.Json;
using CsCheck;
using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class RateRatioTests
{
    [Fact]
    public void The_published_ratios_are_met()
    {
        PublishedCheck check = PublishedChecks.Get("poisson_exact.two_rate_ratio");
        JsonElement[] cases = [.. check.Inputs.GetProperty("cases").EnumerateArray()];
        Assert.Equal(3, cases.Length);
        for (int i = 0; i < cases.Length; i++)
        {
            double[] c = [.. cases[i].EnumerateArray().Select(x => x.GetDouble())];
            RateComparison compared = RateRatio.Compare((int)c[0], c[1], (int)c[2], c[3]);
            check.AssertClose(check.Expected[i].GetProperty("rate_ratio"), compared.Ratio!.Value, $"{i} ratio");
            check.AssertClose(check.Expected[i].GetProperty("lower"), compared.Ratio.Lower, $"{i} lower");
            check.AssertClose(check.Expected[i].GetProperty("upper"), compared.Ratio.Upper, $"{i} upper");
            check.AssertClose(check.Expected[i].GetProperty("p_value"), compared.PValue, $"{i} p");
        }
    }

    /// <summary>R 4.2.2, poisson.test(c(x1, x2), c(t1, t2)).</summary>
    [Theory]
    [InlineData(40, 100, 20, 100, 1.141911605, 3.611069107, 0.01348929373)]
    [InlineData(1000, 100, 900, 95, 0.9636846165, 1.156312295, 0.2418967152)]
    [InlineData(1, 5, 1, 50, 0.1273936708, 784.9683532, 0.173553719)]
    [InlineData(3, 10, 0, 4, 0.165292542, null, 0.5626822157)]
    [InlineData(0, 10, 0, 4, 0.0, null, 1.0)]
    public void Other_cases_agree_with_the_reference_program(int x1, double t1, int x2, double t2, double lower, double? upper, double p)
    {
        RateComparison compared = RateRatio.Compare(x1, t1, x2, t2);
        AssertClose(lower, compared.RatioAtLeast);
        AssertClose(p, compared.PValue);
        Assert.Equal(upper is null, compared.Ratio is null);
        if (upper is { } most)
        {
            AssertClose(most, compared.Ratio!.Upper);
        }
    }

    /// <summary>By hand from Garwood's bounds of 5 and 3 in 10: 0.2 - hypot(0.5 - 0.16235, 0.87673 - 0.3), 0.2 + hypot(1.16683 - 0.5, 0.3 - 0.06187).</summary>
    [Fact]
    public void The_difference_combines_the_published_single_bounds()
    {
        Estimate difference = RateRatio.Compare(5, 10, 3, 10).Difference!;
        Assert.Equal(0.2, difference.Value, 12);
        Assert.Equal(0.2 - Math.Sqrt(Math.Pow(0.5 - 0.162348639, 2) + Math.Pow(0.876727307 - 0.3, 2)), difference.Lower!.Value, 8);
        Assert.Equal(0.2 + Math.Sqrt(Math.Pow(1.166833208 - 0.5, 2) + Math.Pow(0.3 - 0.06186721229, 2)), difference.Upper!.Value, 8);
    }

    /// <summary>Exact by summing over both Poisson counts: at least the stated 95 % over equal and unequal rates and exposures.</summary>
    [Theory]
    [InlineData(1, 1, 1, 1)]
    [InlineData(2, 1, 5, 1)]
    [InlineData(0.5, 4, 3, 1)]
    [InlineData(10, 1, 10, 0.3)]
    [InlineData(8, 2, 1, 2)]
    public void Bounds_of_the_difference_cover(double rate1, double exposure1, double rate2, double exposure2)
    {
        double covered = 0;
        for (int x = 0; x < 60; x++)
        {
            for (int y = 0; y < 60; y++)
            {
                Estimate bounds = RateRatio.Compare(x, exposure1, y, exposure2).Difference!;
                bool inside = bounds.Lower <= rate1 - rate2 && rate1 - rate2 <= bounds.Upper;
                covered += inside ? Poisson.PMF(rate1 * exposure1, x) * Poisson.PMF(rate2 * exposure2, y) : 0;
            }
        }

        Assert.InRange(covered, 0.95, 1);
    }

    [Fact]
    public void No_exposure_gives_no_comparison()
    {
        RateComparison compared = RateRatio.Compare(2, 0, 3, 10);
        Assert.Null(compared.First);
        Assert.Equal(0.3, compared.Second!.Value, 12);
        Assert.Null(compared.Ratio);
        Assert.Null(compared.Difference);
        Assert.Null(compared.PValue);
        Assert.Null(RateRatio.Compare(2, 10, 3, 0).PValue);
    }

    [Fact]
    public void Swapping_the_groups_turns_ratio_and_difference() => Gen
        .Select(Gen.Int[0, 300], Gen.Double[0.1, 500], Gen.Int[0, 300], Gen.Double[0.1, 500])
        .Sample((x1, t1, x2, t2) =>
        {
            RateComparison one = RateRatio.Compare(x1, t1, x2, t2), other = RateRatio.Compare(x2, t2, x1, t1);
            AssertClose(one.PValue!.Value, other.PValue, 1e-6);
            Assert.InRange(one.PValue.Value, 0, 1);
            AssertClose(-one.Difference!.Upper!.Value, other.Difference!.Lower);
            if (one.Ratio is { Upper: { } upper })
            {
                AssertClose(1 / upper, other.RatioAtLeast);
                Assert.True(one.Ratio.Lower <= one.Ratio.Value && one.Ratio.Value <= upper && double.IsFinite(upper));
            }
        });

    [Theory]
    [InlineData(int.MaxValue / 2, 1e100, 1, 1e-100)]
    [InlineData(1, 1e-100, 1_000_000, 1e100)]
    [InlineData(0, 1e-100, 5, 1e100)]
    public void Extreme_exposures_leave_no_undefined_number(int x1, double t1, int x2, double t2)
    {
        RateComparison compared = RateRatio.Compare(x1, t1, x2, t2);
        Assert.All(
            new[]
            {
                compared.Ratio?.Value, compared.Ratio?.Lower, compared.Ratio?.Upper, compared.RatioAtLeast, compared.PValue,
                compared.Difference?.Value, compared.Difference?.Lower, compared.Difference?.Upper,
            },
            value => Assert.True(value is null || double.IsFinite(value.Value)));
    }

    private static void AssertClose(double wanted, double? got, double relative = 1e-6) =>
        Assert.True(got is { } g && Math.Abs(g - wanted) <= relative * Math.Max(Math.Abs(wanted), 1e-9), $"{wanted:R} expected, {got:R} given");
}
