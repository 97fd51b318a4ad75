using System.Text.Json;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class WeibullFitTests
{
    public static TheoryData<string> PublishedIds => [.. PublishedChecks.Ids("weibull_mle.")];

    /// <summary>Sources stand in expected.json beside each check; every figure of each is compared.</summary>
    [Theory]
    [MemberData(nameof(PublishedIds))]
    public void Published_fits_are_met_with_both_kinds_of_bounds(string id) =>
        AssertMeets(PublishedChecks.Get(id), PublishedLives.Of(id));

    [Fact]
    public void Ten_published_fits_are_checked() => Assert.Equal(10, PublishedChecks.Ids("weibull_mle.").Count);

    [Theory]
    [InlineData("weibull_mle.generator_fans_delayed_entry")]
    [InlineData("weibull_mle.ball_bearings_delayed_entry")]
    public void Leaving_out_the_entry_gives_the_published_wrong_answer(string id)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        string age = id.Contains("fans", StringComparison.Ordinal) ? "hours" : "million_revolutions";
        FittedLife fit = Fitted(PublishedLives.FromStatus(check.DataFile, age));
        check.AssertClose(fit.Curve.Shape, "wrong_answer_if_entry_ignored", "shape");
        check.AssertClose(fit.Curve.Scale, "wrong_answer_if_entry_ignored", "scale");
    }

    [Fact]
    public void The_other_version_of_the_ball_bearings_is_met_too()
    {
        PublishedCheck check = PublishedChecks.Get("weibull_mle.ball_bearings_complete");
        double[] lives = check.Rows.Numbers("million_revolutions");
        lives[Array.IndexOf(lives, 48.48)] = 48.40;
        FittedLife fit = Fitted(PublishedLives.Complete(lives));
        check.AssertClose(fit.Curve.Shape, "variant_48_40", "shape");
        check.AssertClose(fit.Curve.Scale, "variant_48_40", "scale");
        check.AssertClose(fit.LogLikelihood, "variant_48_40", "loglik");
    }

    /// <summary>
    /// By hand: n parts fail at 1 and n at e, in units of the scale a and shape k. The score equations reduce to
    /// e^k (1 - 1/k + 1/2 ...) and are checked here as equations, not as numbers: sum z^k = 2n and 1/k + mean ln z = mean z^k ln z.
    /// </summary>
    [Fact]
    public void Two_ages_solve_the_score_equations_by_hand()
    {
        double[] ages = [1, 1, Math.E, Math.E];
        FittedLife fit = Fitted(PublishedLives.Complete(ages));
        double[] z = [.. ages.Select(a => a / fit.Curve.Scale)];
        Assert.Equal(4, z.Sum(x => Math.Pow(x, fit.Curve.Shape)), 1e-9);
        Assert.Equal(
            (4 / fit.Curve.Shape) + z.Sum(Math.Log), z.Sum(x => Math.Pow(x, fit.Curve.Shape) * Math.Log(x)), 1e-9);
    }

    [Fact]
    public void Two_failures_are_too_few_and_the_answer_says_so_in_words()
    {
        var result = Assert.IsType<NotEnough>(WeibullFit.Fit(PublishedLives.FromArrays([10, 20, 30], [true, true, false])));
        Assert.Equal(NoFitRule.TooFewFailures, result.Rule);
        Assert.Equal("too few failures (2) to fit a shape: at least 3 are needed", result.Message);
        Assert.Equal((3, 2, 1), (result.Account.Lives, result.Account.Failures, result.Account.Censored));
        Assert.False(result.Account.Converged);
        Assert.Null(result.Bound);
    }

    [Fact]
    public void Too_few_failures_still_give_a_bound_when_a_shape_is_supplied()
    {
        PublishedCheck check = PublishedChecks.Get("fixed_shape.one_failure");
        double[] ages = [.. check.Inputs.GetProperty("times").EnumerateArray().Select(t => t.GetDouble())];
        bool[] failed = [.. check.Inputs.GetProperty("failed").EnumerateArray().Select(f => f.GetInt32() == 1)];
        var result = Assert.IsType<NotEnough>(WeibullFit.Fit(
            PublishedLives.FromArrays(ages, failed), new WeibullFitOptions { ShapeIfTooFew = new GivenShape(2, ShapeSource.EnteredByUser), BoundConfidence = 0.9 }));
        check.AssertClose(result.Bound!.AgeWhenFailedLower(0.10), "shape_2", "b10_lower");
        Assert.EndsWith(
            "at a shape of 2 (entered by the user), 10 % fail no earlier than 234.2 test clock with 90 % confidence",
            result.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Failures_that_nobody_outlived_have_no_shape()
    {
        Lives lives = PublishedLives.FromArrays([50, 50, 50, 20, 50], [true, true, true, false, false]);
        Assert.Equal(NoFitRule.NoPartOutlivedAFailure, Assert.IsType<NotEnough>(WeibullFit.Fit(lives)).Rule);
    }

    [Fact]
    public void Intervals_that_share_one_age_have_no_shape()
    {
        Lives lives = new LivesBuilder("days").FailedBetween(1, 3).FailedBetween(2, 5).FailedBetween(0, 4).StillRunningAt(2).Build();
        Assert.Equal(NoFitRule.NoPartOutlivedAFailure, Assert.IsType<NotEnough>(WeibullFit.Fit(lives)).Rule);
    }

    [Fact]
    public void Looks_that_find_ever_fewer_failed_drive_the_shape_to_zero_and_that_is_said()
    {
        var builder = new LivesBuilder("days");
        for (int i = 0; i < 9; i++)
        {
            _ = builder.FailedBetween(0, 1).StillRunningAt(100).FailedBetween(0, i == 0 ? 100 : 1);
        }

        Assert.Equal(NoFitRule.ShapeTowardsZero, Assert.IsType<NotEnough>(WeibullFit.Fit(builder.Build())).Rule);
    }

    [Fact]
    public void Lives_that_all_enter_late_may_drive_the_shape_to_zero_and_that_is_said()
    {
        // Failures soon after entry at ages from 1 to 10 000: the hazard falls faster than 1/age, which no Weibull curve does.
        var builder = new LivesBuilder("days");
        foreach (double entry in new double[] { 1, 1, 1, 1, 10, 10, 100 })
        {
            _ = builder.FailedAt(1.1 * entry, entry);
        }

        for (int i = 0; i < 20; i++)
        {
            _ = builder.StillRunningAt(10_000, 100);
        }

        Assert.Equal(NoFitRule.ShapeTowardsZero, Assert.IsType<NotEnough>(WeibullFit.Fit(builder.Build())).Rule);
    }

    [Fact]
    public void No_lives_and_no_failures_are_results()
    {
        Assert.Equal(NoFitRule.NothingObserved, Assert.IsType<NotEnough>(WeibullFit.Fit(new LivesBuilder("days").Build())).Rule);
        Lives running = new LivesBuilder("days").StillRunningAt(5).SwappedEarlyAt(7).Build();
        Assert.Equal(NoFitRule.TooFewFailures, Assert.IsType<NotEnough>(WeibullFit.Fit(running)).Rule);
    }

    [Fact]
    public void A_poorly_known_shape_and_an_extrapolated_scale_are_doubts()
    {
        FittedLife fit = Fitted(PublishedLives.Inline(PublishedChecks.Get("weibull_mle.seven_items_two_suspensions").Inputs));
        Assert.Contains(fit.Account.Doubts, d => d.StartsWith("Only 5 failures", StringComparison.Ordinal));
        FittedLife fans = Fitted(PublishedLives.Of("weibull_mle.generator_fans"));
        Assert.Contains(fans.Account.Doubts, d => d.Contains("beyond the oldest part", StringComparison.Ordinal));
        Assert.True(fit.Account.Converged);
    }

    internal static FittedLife Fitted(Lives lives) => Assert.IsType<FittedLife>(WeibullFit.Fit(lives));

    internal static void AssertMeets(PublishedCheck check, Lives lives, params string[] under)
    {
        FittedLife fit = Fitted(lives);
        check.AssertClose(fit.LogLikelihood, [.. under, "loglik"]);
        check.AssertClose(fit.Aic, [.. under, "aic"]);
        AssertMeets(check, fit, [.. under, "shape"], m => WeibullBounds.Shape(fit, method: m));
        AssertMeets(check, fit, [.. under, "scale"], m => WeibullBounds.Scale(fit, method: m));
        AssertMeets(check, fit, [.. under, "b10"], m => WeibullBounds.AgeWhenFailed(fit, 0.10, method: m));
        AssertMeets(check, fit, [.. under, "b50"], m => WeibullBounds.AgeWhenFailed(fit, 0.50, method: m));
        AssertMeets(check, fit, [.. under, "mean_life"], m => WeibullBounds.MeanLife(fit, method: m));
        check.AssertClose(Math.Sqrt(fit.VarianceOfLogScale), [.. under, "scale", "se_log"]);
        check.AssertClose(Math.Sqrt(fit.VarianceOfLogShape), [.. under, "shape", "se_log"]);
        check.AssertClose(fit.CovarianceOfLogs, [.. under, "cov_logscale_logshape"]);
        if (check.Value(under).TryGetProperty("survival_at", out JsonElement survivals))
        {
            foreach (JsonElement at in survivals.EnumerateArray())
            {
                double age = at.GetProperty("time").GetDouble();
                Estimate given = WeibullBounds.SurvivalAt(fit, age, method: BoundsMethod.ObservedInformation);
                check.AssertClose(at.GetProperty("survival"), given.Value, $"survival at {age}");
                check.AssertClose(at.GetProperty("lower_loglog"), given.Lower, $"lower survival at {age}");
                check.AssertClose(at.GetProperty("upper_loglog"), given.Upper, $"upper survival at {age}");
            }
        }
    }

    private static void AssertMeets(PublishedCheck check, FittedLife fit, string[] path, Func<BoundsMethod, Estimate> bounded)
    {
        Estimate normal = bounded(BoundsMethod.ObservedInformation);
        Estimate profile = bounded(BoundsMethod.ProfileLikelihood);
        check.AssertClose(normal.Value, [.. path, "estimate"]);
        check.AssertClose(normal.Lower, [.. path, "lower_normal_log"]);
        check.AssertClose(normal.Upper, [.. path, "upper_normal_log"]);
        check.AssertClose(profile.Lower, [.. path, "lower_profile"]);
        check.AssertClose(profile.Upper, [.. path, "upper_profile"]);
        Assert.True(fit.Account.Converged);
    }
}
