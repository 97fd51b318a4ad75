using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class LogRankTests
{
    [Theory]
    [InlineData("log_rank.leukemia_two_groups", "weeks", "treatment", "6-MP", "control")]
    [InlineData("log_rank.motor_insulation_three_groups", "time", "temp", "170", "190", "220")]
    public void Published_comparisons_are_met(string id, string age, string column, params string[] names)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        LogRankResult result = LogRank.Compare(
            [.. names.Select(n => new LifeGroup(n, PublishedLives.Group(check.DataFile, age, column, n)))]);
        check.AssertAllClose(result.Groups.Select(g => (double)g.Observed), "observed");
        check.AssertAllClose(result.Groups.Select(g => g.Expected), "expected");
        check.AssertClose(result.Groups[0].Variance, "variance_first");
        check.AssertClose(result.ChiSquare, "chi_square");
        check.AssertClose(result.DegreesOfFreedom, "df");
        check.AssertClose(result.PValue, "p_value");
    }

    /// <summary>
    /// By hand: a fails at 1 (b1, b2 at risk too), b at 2 and 3. At 1: e_a = 1/3, v = 2/9; after that a has nobody at risk.
    /// O - E = 2/3, chi-square = (4/9)/(2/9) = 2.
    /// </summary>
    [Fact]
    public void Three_lives_by_hand()
    {
        LogRankResult result = LogRank.Compare([new("a", PublishedLives.Complete(1)), new("b", PublishedLives.Complete(2, 3))]);
        Assert.Equal(2, result.ChiSquare!.Value, 1e-12);
        Assert.Equal(0.157299207050285, result.PValue!.Value, 1e-12); // erfc(1), Abramowitz and Stegun table 7.1
    }

    [Fact]
    public void A_group_without_lives_or_without_chance_to_fail_is_left_out()
    {
        Lives never = new LivesBuilder("test clock").StillRunningAt(0.5).Build();
        LogRankResult two = LogRank.Compare([new("a", PublishedLives.Complete(1, 4)), new("b", PublishedLives.Complete(2, 3))]);
        LogRankResult four = LogRank.Compare(
        [
            new("a", PublishedLives.Complete(1, 4)), new("b", PublishedLives.Complete(2, 3)),
            new("never", never), new("none", new LivesBuilder("test clock").Build()),
        ]);
        Assert.Equal(two.ChiSquare!.Value, four.ChiSquare!.Value, 1e-12);
        Assert.Equal(two.DegreesOfFreedom, four.DegreesOfFreedom);
    }

    [Fact]
    public void Nothing_to_compare_is_said()
    {
        LogRankResult result = LogRank.Compare([new("a", PublishedLives.Complete(1)), new("b", new LivesBuilder("test clock").Build())]);
        Assert.Null(result.PValue);
        Assert.Contains(result.Account.Doubts, d => d.StartsWith("The groups cannot be compared", StringComparison.Ordinal));
    }

    [Fact]
    public void Groups_that_cannot_be_compared_are_refused()
    {
        Lives lives = PublishedLives.Complete(1, 2);
        Assert.Throws<ArgumentException>(() => LogRank.Compare([new("a", lives)]));
        Assert.Throws<ArgumentException>(() => LogRank.Compare([new("a", lives), new("a", lives)]));
        Assert.Throws<ArgumentException>(() => LogRank.Compare([new("a", lives), new("b", new LivesBuilder("washes").Build())]));
    }

    /// <summary>Under no difference the 5 % level must be kept: 1000 trials, so 5 % +/- 4 x 0.7 %. Entry late for half the parts.</summary>
    [Fact]
    public void The_level_is_kept_where_nothing_differs()
    {
        const int Trials = 1000;
        var random = new Random(41);
        int alarms = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            LogRankResult result = LogRank.Compare(
                [.. new[] { "a", "b", "c" }.Select(name => new LifeGroup(name, Simulated.Lives(random, 30)))]);
            alarms += result.PValue < 0.05 ? 1 : 0;
        }

        Assert.InRange(alarms / (double)Trials, 0.022, 0.078);
    }
}
