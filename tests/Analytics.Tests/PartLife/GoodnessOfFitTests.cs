using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class GoodnessOfFitTests
{
    [Theory]
    [InlineData("anderson_darling.ball_bearings")]
    [InlineData("anderson_darling.generator_gaps")]
    [InlineData("anderson_darling.poor_fit")]
    public void Published_complete_cases_are_met(string id)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        FittedLife fit = WeibullFitTests.Fitted(PublishedLives.Complete(Ages(check)));
        GoodnessOfFitResult result = GoodnessOfFit.Test(fit);
        check.AssertClose(fit.Curve.Shape, "shape");
        check.AssertClose(fit.Curve.Scale, "scale");
        check.AssertClose(result.Statistic, "a_squared");
        check.AssertClose(result.AdjustedStatistic, "adjusted");
        check.AssertClose(result.PValue, "p_approx");
        check.AssertAllClose(GoodnessOfFit.CriticalValues.Select(c => c.UpperTail), "critical_values", "upper_tail");
        check.AssertAllClose(GoodnessOfFit.CriticalValues.Select(c => c.AdjustedStatistic), "critical_values", "adjusted_statistic");
    }

    [Fact]
    public void Three_published_cases_are_checked() => Assert.Equal(3, PublishedChecks.Ids("anderson_darling.").Count);

    [Fact]
    public void Failures_between_looks_are_not_tested_and_that_is_said()
    {
        GoodnessOfFitResult result = GoodnessOfFit.Test(WeibullFitTests.Fitted(PublishedLives.Of("weibull_mle.part_cracks_interval")));
        Assert.Null(result.PValue);
        Assert.Contains(result.Account.Doubts, d => d.StartsWith("The fit was not tested", StringComparison.Ordinal));
    }

    [Fact]
    public void Few_censored_failures_are_not_tested_and_that_is_said()
    {
        GoodnessOfFitResult result = GoodnessOfFit.Test(WeibullFitTests.Fitted(PublishedLives.Of("weibull_mle.generator_fans")));
        Assert.Null(result.PValue);
        Assert.Contains(result.Account.Doubts, d => d.Contains("12 failures", StringComparison.Ordinal));
    }

    [Fact]
    public void Bands_share_out_all_failures_seen_and_expected()
    {
        GoodnessOfFitResult result = GoodnessOfFit.Test(WeibullFitTests.Fitted(Simulated.Lives(new Random(5), 200)));
        int failures = result.Account.Failures;
        Assert.Equal(failures, result.Bands.Sum(b => b.Observed));
        Assert.Equal(failures, result.Bands.Sum(b => b.Expected), 1e-6);
        Assert.Equal(result.Bands.Count - 1, result.DegreesOfFreedom);
    }

    /// <summary>Right curve, late entry and censoring: 5 % false alarms of 2000 trials +/- 4 standard errors (2 %).</summary>
    [Fact]
    [Trait("Category", "Slow")]
    public void The_bands_keep_their_level()
    {
        const int Trials = 2000;
        var random = new Random(43);
        int alarms = Enumerable.Range(0, Trials)
            .Count(_ => GoodnessOfFit.Test(WeibullFitTests.Fitted(Simulated.Lives(random, 80))).PValue < 0.05);
        Assert.InRange(alarms / (double)Trials, 0.03, 0.07);
    }

    /// <summary>Two kinds of parts, a fifth of them failing at a hundredth of the age: one curve must not pass, censored or not.</summary>
    [Fact]
    public void A_wrong_curve_is_noticed_in_censored_lives()
    {
        Lives mixed = Simulated.Complete(new Random(44), 150, (0.2, new Weibull(10, 1)), (0.8, new Weibull(1000, 4)));
        var builder = new LivesBuilder("days").StillRunningAt(1);
        foreach (PlottedFailure failure in MedianRanks.Plot(mixed).Points)
        {
            builder.FailedAt(failure.Age);
        }

        GoodnessOfFitResult result = GoodnessOfFit.Test(WeibullFitTests.Fitted(builder.Build()));
        Assert.Equal("chi-square of failures by age band", result.Account.Method);
        Assert.InRange(result.PValue!.Value, 0, 1e-4);
    }

    private static double[] Ages(PublishedCheck check) => check.Id switch
    {
        "anderson_darling.ball_bearings" => check.Rows.Numbers("million_revolutions"),
        "anderson_darling.generator_gaps" => Gaps(check.Rows.Numbers("hours")),
        _ => [.. check.Inputs.GetProperty("lives").EnumerateArray().Select(l => l.GetDouble())],
    };

    private static double[] Gaps(double[] ages) => [.. ages.Select((age, i) => i == 0 ? age : age - ages[i - 1])];
}
