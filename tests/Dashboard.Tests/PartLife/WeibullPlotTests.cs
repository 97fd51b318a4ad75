using ScottPlot;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.PartLife;

public sealed class WeibullPlotTests
{
    // ln(−ln(1 − p)) is 0 where p = 1 − 1/e, and ln(ln 2) = −0.366512920581664 at the half (Euler–Mascheroni tables of the Gumbel median).
    [Theory]
    [InlineData(0.63212055882855767, 0)]
    [InlineData(0.5, -0.366512920581664)]
    public void The_paper_is_straight_where_the_distribution_is(double probability, double height) =>
        Assert.Equal(height, WeibullPlot.Height(probability), 12);

    [Fact]
    public void A_small_probability_keeps_its_digits() => Assert.Equal(Math.Log(1e-18), WeibullPlot.Height(1e-18), 12);

    [Fact]
    public void Points_stand_at_log_age_and_height_and_what_the_paper_cannot_hold_is_left_out()
    {
        PartLifeReport report = Samples.Fit with { PlottingPoints = [new(0, 0.5), new(100, 0.5), new(1000, 1), new(10, 0)] };
        Coordinates point = Assert.Single(WeibullPlot.Points(report));
        Assert.Equal(2, point.X, 12);
        Assert.Equal(-0.366512920581664, point.Y, 12);
    }

    [Fact]
    public void The_line_passes_the_scale_at_63_per_cent_with_the_shape_as_its_slope()
    {
        Estimate Figure(double value) => new(value, null, null, 0.95, "none");
        PartLifeReport report = Samples.Fit with
        {
            Weibull = Samples.Fit.Weibull! with { Shape = Figure(2), Scale = Figure(1000) },
            Curve = [],
        };
        using Plot plot = WeibullPlot.Plot(report, ChartShape.Wide);
        Coordinates[] line = [.. plot.GetPlottables<ScottPlot.Plottables.Scatter>()
            .Single(scatter => scatter.LegendText == "fitted (Weibull)").Data.GetScatterPoints()];
        double slope = (line[1].Y - line[0].Y) / (line[1].X - line[0].X);
        Assert.Equal(2 * Math.Log(10), slope, 9);
        Assert.Equal(0, line[0].Y + (slope * (3 - line[0].X)), 9);
    }

    [Fact]
    public void All_points_lie_inside_the_paper_and_axes_name_their_unit()
    {
        using Plot plot = WeibullPlot.Plot(Samples.Fit, ChartShape.Narrow);
        AxisLimits limits = plot.Axes.GetLimits();
        Assert.All(WeibullPlot.Points(Samples.Fit), point => Assert.True(
            point.X > limits.Left && point.X < limits.Right && point.Y > limits.Bottom && point.Y < limits.Top));
        Assert.Equal("Age, days (log scale)", plot.Axes.Bottom.Label.Text);
        Assert.Equal("Failed by that age, %", plot.Axes.Left.Label.Text);
    }

    // '1,000' and '2,000' stood on each other on a phone.
    [Theory]
    [InlineData(20, 2500)]
    [InlineData(3, 2900)]
    [InlineData(150, 3000)]
    public void Ages_beside_the_axis_of_a_phone_do_not_stand_on_each_other(double youngest, double oldest)
    {
        PartLifeReport report = Samples.Fit with { PlottingPoints = [new(youngest, 0.01), new(oldest, 0.9)], Curve = [] };
        using Plot plot = WeibullPlot.Plot(report, ChartShape.Narrow);
        plot.GetSvgXml(360, 400);
        AxisLimits limits = plot.Axes.GetLimits();
        const double LeastPixels = 265;

        // In the widest of the usual typefaces, pixels.
        static double Width(string label) => label.Sum(letter => char.IsDigit(letter) ? 8.3 : 4.2);
        (double X, string Label)[] ticks = [.. ((ScottPlot.TickGenerators.NumericManual)plot.Axes.Bottom.TickGenerator).Ticks.Select(tick => (tick.Position, tick.Label))];
        Assert.True(ticks.Length >= 2);
        Assert.All(ticks.Zip(ticks.Skip(1)), pair =>
        {
            double apart = (pair.Second.X - pair.First.X) / (limits.Right - limits.Left) * LeastPixels;
            double wide = (Width(pair.First.Label) + Width(pair.Second.Label)) / 2;
            Assert.True(apart > wide, $"{pair.First.Label} and {pair.Second.Label}: {apart:0} px for {wide:0}");
        });
    }

    [Fact]
    public void One_point_still_gives_a_paper_with_room_around_it()
    {
        AxisLimits limits = WeibullPlot.Limits([new Coordinates(2, -1)]);
        Assert.True(limits.Right - limits.Left >= Math.Log10(4) - 1e-9);
        Assert.True(limits.Top - limits.Bottom > 1);
    }
}
