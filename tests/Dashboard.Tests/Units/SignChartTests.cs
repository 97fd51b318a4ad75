using AngleSharp.Html.Dom;
using ScottPlot;
using ScottPlot.Plottables;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Tests.Cleaning;
using Washwear.Dashboard.Tests.Texts;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Units;

public sealed class SignChartTests
{
    [Theory]
    [InlineData(ChartShape.Wide)]
    [InlineData(ChartShape.Narrow)]
    public void Each_sum_is_drawn_at_its_height_and_breaks_where_there_was_too_little_history(ChartShape shape)
    {
        using Plot plot = SignChart.Plot(SignSamples.Charts, Samples.Zone, shape);
        Scatter[] lines = [.. plot.GetPlottables<Scatter>()];

        // Bad washes once; longer ones in two runs, before and after the gap; shorter ones never.
        Assert.Equal(["Bad washes", "Longer washes", ""], lines.Select(line => line.LegendText));
        double[] heights = [.. lines[0].Data.GetScatterPoints().Select(point => point.Y)];
        Assert.Equal(1, heights.Max(), 12);
        Assert.Equal(0.22, heights[22], 12);
        double gap = lines[2].Data.GetScatterPoints()[0].X - lines[1].Data.GetScatterPoints()[^1].X;
        Assert.Equal(11, gap, 6);
        Assert.Equal(1, plot.GetPlottables<HorizontalLine>().Single().Y);
    }

    [Fact]
    public async Task The_table_holds_every_point_newest_first()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(UnitPage), Samples.UnitPage, Samples.Context);
        string[][] rows = [.. document.QuerySelectorAll("#signs ~ figure tbody tr").Select(row => row.Children.Select(cell => cell.TextContent.Trim()).ToArray())];
        Assert.Equal(40, rows.Length);
        Assert.Equal(["100 %", "25 %", "–", ""], rows[0][1..]);
        Assert.Equal("Part changed or repair ended: begins anew", rows[27][4]);
    }

    [Fact]
    public void The_columns_of_its_file_are_called_alike_in_each_language()
    {
        string[] Columns() => [.. SignChart.Of("OV-7", Samples.Zone, SignSamples.Charts).Numbers!.Columns];
        string[] english = Columns();
        Assert.Equal(["started_at", "bad_washes_share_of_limit", "longer_washes_share_of_limit", "shorter_washes_share_of_limit", "begins_anew"], english);
        using IDisposable reader = ReaderPreferences.Use(TextFileTests.German);
        Assert.Equal(english, Columns());
    }

    [Fact]
    public void Without_points_there_is_no_chart_and_the_sentence_says_so()
    {
        Assert.False(SignChart.HasPoints(SignSamples.NoCharts));
        Assert.Equal("There is too little history to chart.", SignChart.Sentence(SignSamples.NoCharts));
    }
}
