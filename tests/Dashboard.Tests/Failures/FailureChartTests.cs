using ScottPlot;
using ScottPlot.Plottables;
using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Failures;

public sealed class FailureChartTests
{
    private static Estimate Exact(double value, double? lower, double? upper) => new(value, lower, upper, 0.95, "exact Poisson");

    private static FailureMonth Month(int i, int failures, double years, Estimate? rate) => new(
        "2025-0" + (i + 1), new DateTimeOffset(2025, i + 1, 1, 0, 0, 0, TimeSpan.Zero), new DateTimeOffset(2025, i + 2, 1, 0, 0, 0, TimeSpan.Zero), failures, years, rate, 0, null);

    [Fact]
    public void A_month_stands_at_its_rate_with_its_bounds_and_one_without_a_rate_leaves_its_place_free()
    {
        FailureTrendReport report = FailureSamples.Trend with
        {
            Months = [Month(0, 4, 2, Exact(2, 0.5, 5)), Month(1, 0, 0, null), Month(2, 8, 2, Exact(4, 1.7, 7.9))],
        };
        using Plot plot = MonthlyRateChart.Plot(report, ChartShape.Wide);
        Assert.Equal([(0.0, 2.0), (2, 4)], plot.GetPlottables<Marker>().Select(mark => (mark.X, mark.Y)));
        Assert.Equal([new(0, 2), new Coordinates(2, 4)], plot.GetPlottables<Scatter>().Single().Data.GetScatterPoints());
        Assert.Equal([(0.0, 0.5, 5.0), (2, 1.7, 7.9)], plot.GetPlottables<LinePlot>().Select(line => (line.Start.X, line.Start.Y, line.End.Y)));
        Assert.Equal(3, plot.GetPlottables<HorizontalLine>().Single().Y, 12);
        AxisLimits limits = plot.Axes.GetLimits();
        Assert.Equal(0, limits.Bottom);
        Assert.InRange(limits.Top, 7.9, 9);
    }

