using ScottPlot;
using ScottPlot.Plottables;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Planning;

public sealed class PlanningChartTests
{
    [Fact]
    public void A_group_stands_at_what_is_expected_with_its_interval_and_one_without_a_chance_is_not_drawn()
    {
        using Plot plot = ForecastChart.Plot(PlanningSamples.Forecast, ChartShape.Wide);
        Assert.Equal([(2.4, 0.0), (0.8, -1)], plot.GetPlottables<Marker>().Select(mark => (mark.X, mark.Y)));
        Assert.Equal([(0.0, 5.0, 0.0), (0, 3, -1)], plot.GetPlottables<LinePlot>().Select(line => (line.Start.X, line.End.X, line.Start.Y)));
    }

    [Fact]
    public void The_sentence_names_what_fails_most_and_says_what_is_left_out()
    {
        Assert.Contains("Most are to be expected of P/100-2, Wash pump: 2.40, 0 to 5.", ForecastChart.Sentence(PlanningSamples.Forecast), StringComparison.Ordinal);
        Assert.StartsWith("The 2 rows with most.", ForecastChart.Sentence(PlanningSamples.Forecast), StringComparison.Ordinal);
        Assert.Contains("in July 2025: 1.20, 0 to 3. Of the first and the last month only the days within the 90 days count.",
            ForecastChart.Sentence(PlanningSamples.Months), StringComparison.Ordinal);
    }

    [Fact]
    public void The_cost_curve_shows_its_cheapest_age_its_flat_range_and_what_running_to_failure_costs()
    {
        using Plot plot = CostChart.Plot(PlanningSamples.Early, "EUR", ChartShape.Wide);
        Marker best = Assert.Single(plot.GetPlottables<Marker>());
        Assert.Equal((410.0, 310.0), (best.X, best.Y));
        HorizontalSpan flat = Assert.Single(plot.GetPlottables<HorizontalSpan>());
        Assert.Equal((330.0, 520.0), (flat.X1, flat.X2));
        Assert.Contains(plot.GetPlottables<Scatter>(), line => line.LegendText == "run to failure" && line.Data.GetScatterPoints()[0].Y == 430);
        Assert.EndsWith("Between 330 and 520 washes it makes no difference.", CostChart.Sentence(PlanningSamples.Early, "EUR"), StringComparison.Ordinal);
        Assert.EndsWith("From 330 washes on it makes no difference.", CostChart.Flat(PlanningSamples.Early with { FlatTo = null }), StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_that_runs_to_failure_has_no_cheapest_age()
    {
        using Plot plot = CostChart.Plot(PlanningSamples.Run, null, ChartShape.Wide);
        Assert.Empty(plot.GetPlottables<Marker>());
        Assert.Empty(plot.GetPlottables<HorizontalSpan>());
    }
}
