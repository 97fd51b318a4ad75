using ScottPlot;
using ScottPlot.Plottables;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Cleaning;

public sealed class CleaningChartTests
{
    [Fact]
    public void The_lowest_share_is_the_topmost_bar_and_bars_are_as_long_as_their_share()
    {
        ComplianceReport report = Samples.Compliance with { Rows = [Samples.Row(1, 0.9), Samples.Row(2, 0.4), Samples.Row(3, 0.7)] };
        using Plot plot = ComplianceChart.Plot(report, ChartShape.Wide);
        Bar[] bars = [.. plot.GetPlottables<BarPlot>().SelectMany(each => each.Bars)];
        Assert.Equal([(0.0, 0.4), (-1, 0.7), (-2, 0.9)], bars.Select(bar => (bar.Position, bar.Value)));
        Assert.Equal("Washes due that were on time, % (line: bounds)", plot.Axes.Bottom.Label.Text);
        Assert.Equal(0, plot.Axes.GetLimits().Left);
        Assert.True(plot.Axes.GetLimits().Right > 1);
    }

    [Fact]
    public void Whiskers_run_from_the_lower_to_the_upper_bound()
    {
        ComplianceReport report = Samples.Compliance with
        {
            Rows = [Samples.Row(2, 0.4) with { OnTimeShare = Samples.Share(0.4, 0.25,
            0.55) }]
        };
        using Plot plot = ComplianceChart.Plot(report, ChartShape.Wide);
        LinePlot whisker = Assert.Single(plot.GetPlottables<LinePlot>());
        Assert.Equal((0.25, 0.0, 0.55, 0.0), (whisker.Start.X, whisker.Start.Y, whisker.End.X, whisker.End.Y));
    }

    [Fact]
    public void Longer_counts_get_more_room()
    {
        double Right(int due)
        {
            using Plot plot = ComplianceChart.Plot(Samples.Compliance with { Rows = [Samples.Row(1, 0.9) with { Due = due }] },
                ChartShape.Narrow);
            return plot.Axes.GetLimits().Right;
        }

        Assert.True(Right(1_234_567) > Right(10));
    }

    [Fact]
    public void At_most_25_groups_are_drawn_and_the_sentence_says_so()
    {
        ComplianceReport report = Samples.Compliance with
        {
            Rows = [.. Enumerable.Range(0, 40).Select(i => Samples.Row(i, 0.5
            + (0.01 * i)))]
        };
        Assert.Equal(25, ComplianceChart.Drawn(report).Count);
        Assert.StartsWith("The 25 lowest of 40: ", ComplianceChart.Sentence(report), StringComparison.Ordinal);
    }

    [Fact]
    public void A_group_without_a_share_is_not_drawn_as_zero() =>
        Assert.DoesNotContain(ComplianceChart.Drawn(Hostile.Compliance), row => row.OnTimeShare is null
            || double.IsNaN(row.OnTimeShare.Value));

    [Fact]
    public void Causes_are_drawn_longest_first_without_the_time_in_order()
    {
        ComplianceRow row = Samples.Compliance.Total with
        {
            HoursByCause = new Dictionary<Cause, double>
            {
                [Cause.InOrder] = 900,
                [Cause.Silent] = 10,
                [Cause.NobodyStarted] = 90,
                [Cause.SiteClosed] = 0
            },
            WindowHours = 1000,
        };
        using Plot plot = CauseChart.Plot(row, ChartShape.Wide);
        Assert.Equal([(0.0, 90.0), (-1, 10)], plot.GetPlottables<BarPlot>().SelectMany(each => each.Bars).Select(bar => (bar.Position,
            bar.Value)));
        Assert.Equal("Time, unit-hours", plot.Axes.Bottom.Label.Text);
        Assert.Equal(
            "90 % of the time was in order; most of the rest went to 'nobody started a wash': 3 days 18 h over all units.",
                CauseChart.Sentence(row));
    }

    // A wide sans-serif takes about 0.52 em a character: 'Locked out, waiting for a technician', on a phone its second line.
    [Theory]
    [InlineData(ChartShape.Wide, 36)]
    [InlineData(ChartShape.Narrow, 24)]
    public void Names_of_bars_have_room_in_a_wide_typeface(ChartShape shape, int characters)
    {
        Chart chart = CauseChart.Of(Samples.Compliance.Total);
        using Plot plot = CauseChart.Plot(Samples.Compliance.Total, shape);
        plot.RenderInMemory(chart.Size(shape).Width, chart.Size(shape).Height);
        Assert.True(plot.RenderManager.LastRender.DataRect.Left >= 0.52 * ChartStyle.SmallText * characters);
        Assert.True(plot.RenderManager.LastRender.DataRect.Width > 120, "no room for the bars");
    }

    [Fact]
    public void Every_cause_and_state_has_words_a_colour_and_a_group()
    {
        Assert.All(Enum.GetValues<Cause>(), cause =>
        {
            Assert.NotEmpty(CleaningWords.Name(cause));
            Assert.NotEmpty(CleaningWords.Group(cause));
            Assert.Contains(CleaningWords.Colour(cause), Inks.All);
        });
        Assert.Equal(Enum.GetValues<CleaningState>().Order(), CleaningWords.States.Order());
        Assert.Equal(Enum.GetValues<CleaningState>().Length, CleaningWords.States.Select(CleaningWords.Name).Distinct().Count());
    }
}
