using System.Text.Json;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class KaplanMeierTests
{
    [Theory]
    [InlineData("kaplan_meier.generator_fans")]
    [InlineData("kaplan_meier.nist_censored")]
    [InlineData("kaplan_meier.leukemia_6mp")]
    [InlineData("kaplan_meier.generator_fans_delayed_entry")]
    [InlineData("kaplan_meier.ball_bearings_delayed_entry")]
    public void Published_curves_are_met(string id) => AssertMeets(PublishedChecks.Get(id), KaplanMeier.Estimate(LivesOf(id)));

    [Fact]
    public void An_early_empty_risk_set_is_found_and_the_curve_restarts_where_asked()
    {
        PublishedCheck check = PublishedChecks.Get("kaplan_meier.early_empty_risk_set");
        Lives lives = PublishedLives.FromStatus("early_empty_risk_set.csv", "time", "entry");
        SurvivalCurve curve = KaplanMeier.Estimate(lives);
        AssertMeets(check, curve, "unconditional");
        Assert.Equal(6, curve.RestartAge);
        Assert.Contains(curve.Account.Doubts, d => d.Contains("survived to 6", StringComparison.Ordinal));
        AssertMeets(check, KaplanMeier.Estimate(lives, fromAge: curve.RestartAge!.Value), "conditional_on_surviving_to_6");
    }

    /// <summary>The plain rule and R's print (log-log rows); R's quantile() would give the middle to the last age.</summary>
    [Theory]
    [InlineData("six_mp")]
    [InlineData("control")]
    [InlineData("generator_fans_delayed_entry")]
    [InlineData("motor_190")]
    [InlineData("ball_bearings")]
    [InlineData("nist_censored")]
    public void Published_median_bounds_are_met(string set)
    {
        PublishedCheck check = PublishedChecks.Get("kaplan_meier.median_bounds");
        JsonElement expected = check.Value(set).EnumerateArray().Single(r => r.GetProperty("transform").GetString() == "log-log");
        MedianLife median = KaplanMeier.Estimate(MedianSet(set)).Median;
        check.AssertClose(expected.GetProperty("median"), median.Age, "median");
        check.AssertClose(expected.GetProperty("lower"), median.Lower, "lower");
        check.AssertClose(expected.GetProperty("upper"), median.Upper, "upper");
    }

    [Fact]
    public void Seven_published_checks_are_covered() => Assert.Equal(7, PublishedChecks.Ids("kaplan_meier.").Count);

    /// <summary>
    /// By hand: failures at 1 and 3 of four parts, one running at 1 (a tie: still at risk at 1), one from 2 to 4.
    /// At 1: 3 at risk (the late one is not), S = 2/3. At 3: 2 at risk, S = 1/3. Greenwood sum 1/(3x2) + 1/(2x1) = 2/3.
    /// </summary>
    [Fact]
    public void A_tie_and_a_late_entry_by_hand()
    {
        Lives lives = new LivesBuilder("days").FailedAt(1).StillRunningAt(1).FailedAt(3).StillRunningAt(4, enteredAt: 2).Build();
        SurvivalCurve curve = KaplanMeier.Estimate(lives);
        Assert.Equal([3, 2], curve.Steps.Select(s => s.AtRisk));
        Assert.Equal(2.0 / 3, curve.Steps[0].Survival, 1e-15);
        Assert.Equal(1.0 / 3, curve.Steps[1].Survival, 1e-15);
        Assert.Equal(Math.Sqrt(2.0 / 3) / 3, curve.Steps[1].StandardError!.Value, 1e-15);
        Assert.Equal((1.0 / 3) + (1.0 / 2), curve.Steps[1].NelsonAalen, 1e-15);
    }

    /// <summary>The curve is exactly one half from 2 to 3 and falls again: the middle of the stretch.</summary>
    [Fact]
    public void A_median_on_a_flat_stretch_is_its_middle() =>
        Assert.Equal(2.5, KaplanMeier.Estimate(PublishedLives.Complete(1, 2, 3, 4)).Median.Age);

    [Fact]
    public void No_lives_give_no_steps_and_no_median()
    {
        SurvivalCurve curve = KaplanMeier.Estimate(new LivesBuilder("days").Exclude("fitting date unknown", 3).Build());
        Assert.Empty(curve.Steps);
        Assert.Null(curve.Median.Age);
        Assert.Equal(3, curve.Account.ExcludedCount);
    }

    [Fact]
    public void Failures_between_looks_are_placed_where_found_and_doubted()
    {
        SurvivalCurve curve = KaplanMeier.Estimate(new LivesBuilder("days").FailedBetween(2, 5).StillRunningAt(9).Build());
        Assert.Equal(5, Assert.Single(curve.Steps).Age);
        Assert.Contains(curve.Account.Doubts, d => d.Contains("between two looks", StringComparison.Ordinal));
    }

    private static Lives LivesOf(string id) => id switch
    {
        "kaplan_meier.leukemia_6mp" => PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "6-MP"),
        _ => PublishedLives.Of("weibull_mle." + id["kaplan_meier.".Length..]),
    };

    private static Lives MedianSet(string set) => set switch
    {
        "six_mp" => PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "6-MP"),
        "control" => PublishedLives.Group("leukemia_remission.csv", "weeks", "treatment", "control"),
        "generator_fans_delayed_entry" => PublishedLives.Of("weibull_mle.generator_fans_delayed_entry"),
        "motor_190" => PublishedLives.Group("motor_insulation.csv", "time", "temp", "190"),
        "ball_bearings" => PublishedLives.BallBearings(),
        "nist_censored" => PublishedLives.Of("weibull_mle.nist_censored"),
        _ => throw new ArgumentOutOfRangeException(nameof(set), set, "Unknown set."),
    };

    private static void AssertMeets(PublishedCheck check, SurvivalCurve curve, params string[] under)
    {
        check.AssertAllClose(curve.Steps.Select(s => s.Age), [.. under, "time"]);
        check.AssertAllClose(curve.Steps.Select(s => (double)s.AtRisk), [.. under, "at_risk"]);
        check.AssertAllClose(curve.Steps.Select(s => (double)s.Failures), [.. under, "events"]);
        check.AssertAllClose(curve.Steps.Select(s => s.Survival), [.. under, "survival"]);
        check.AssertAllClose(curve.Steps.Select(s => s.StandardError), [.. under, "greenwood_se"]);
        check.AssertAllClose(curve.Steps.Select(s => s.Lower), [.. under, "lower_loglog"]);
        check.AssertAllClose(curve.Steps.Select(s => s.Upper), [.. under, "upper_loglog"]);
        check.AssertAllClose(curve.Steps.Select(s => s.NelsonAalen), [.. under, "nelson_aalen"]);
        check.AssertAllClose(curve.Steps.Select(s => s.NelsonAalenStandardError), [.. under, "nelson_aalen_se"]);
    }
}
