using System.Text.Json;

using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;
using Washwear.Analytics.Planning;
using Washwear.Analytics.Tests.PartLife;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>The chance to fail soon: the published chances, and bounds as part life gives them in its own coordinates.</summary>
public sealed class FailureForecastTests
{
    [Fact]
    public void Chance_is_the_published_one_and_lies_within_its_bounds()
    {
        PublishedCheck check = PublishedChecks.Get("conditional_failure.next_90_days");
        foreach (JsonElement row in check.Expected.EnumerateArray())
        {
            var life = new LifeUncertainty(new WeibullLife(row.GetProperty("shape").GetDouble(), 1460), 0.2, 0.1, 0.1, 0.5);
            Estimate chance = FailureForecast.Chance(life, row.GetProperty("age").GetDouble(), 90);
            check.AssertClose(row.GetProperty("probability"), chance.Value, "probability");
            Assert.True(chance.Lower < chance.Value && chance.Value < chance.Upper && chance.Upper < 1);
        }
    }

    [Theory]
    [InlineData(0, 100)]
    [InlineData(20, 1e-3)]
    [InlineData(480, 100)]
    [InlineData(480, 5000)]
    public void Bounds_are_those_of_the_fitted_curve(double age, double window)
    {
        var fit = (FittedLife)WeibullFit.Fit(PublishedLives.FromStatus("nist_weibull_censored.csv", "hours"));
        Estimate expected = WeibullBounds.FurtherFailure(fit, age, window, 0.9, BoundsMethod.ObservedInformation);
        Estimate chance = FailureForecast.Chance(DemandDistributionTests.PublishedFit, age, window);
        Assert.Equal(1, chance.Lower!.Value / expected.Lower!.Value, 7);
        Assert.Equal(1, chance.Upper!.Value / expected.Upper!.Value, 7);
    }

    [Fact]
    public void Sure_ends_have_no_width()
    {
        LifeUncertainty life = DemandDistributionTests.PublishedFit;
        Assert.Equal(new Estimate(0, 0, 0, 0.9, "delta method, complementary log-log"), FailureForecast.Chance(life, 100, 0));
        Assert.Equal(1, FailureForecast.Chance(life, 100, 1e9).Lower);
        Assert.Throws<ArgumentOutOfRangeException>(() => FailureForecast.Chance(life, 100, 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => FailureForecast.Chance(life, -1, 1));
    }
}
