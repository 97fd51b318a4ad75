using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class WeibullTests
{
    /// <summary>NIST/SEMATECH e-Handbook 8.4.1.3: mean 540.737 and sd 323.806 at the fitted shape and scale.</summary>
    [Fact]
    public void Mean_and_spread_meet_the_published_example()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.nist_censored");
        var curve = new Weibull(606.527558, 1.720797261);
        check.AssertClose(curve.MeanLife, "mean_life", "estimate");
        check.AssertClose(curve.StandardDeviationOfLife, "sd_life");
        check.AssertClose(curve.AgeWhenFailed(0.10), "b10", "estimate");
        Assert.Equal(0.8622479568, curve.SurvivalAt(200), 1e-9);
    }

    /// <summary>By hand: at shape 1 the curve is exponential, at shape 2 with scale 10 S(10) = 1/e, h(5) = 2/10 x 5/10 = 0.1.</summary>
    [Fact]
    public void Simple_curves_by_hand()
    {
        var chance = new Weibull(100, 1);
        Assert.Equal(100, chance.MeanLife, 1e-9);
        Assert.Equal(0.01, chance.HazardAt(0)!.Value, 1e-15);
        Assert.Equal(1 - Math.Exp(-0.3), chance.ConditionalFailureProbability(500, 30), 1e-14);
        var wear = new Weibull(10, 2);
        Assert.Equal(Math.Exp(-1), wear.SurvivalAt(10), 1e-15);
        Assert.Equal(0.1, wear.HazardAt(5)!.Value, 1e-15);
        Assert.Equal(1 - Math.Exp(-(1.44 - 1)), wear.ConditionalFailureProbability(10, 2), 1e-14);
    }

    [Fact]
    public void The_age_when_a_share_has_failed_inverts_the_share_failed()
    {
        var curve = new Weibull(321, 0.7);
        Assert.All([1e-12, 0.01, 0.1, 0.5, 0.999], f => Assert.Equal(f, curve.FailedBy(curve.AgeWhenFailed(f)), f * 1e-9));
    }

    [Fact]
    public void Short_running_at_a_great_age_keeps_its_digits()
    {
        var curve = new Weibull(1000, 2);
        Assert.Equal(curve.HazardAt(1e6)!.Value * 1e-9, curve.ConditionalFailureProbability(1e6, 1e-9), 1e-17);
        Assert.Equal(1, curve.ConditionalFailureProbability(1e200, 1e199));
        Assert.Equal(0, curve.ConditionalFailureProbability(5, 0));
    }

    [Fact]
    public void A_new_part_of_falling_hazard_has_no_hazard_value() => Assert.Null(new Weibull(10, 0.5).HazardAt(0));

    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.PositiveInfinity)]
    public void Impossible_parameters_are_refused(double scale, double shape) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new Weibull(scale, shape));

    [Fact]
    public void Impossible_questions_are_refused()
    {
        var curve = new Weibull(10, 2);
        Assert.Throws<ArgumentOutOfRangeException>(() => curve.AgeWhenFailed(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => curve.AgeWhenFailed(1));
        Assert.Throws<ArgumentOutOfRangeException>(() => curve.SurvivalAt(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => curve.ConditionalFailureProbability(1, double.NaN));
    }
}
