using ScottPlot;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.PartLife;

public sealed class SurvivalChartTests
{
    // Five parts: failures at 10 and 30, one part under watch up to 50: S = 4/5, then 4/5 x 2/3.
    private static readonly PartLifeReport Small = Samples.Fit with
    {
        KaplanMeier = [new(10, 5, 1, 0.8, 0.2, 0.97), new(30, 3, 1, 0.8 * 2 / 3, 0.1, null)],
        Counts = new LifeCounts(5, 2, 0, 3, 0, 0, 50),
        Curve = [new(20, 0.7, 0.5, 0.9), new(40, 0.4, 0.2, 0.6)],
    };

    [Fact]
    public void Steps_begin_at_one_fall_at_the_failures_and_run_to_the_oldest_part() => Assert.Equal(
        [new(0, 1), new(10, 1), new(10, 0.8), new(30, 0.8), new(30, 0.8 * 2 / 3), new Coordinates(50, 0.8 * 2 / 3)],
        SurvivalChart.Corners(Small, step => step.Survival));

    [Fact]
    public void A_bound_that_is_not_known_ends_its_line() =>
        Assert.Equal([new(0, 1), new(10, 1), new Coordinates(10, 0.97)], SurvivalChart.Corners(Small, step => step.Upper));

    [Fact]
    public void Without_a_failure_the_line_stays_at_one() => Assert.Equal(
        [new(0, 1), new Coordinates(50, 1)], SurvivalChart.Corners(Small with { KaplanMeier = [] }, step => step.Survival));

    [Fact]
    public void The_fitted_curve_begins_at_age_zero_where_every_part_works() =>
        Assert.Equal(new CurvePoint(0, 1, 1, 1), SurvivalChart.FromBirth(Small)[0]);

    [Fact]
    public void Axes_run_from_zero_to_the_oldest_age_and_from_none_to_all_and_name_their_unit()
    {
        using Plot plot = SurvivalChart.Plot(Small with { Basis = Small.Basis with { Clock = "washes" } }, ChartShape.Wide);
        AxisLimits limits = plot.Axes.GetLimits();
        Assert.Equal((0, 50, 0), (limits.Left, limits.Right, limits.Bottom));
        Assert.InRange(limits.Top, 1, 1.01);
        Assert.Equal("Age, washes", plot.Axes.Bottom.Label.Text);
        Assert.Equal("Still working, % of parts", plot.Axes.Left.Label.Text);
    }
}