    [Fact]
    public void A_month_of_a_few_days_does_not_flatten_the_others_and_the_sentence_says_where_its_bound_is()
    {
        FailureTrendReport report = FailureSamples.Trend with { Months = [Month(0, 4, 2, Exact(2, 0.5, 5)), Month(1, 0, 0.01, Exact(0, 0, 369))] };
        Assert.InRange(MonthlyRateChart.Top(report), 5, 6);
        Assert.Contains("is in the table", MonthlyRateChart.Sentence(report), StringComparison.Ordinal);
        Assert.DoesNotContain("is in the table", MonthlyRateChart.Sentence(report with { Months = [.. report.Months.Take(1)] }), StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_of_a_month_is_a_hollow_point_and_never_the_highest_month()
    {
        FailureMonth cut = Month(2, 8, 0.5, Exact(16, 5, 30));
        FailureTrendReport report = FailureSamples.Trend with { Months = [Month(0, 4, 2, Exact(2, 0.5, 5)), Month(1, 6, 2, Exact(3, 1, 6)), cut with { To = cut.From.AddDays(4) }] };
        using Plot plot = MonthlyRateChart.Plot(report, ChartShape.Wide);
        Assert.Equal([(0.0, 2.0), (1, 3), (2, 16), (2, 16)], plot.GetPlottables<Marker>().Select(mark => (mark.X, mark.Y)));
        Assert.Equal(ChartStyle.Colour(Inks.Paper), plot.GetPlottables<Marker>().Last().Color);
        Assert.Contains("Highest: Feb 2025 with 3.00", MonthlyRateChart.Sentence(report), StringComparison.Ordinal);
    }

    [Fact]
    public void Rates_that_are_all_the_same_are_said_to_be_so()
    {
        RateRow[] rows = [.. Enumerable.Range(0, 3).Select(i => FailureSamples.Rate(i, i, false) with { Shrunken = Exact(2.17, 1.9, 2.4) })];
        RatesReport report = FailureSamples.Rates with { Rows = rows, Next = null };
        Assert.Contains("All have the same steadied rate", RatesChart.Sentence(report), StringComparison.Ordinal);
        Assert.Equal(["OV-1002", "OV-1001", "OV-1000"], RatesChart.Drawn(report).Select(row => row.Code));
    }

    [Fact]
    public void A_period_before_that_was_not_watched_is_not_shown_as_none()
    {
        ParetoReport report = FailureSamples.Pareto with { Rows = [.. FailureSamples.Pareto.Rows.Select(row => row with { EarlierCount = 0, Change = null })] };
        Assert.False(FailureParetoChart.HasBefore(report));
        using Plot plot = FailureParetoChart.Plot(report, ChartShape.Wide);
        Assert.Equal("60", plot.GetPlottables<ScottPlot.Plottables.Text>().First().LabelText);
        Assert.DoesNotContain("before", FailureParetoChart.Sentence(report), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_bounds_the_sentence_speaks_of_none() => Assert.Contains(
        "Too few units were watched for bounds",
        RecurrenceChart.Sentence(FailureSamples.Recurrence with { Groups = [FailureSamples.Group("all", "all", 1, bounds: false)] }),
        StringComparison.Ordinal);

    [Fact]
    public void Rates_stand_highest_first_with_the_raw_rate_hollow_and_the_fleet_as_a_line()
    {
        RatesReport report = FailureSamples.Rates with { Rows = [FailureSamples.Rate(2, 4, false), FailureSamples.Rate(1, 10, true)] };
        using Plot plot = RatesChart.Plot(report, ChartShape.Wide);
        Marker[] marks = [.. plot.GetPlottables<Marker>()];
        Assert.Equal([(10.0, 0.0, MarkerShape.OpenCircle), (7.4, 0, MarkerShape.FilledSquare), (4, -1, MarkerShape.OpenCircle), (3.8, -1, MarkerShape.FilledCircle)],
            marks.Select(mark => (mark.X, mark.Y, mark.Shape)), Near);
        Assert.Equal(3.49, plot.GetPlottables<LinePlot>().First().Start.X, 12);
        Assert.Equal(FailureWords.StandsOut, Assert.Single(plot.GetPlottables<ScottPlot.Plottables.Text>()).LabelText);
    }

    [Fact]
    public void A_raw_rate_of_a_short_watch_leaves_the_picture_and_the_sentence_says_so()
    {
        RateRow wild = FailureSamples.Rate(1, 3, false) with { Figures = new RateFigures(1, 0.001, Exact(1000, 25, 5571), null, null) };
        RatesReport report = FailureSamples.Rates with { Rows = [FailureSamples.Rate(2, 4, false), wild], Next = null };
        Assert.True(RatesChart.Limit(report) < 20);
        Assert.Contains("beyond the right edge", RatesChart.Sentence(report), StringComparison.Ordinal);
    }

    [Fact]
    public void At_most_20_rates_are_drawn_and_the_sentence_says_so()
    {
        Assert.Equal(RatesChart.MostRows, RatesChart.Drawn(FailureSamples.Rates).Count);
        Assert.StartsWith("The 20 highest. ", RatesChart.Sentence(FailureSamples.Rates), StringComparison.Ordinal);
    }

    [Fact]
    public void Pareto_bars_are_the_shares_and_the_line_their_sums()
    {
        ParetoRow Row(string name, double share, double sum) => new(name, null, name, 1, 0, 0, share, sum, 0, null, null);
        ParetoReport report = FailureSamples.Pareto with { Rows = [Row("a", 0.5, 0.5), Row("b", 0.3, 0.8), Row("c", 0.2, 1), Row("none", 0, 1)] };
        using Plot plot = FailureParetoChart.Plot(report, ChartShape.Wide);
        Assert.Equal([(0.0, 0.5), (-1, 0.3), (-2, 0.2)], plot.GetPlottables<BarPlot>().SelectMany(each => each.Bars).Select(bar => (bar.Position, bar.Value)));
        Assert.Equal([new(0.5, 0), new(0.8, -1), new Coordinates(1, -2)], plot.GetPlottables<Scatter>().Single().Data.GetScatterPoints());
        Assert.StartsWith("The first alone makes up 50 % of all failures.", FailureParetoChart.Sentence(report), StringComparison.Ordinal);
    }

    [Fact]
    public void A_recurrence_curve_begins_at_no_failure_and_a_bound_that_is_not_known_ends_its_line()
    {
        RecurrenceGroup group = new("all", "all", 3, 2, [new(10, 3, 1, 0.333, 0.1, 0.9), new(30, 2, 1, 0.833, null, 2)]);
        Assert.Equal([new(0, 0), new(10, 0), new(10, 0.333), new(30, 0.333), new Coordinates(30, 0.833)], RecurrenceChart.Corners(group, step => step.Mean));
        Assert.Equal([new(0, 0), new(10, 0), new Coordinates(10, 0.1)], RecurrenceChart.Corners(group, step => step.Lower));
    }

    [Fact]
    public void Names_that_would_be_cut_to_the_same_give_way_to_their_codes()
    {
        RecurrenceGroup[] groups = [FailureSamples.Group("S003", "Dining room 3, Hills", 1), FailureSamples.Group("S009", "Dining room 9, Hills", 2)];
        Assert.Equal(["Dining room 3, Hills", "Dining room 9, Hills"], RecurrenceChart.Names(groups, 26));
        Assert.Equal(["S003", "S009"], RecurrenceChart.Names(groups, 13));
    }

    [Fact]
    public void Names_of_compared_groups_do_not_stand_on_each_other()
    {
        using Plot plot = RecurrenceChart.Plot(FailureSamples.Compared, ChartShape.Narrow);
        double[] heights = [.. plot.GetPlottables<ScottPlot.Plottables.Text>().Select(name => name.Location.Y).Order()];
        Assert.Equal(3, heights.Length);
        double least = 13 / 240.0 * plot.Axes.GetLimits().Top;
        Assert.All(heights.Zip(heights.Skip(1)), pair => Assert.True(pair.Second - pair.First >= 0.9 * least, $"{pair.Second - pair.First} under {least}"));
    }

    private static bool Near((double X, double Y, MarkerShape Shape) a, (double X, double Y, MarkerShape Shape) b) =>
        Math.Abs(a.X - b.X) < 1e-9 && a.Y == b.Y && a.Shape == b.Shape;
}
