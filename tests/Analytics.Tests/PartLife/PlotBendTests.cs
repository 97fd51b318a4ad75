using Washwear.Analytics.PartLife;
using Xunit.Abstractions;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class PlotBendTests(ITestOutputHelper output)
{
    /// <summary>Straight plots, complete: 5 % false alarms of 2000 trials +/- 4 standard errors (2 %), few parts a little more.</summary>
    [Theory]
    [InlineData(20, 0.025, 0.08)]
    [InlineData(60, 0.03, 0.07)]
    [Trait("Category", "Slow")]
    public void Straight_plots_of_complete_lives_raise_few_alarms(int parts, double least, double most)
    {
        var random = new Random(45);
        AssertAlarms(least, most, () => Simulated.Complete(random, parts, (1, new Weibull(1000, 1.8))));
    }

    [Theory]
    [InlineData(40, 0.025, 0.08)]
    [InlineData(150, 0.03, 0.07)]
    [Trait("Category", "Slow")]
    public void Straight_plots_of_censored_late_lives_raise_few_alarms(int parts, double least, double most)
    {
        var random = new Random(46);
        AssertAlarms(least, most, () => Simulated.Lives(random, parts));
    }

    [Fact]
    public void A_weak_batch_flattens_the_plot_and_is_warned_of()
    {
        Lives lives = Simulated.Complete(new Random(47), 120, (0.6, new Weibull(60, 2)), (0.4, new Weibull(2000, 2)));
        PlotBendResult result = PlotBend.Test(WeibullFitTests.Fitted(lives));
        Assert.True(result.ZScore < -2, $"{result.ZScore}");
        Assert.StartsWith("The plot flattens", result.Warning, StringComparison.Ordinal);
        Assert.Equal(result.Warning, Assert.Single(result.Account.Doubts));
    }

    /// <summary>First of two causes: chance failures from new, wear from late on.</summary>
    [Fact]
    public void A_second_cause_steepens_the_plot_and_is_warned_of()
    {
        var random = new Random(48);
        var builder = new LivesBuilder("days");
        for (int i = 0; i < 120; i++)
        {
            double chance = new Weibull(1500, 0.9).AgeWhenFailed(1 - random.NextDouble());
            builder.FailedAt(Math.Min(chance, new Weibull(1000, 12).AgeWhenFailed(1 - random.NextDouble())));
        }

        PlotBendResult result = PlotBend.Test(WeibullFitTests.Fitted(builder.Build()));
        Assert.True(result.ZScore > 2, $"{result.ZScore}");
        Assert.StartsWith("The plot steepens", result.Warning, StringComparison.Ordinal);
        Assert.True(result.ShapeAfter > result.ShapeBefore);
    }

    [Fact]
    public void Too_few_failures_and_looks_are_not_tested_and_that_is_said()
    {
        FittedLife few = WeibullFitTests.Fitted(PublishedLives.Of("weibull_mle.seven_items_two_suspensions"));
        Assert.Null(PlotBend.Test(few).PValue);
        Assert.Contains("5 failures", PlotBend.Test(few).Account.Doubts[0], StringComparison.Ordinal);
        FittedLife looks = WeibullFitTests.Fitted(PublishedLives.Of("weibull_mle.part_cracks_interval"));
        Assert.Null(PlotBend.Test(looks).Warning);
        Assert.Contains("between looks", PlotBend.Test(looks).Account.Doubts[0], StringComparison.Ordinal);
    }

    private void AssertAlarms(double least, double most, Func<Lives> draw)
    {
        const int Trials = 2000;
        int warnings = Enumerable.Range(0, Trials).Count(_ => PlotBend.Test(WeibullFitTests.Fitted(draw())).Warning is not null);
        double alarms = warnings / (double)Trials;
        output.WriteLine($"false alarms {alarms:P1}");
        Assert.InRange(alarms, least, most);
    }
}
