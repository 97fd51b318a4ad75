using System.Text.Json;
using CsCheck;
using MathNet.Numerics.Distributions;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Tests.Rates;

public sealed class NextPeriodCountTests
{
    private static readonly (CountPrediction Method, string Name)[] Methods =
    [
        (CountPrediction.Conditional, "conditional"),
        (CountPrediction.Nelson, "nelson"),
        (CountPrediction.JointSampling, "joint_sampling"),
        (CountPrediction.NegativeBinomial, "negative_binomial"),
    ];

    private static readonly PublishedCheck Check = PublishedChecks.Get("prediction.next_period_count");

    [Theory]
    [InlineData("intervals", 6)]
    [InlineData("intervals_90", 1)]
    public void The_published_bounds_are_met(string set, int cases)
    {
        JsonElement[] expected = [.. Check.Value(set).EnumerateArray()];
        Assert.Equal(cases, expected.Length);
        foreach (JsonElement e in expected)
        {
            foreach ((CountPrediction method, string name) in Methods)
            {
                NextCount next = NextPeriodCount.Predict(
                    e.GetProperty("past").GetInt32(),
                    e.GetProperty("past_exposure").GetDouble(),
                    e.GetProperty("next_exposure").GetDouble(),
                    e.GetProperty("level").GetDouble(),
                    method)!;
                Check.AssertClose(e.GetProperty($"{name}_lower"), next.Lower, $"{e.GetProperty("past")} {name} lower");
                Check.AssertClose(e.GetProperty($"{name}_upper"), next.Upper, $"{e.GetProperty("past")} {name} upper");
                Check.AssertClose(e.GetProperty("expected"), next.Expected, "expected");
                Check.AssertClose(e.GetProperty("probability_of_none"), next.ChanceOfNone, "none");
            }
        }
    }

    /// <summary>Exact coverage: past exposure 1, next 0.5, summed over the past and the coming count.</summary>
    [Fact]
    public void The_published_coverage_is_met()
    {
        Assert.Equal(3, Check.Value("coverage").GetArrayLength());
        foreach (JsonElement e in Check.Value("coverage").EnumerateArray())
        {
            double mean = e.GetProperty("mean_past").GetDouble();
            foreach ((CountPrediction method, string name) in Methods)
            {
                Check.AssertClose(e.GetProperty(name), Coverage(mean, method), $"{mean} {name}");
            }
        }
    }

    // The past counts that the reference sums over: up to the one that all but 1e-10 of the counts stay at or below.
    private static double Coverage(double mean, CountPrediction method)
    {
        double covered = 0;
        for (int past = 0; past == 0 || Poisson.CDF(mean, past - 1) < 1 - 1e-10; past++)
        {
            NextCount next = NextPeriodCount.Predict(past, 1, 0.5, 0.95, method)!;
            double inside = Enumerable.Range(next.Lower, next.Upper - next.Lower + 1).Sum(y => Poisson.PMF(mean / 2, y));
            covered += Poisson.PMF(mean, past) * inside;
        }

        return covered;
    }

    [Fact]
    public void Without_past_exposure_nothing_is_predicted_and_without_a_next_none_comes()
    {
        Assert.Null(NextPeriodCount.Predict(0, 0, 1));
        foreach ((CountPrediction method, _) in Methods)
        {
            NextCount next = NextPeriodCount.Predict(5, 2, 0, 0.95, method)!;
            Assert.Equal((0.0, 0, 0, 1.0), (next.Expected, next.Lower, next.Upper, next.ChanceOfNone));
        }
    }

    [Fact]
    public void Bounds_hold_the_expected_count_and_widen_with_the_level() => Gen
        .Select(Gen.Int[0, 3000], Gen.Double[0.01, 100], Gen.Double[0, 100], Gen.Double[0.5, 0.99], Gen.OneOf([.. Methods.Select(m => Gen.Const(m.Method))]))
        .Sample((count, exposure, nextExposure, level, method) =>
        {
            NextCount next = NextPeriodCount.Predict(count, exposure, nextExposure, level, method)!;
            NextCount surer = NextPeriodCount.Predict(count, exposure, nextExposure, (1 + level) / 2, method)!;
            Assert.True(surer.Lower <= next.Lower && next.Upper <= surer.Upper);
            Assert.InRange(next.ChanceOfNone, 0, 1);
            if (method == CountPrediction.Conditional)
            {
                Assert.InRange(next.Expected, next.Lower - 1, next.Upper + 1);
            }
        });

    [Theory]
    [InlineData(-1, 1, 1, 0.95)]
    [InlineData(1, -1, 1, 0.95)]
    [InlineData(1, 1, double.NaN, 0.95)]
    [InlineData(1, 1e-50, 1e50, 0.95)]
    [InlineData(10_000_001, 1, 1, 0.95)]
    [InlineData(1, 1, 1, 0)]
    public void Impossible_numbers_are_refused(int count, double exposure, double next, double level) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => NextPeriodCount.Predict(count, exposure, next, level));

    [Fact]
    public void The_largest_counts_still_have_bounds()
    {
        foreach ((CountPrediction method, _) in Methods)
        {
            NextCount next = NextPeriodCount.Predict(9_999_999, 1, 1, 0.95, method)!;
            Assert.InRange(next.Upper - next.Lower, 17_000, 18_000); // 2 x 1.96 x sqrt(2e7) = 17,530
            Assert.True(NextPeriodCount.Predict(0, 1, 9_999_999, 0.999999, method)!.Upper > 0);
        }
    }
}
