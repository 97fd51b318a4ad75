using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class PoorSwapsTests
{
    private static readonly Weibull Truth = new(1000, 2);

    /// <summary>
    /// Truth: shape 2, scale 1000. Two parts in three are swapped when 0.9 of their own life is spent, which nobody can see in the
    /// records: the two fits must lie on either side of the true life, and the naive one must be clearly too long.
    /// </summary>
    [Fact]
    public void The_true_life_lies_between_the_two_readings()
    {
        PoorSwapResult result = PoorSwaps.Compare(SwappedNearTheEnd(new Random(3), 20_000, spent: 0.9));
        Assert.InRange(Truth.AgeWhenFailed(0.10), result.B10.IfAboutToFail!.Upper!.Value, result.B10.IfAsGoodAsOthers!.Lower!.Value);
        Assert.InRange(Truth.AgeWhenFailed(0.50), result.B50.IfAboutToFail!.Upper!.Value, result.B50.IfAsGoodAsOthers!.Lower!.Value);
        Assert.InRange(Truth.MeanLife, result.MeanLife.IfAboutToFail!.Upper!.Value, result.MeanLife.IfAsGoodAsOthers!.Lower!.Value);
        Assert.True(result.B10.IfAsGoodAsOthers.Value > 1.3 * Truth.AgeWhenFailed(0.10));
        Assert.Equal(result.B10.IfAboutToFail.Lower, result.B10.Lower);
        Assert.Equal(result.B10.IfAsGoodAsOthers.Upper, result.B10.Upper);
    }

    /// <summary>The nearer to the end the swap, the nearer the truth to the reading 'about to fail': at 0.999 it is inside its bounds.</summary>
    [Fact]
    public void Swaps_just_before_the_failure_are_read_rightly_as_failures()
    {
        PoorSwapResult result = PoorSwaps.Compare(SwappedNearTheEnd(new Random(4), 2_000, spent: 0.999));
        Assert.InRange(Truth.AgeWhenFailed(0.10), result.B10.IfAboutToFail!.Lower!.Value, result.B10.IfAboutToFail.Upper!.Value);
    }

    [Fact]
    public void The_two_readings_are_the_fits_of_the_same_parts_as_censored_and_as_failed()
    {
        Lives marked = new LivesBuilder("days").FailedAt(10).FailedAt(20, 5).FailedBetween(25, 30).StillRunningAt(40)
            .SwappedWhenPoorAt(15, 2).SwappedEarlyAt(18).SwappedWhenPoorAt(35).FailedAt(33, mode: "seal").Build();
        Lives censored = new LivesBuilder("days").FailedAt(10).FailedAt(20, 5).FailedBetween(25, 30).StillRunningAt(40)
            .StillRunningAt(15, 2).StillRunningAt(18).StillRunningAt(35).FailedAt(33).Build();
        Lives failed = new LivesBuilder("days").FailedAt(10).FailedAt(20, 5).FailedBetween(25, 30).StillRunningAt(40)
            .FailedAt(15, 2).StillRunningAt(18).FailedAt(35).FailedAt(33).Build();
        PoorSwapResult result = PoorSwaps.Compare(marked);
        Assert.Equal(2, result.SwappedWhenPoor);
        Assert.Equal(WeibullFitTests.Fitted(censored).Curve, WeibullFitTests.Fitted(marked).Curve);
        Assert.Equal(WeibullFitTests.Fitted(censored).Curve, ((FittedLife)result.IfAsGoodAsOthers).Curve);
        Weibull asFailed = WeibullFitTests.Fitted(failed).Curve;
        Assert.Equal(asFailed.Shape, ((FittedLife)result.IfAboutToFail).Curve.Shape, 1e-9 * asFailed.Shape);
        Assert.Equal(asFailed.Scale, ((FittedLife)result.IfAboutToFail).Curve.Scale, 1e-9 * asFailed.Scale);
        Assert.Contains("Parts were swapped because they looked poor: 2 of 8, beside those that failed: 4.", Assert.Single(result.Account.Doubts), StringComparison.Ordinal);
    }

    [Fact]
    public void Marks_survive_modes_groups_and_a_later_start()
    {
        Lives lives = new LivesBuilder("days").FailedAt(10, mode: "seal").FailedAt(20, mode: "motor")
            .SwappedWhenPoorAt(15).SwappedWhenPoorAt(30).StillRunningAt(40).Build();
        Assert.Equal(2, lives.SwappedWhenPoor);
        Assert.Equal(2, lives.ForMode("seal").SwappedWhenPoor);
        Assert.Equal(1, lives.SurvivingTo(18).SwappedWhenPoor);
        Assert.Equal((2, 3), (lives.Failures, lives.Censored));
        MultiClockLives clocks = new MultiClockLivesBuilder("days", "washes")
            .FailedAt([10, 20]).SwappedWhenPoorAt([15, 22]).StillRunningAt([40, 60]).Build();
        Assert.Equal([1, 1], clocks.Clocks.Select(clock => clocks.OnClock(clock).SwappedWhenPoor));
    }

    [Fact]
    public void Without_such_parts_or_without_a_curve_the_words_say_so()
    {
        Lives none = new LivesBuilder("days").FailedAt(10).FailedAt(20).FailedAt(30).StillRunningAt(40).Build();
        PoorSwapResult nothing = PoorSwaps.Compare(none);
        Assert.Equal(nothing.B10.IfAsGoodAsOthers, nothing.B10.IfAboutToFail);
        Assert.Contains("nothing to compare", nothing.Account.Doubts[0], StringComparison.Ordinal);
        Lives fewFailures = new LivesBuilder("days").FailedAt(10).SwappedWhenPoorAt(15).SwappedWhenPoorAt(30).StillRunningAt(40).Build();
        PoorSwapResult shorterOnly = PoorSwaps.Compare(fewFailures);
        Assert.Null(shorterOnly.B10.IfAsGoodAsOthers);
        Assert.Null(shorterOnly.B10.Upper);
        Assert.False(shorterOnly.Account.Converged);
        Assert.Contains("too few failures to say", shorterOnly.Account.Doubts[0], StringComparison.Ordinal);
        Lives one = new LivesBuilder("days").FailedAt(10).SwappedWhenPoorAt(15).Build();
        Assert.Contains("cannot be said", PoorSwaps.Compare(one).Account.Doubts[0], StringComparison.Ordinal);
    }

    private static Lives SwappedNearTheEnd(Random random, int parts, double spent)
    {
        var builder = new LivesBuilder("days");
        for (int i = 0; i < parts; i++)
        {
            double life = Truth.AgeWhenFailed(1 - random.NextDouble());
            _ = i % 3 == 0 ? builder.FailedAt(life) : builder.SwappedWhenPoorAt(spent * life);
        }

        return builder.Build();
    }
}
