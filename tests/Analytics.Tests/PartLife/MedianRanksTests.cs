using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Tests.PartLife;

public sealed class MedianRanksTests
{
    public static TheoryData<string> PublishedIds => [.. PublishedChecks.Ids("rank_regression.")];

    [Theory]
    [MemberData(nameof(PublishedIds))]
    public void Published_plots_are_met_in_both_directions(string id)
    {
        PublishedCheck check = PublishedChecks.Get(id);
        ProbabilityPlot plot = MedianRanks.Plot(LivesOf(check));
        check.AssertAllClose(plot.Points.Select(p => p.Age), "time");
        check.AssertAllClose(plot.Points.Select(p => p.AdjustedRank), "adjusted_rank");
        check.AssertAllClose(plot.Points.Select(p => p.FailedShare), "median_rank");
        check.AssertClose(plot.RankOnAge!.Shape, "y_on_x", "shape");
        check.AssertClose(plot.RankOnAge.Scale, "y_on_x", "scale");
        check.AssertClose(plot.AgeOnRank!.Shape, "x_on_y", "shape");
        check.AssertClose(plot.AgeOnRank.Scale, "x_on_y", "scale");
        check.AssertClose(plot.RSquared, "r_squared");
    }

    [Fact]
    public void Five_published_plots_are_checked() => Assert.Equal(5, PublishedIds.Count);

    /// <summary>By hand: S = 1/2 at 1 and 1/4 at 3, so shares 1 - (1 + 1/2)/2 = 1/4 and 1 - (1/2 + 1/4)/2 = 5/8.</summary>
    [Fact]
    public void With_late_entry_points_stand_at_the_middle_of_the_step()
    {
        Lives lives = new LivesBuilder("days")
            .FailedAt(1).StillRunningAt(1.5).FailedAt(3, enteredAt: 2).StillRunningAt(4, enteredAt: 2).Build();
        ProbabilityPlot plot = MedianRanks.Plot(lives);
        Assert.Equal([0.25, 0.625], plot.Points.Select(p => p.FailedShare));
        Assert.All(plot.Points, p => Assert.Null(p.AdjustedRank));
        Assert.Contains("late", plot.Account.Convention, StringComparison.Ordinal);
    }

    [Fact]
    public void One_failure_age_has_points_but_no_line()
    {
        ProbabilityPlot plot = MedianRanks.Plot(PublishedLives.Complete(5, 5));
        Assert.Equal(2, plot.Points.Count);
        Assert.Null(plot.AgeOnRank);
        Assert.Contains(plot.Account.Doubts, d => d.StartsWith("No line", StringComparison.Ordinal));
        Assert.Empty(MedianRanks.Plot(new LivesBuilder("days").Build()).Points);
    }

    private static Lives LivesOf(PublishedCheck check) => check.DataFile == "inline"
        ? PublishedLives.Inline(check.Inputs)
        : check.DataFile == "ball_bearings.csv" ? PublishedLives.BallBearings() : PublishedLives.FromStatus(check.DataFile, "hours");
}
