using System.Buffers.Binary;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Tests.Failures;
using Washwear.Dashboard.Tests.Planning;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class ChartImageTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    private static readonly Dictionary<string, Func<Chart>> Charts = new()
    {
        ["survival"] = () => SurvivalChart.Of(Samples.Fit),
        ["survival without a fit"] = () => SurvivalChart.Of(Samples.TooFew),
        ["survival of odd figures"] = () => SurvivalChart.Of(Hostile.Fit),
        ["probability"] = () => WeibullPlot.Of(Samples.Fit),
        ["probability without a fit"] = () => WeibullPlot.Of(Samples.TooFew),
        ["probability of odd figures"] = () => WeibullPlot.Of(Hostile.Fit),
        ["on time"] = () => ComplianceChart.Of(Samples.Compliance),
        ["on time with odd names"] = () => ComplianceChart.Of(Hostile.Compliance),
        ["causes"] = () => CauseChart.Of(Samples.Compliance.Total),
        ["causes with odd hours"] = () => CauseChart.Of(Hostile.Compliance.Total),
        ["monthly"] = () => MonthlyRateChart.Of(FailureSamples.Trend),
        ["monthly of no failure"] = () => MonthlyRateChart.Of(FailureSamples.Quiet.Trend),
        ["monthly of odd figures"] = () => MonthlyRateChart.Of(HostileFailures.Trend),
        ["rates"] = () => RatesChart.Of(FailureSamples.Rates),
        ["rates of no failure"] = () => RatesChart.Of(FailureSamples.Quiet.Rates),
        ["rates of odd figures"] = () => RatesChart.Of(HostileFailures.Rates),
        ["pareto"] = () => FailureParetoChart.Of(FailureSamples.Pareto),
        ["pareto of odd figures"] = () => FailureParetoChart.Of(HostileFailures.Pareto),
        ["recurrence"] = () => RecurrenceChart.Of(FailureSamples.Recurrence),
        ["recurrence compared"] = () => RecurrenceChart.Of(FailureSamples.Compared),
        ["recurrence of odd figures"] = () => RecurrenceChart.Of(HostileFailures.Recurrence),
        ["cost by age"] = () => CostChart.Of(PlanningSamples.Early, "EUR"),
        ["cost of what runs to failure"] = () => CostChart.Of(PlanningSamples.Run, null),
        ["cost by odd figures"] = () => CostChart.Of(PlanningSamples.HostileRow, Hostile.Name),
        ["forecast"] = () => ForecastChart.Of(PlanningSamples.Forecast),
        ["forecast by month"] = () => ForecastChart.Of(PlanningSamples.Months),
        ["forecast of odd figures"] = () => ForecastChart.Of(PlanningSamples.HostileForecast),
        ["calendar"] = () => WashCalendar.Of("OV-1003", Samples.Days),
        ["calendar of one day"] = () => WashCalendar.Of(Hostile.Name, Hostile.UnitPage.Days),
    };

    public static TheoryData<string, ChartShape> All()
    {
        var data = new TheoryData<string, ChartShape>();
        foreach (string name in Charts.Keys)
        {
            data.Add(name, ChartShape.Wide);
            data.Add(name, ChartShape.Narrow);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(All))]
    public void A_picture_in_a_page_is_sound_markup_with_real_text_and_only_the_inks_of_the_house(string name, ChartShape shape)
    {
        string text = ChartImage.Inline(Charts[name](), shape);
        XElement svg = XElement.Parse(text);
        Assert.DoesNotMatch("(?i)nan|infinity|∞", Regex.Replace(text, "<title.*?</desc>", string.Empty));
        Assert.NotEmpty(svg.Descendants(Svg + "text"));
        Assert.Empty(svg.DescendantsAndSelf().Attributes("style"));
        Assert.Equal("img", (string?)svg.Attribute("role"));
        AssertInks(svg);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void A_reader_can_ask_for_each_value_at_its_place_in_the_picture(string name, ChartShape shape)
    {
        Chart chart = Charts[name]();
        XElement[] places = [.. XElement.Parse(ChartImage.Inline(chart, shape)).Descendants(Svg + "circle").Where(circle => circle.Attribute("data-words") is not null)];
        Assert.Equal(chart.Values(shape).Count(value => double.IsFinite(value.X) && double.IsFinite(value.Y)), places.Length);
        Assert.True(places.Length > 0 || name.Contains("odd", StringComparison.Ordinal) || name.Contains("without", StringComparison.Ordinal) || name.Contains("no failure", StringComparison.Ordinal), name);
        Assert.All(places, place =>
        {
            Assert.InRange(Number((string)place.Attribute("cx")!), 0, chart.Size(shape).Width);
            Assert.InRange(Number((string)place.Attribute("cy")!), 0, chart.Size(shape).Height);
            Assert.Matches("[0-9]", (string)place.Attribute("data-words")!);
        });
    }

    [Fact]
    public void A_value_stands_where_its_point_is_drawn()
    {
        Chart chart = TrendLike();
        XElement svg = XElement.Parse(ChartImage.Inline(chart, ChartShape.Wide));
        XElement place = svg.Descendants(Svg + "circle").Single(circle => circle.Attribute("data-words") is not null);
        XElement[] drawn = [.. svg.Descendants(Svg + "ellipse").Concat(svg.Descendants(Svg + "circle").Where(circle => circle.Attribute("data-words") is null))];
        Assert.Contains(drawn, mark => Math.Abs(Number((string)mark.Attribute("cx")!) - Number((string)place.Attribute("cx")!)) < 1
            && Math.Abs(Number((string)mark.Attribute("cy")!) - Number((string)place.Attribute("cy")!)) < 1);
    }

    [Fact]
    public void Six_lines_have_six_patterns() =>
        Assert.Equal(6, ChartStyle.Patterns.Select(pattern => string.Join(' ', pattern.Intervals)).Distinct().Count());

    private static Chart TrendLike() => new(
        "one",
        "One point",
        "One point at 3, 4.",
        _ =>
        {
            ScottPlot.Plot plot = ChartStyle.NewPlot("x", "y");
            plot.Add.Marker(3, 4, ScottPlot.MarkerShape.FilledCircle, 9, ChartStyle.Colour(Inks.Observed));
            plot.Axes.SetLimits(0, 10, 0, 10);
            return plot;
        },
        new ChartSize(400, 300),
        new ChartSize(300, 300))
    {
        Values = _ => [new ChartValue(3, 4, "4 at 3")],
    };

    [Theory]
    [MemberData(nameof(All))]
    public void The_same_chart_gives_the_same_bytes_whatever_was_drawn_before(string name, ChartShape shape)
    {
        string first = ChartImage.Inline(Charts[name](), shape);
        _ = ChartImage.Inline(Charts["calendar"](), ChartShape.Narrow);
        Assert.Equal(first, ChartImage.Inline(Charts[name](), shape));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Text_stays_inside_the_picture(string name, ChartShape shape)
    {
        Chart chart = Charts[name]();
        XElement svg = XElement.Parse(ChartImage.Inline(chart, shape));
        var upright = svg.Descendants(Svg + "text")
            .Select(element => (Element: element, Match: Regex.Match((string)element.Attribute("transform")!,
                @"^translate\(([-0-9.e]+)[ ,]([-0-9.e]+)\)$")))
            .Where(pair => pair.Match.Success);
        foreach ((XElement element, Match match) in upright)
        {
            double x = Number(match.Groups[1].Value);
            double width = 0.5 * element.Value.Length * Number((string)element.Attribute("font-size")!);
            double left = (string?)element.Attribute("text-anchor") switch { "end" => x - width, "middle" => x - (width / 2), _ => x };
            double y = Number(match.Groups[2].Value) + Number((string)element.Attribute("y")!);
            string where = element.Value + " at " + left + " in " + chart.Size(shape).Width;
            Assert.True(left >= -20 && left + width <= chart.Size(shape).Width + 20, where);
            Assert.True(y > 8 && y <= chart.Size(shape).Height, element.Value + " at height " + y);
        }
    }

    [Fact]
    public void A_picture_that_stands_alone_brings_its_size_its_title_and_its_dark_colours()
    {
        Chart chart = SurvivalChart.Of(Samples.Fit);
        XElement svg = XElement.Parse(ChartImage.SvgFile(chart));
        Assert.Equal(chart.Wide.Width, (int)svg.Attribute("width")!);
        Assert.Equal(chart.Wide.Height, (int)svg.Attribute("height")!);
        Assert.Contains("prefers-color-scheme: dark", svg.Element(Svg + "style")!.Value, StringComparison.Ordinal);
        Assert.Contains(svg.Descendants(Svg + "text"), text => text.Value == chart.Title);
        Assert.Empty(svg.DescendantsAndSelf().Attributes("style"));
    }

    [Theory]
    [InlineData("survival")]
    [InlineData("calendar")]
    [InlineData("on time")]
    public void A_png_has_its_signature_and_twice_the_pixels(string name)
    {
        Chart chart = Charts[name]();
        byte[] png = ChartImage.PngFile(chart);
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A], png[..8]);
        Assert.Equal(2 * chart.Wide.Width, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16, 4)));
        Assert.Equal(2 * chart.Wide.Height, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20, 4)));
    }

    private static void AssertInks(XElement svg)
    {
        HashSet<string> inks = [.. Inks.All.Select(ink => ink.Light), "none"];
        foreach (XElement element in svg.Descendants())
        {
            foreach (string attribute in new[] { "fill", "stroke" })
            {
                string? colour = (string?)element.Attribute(attribute);
                Assert.True(colour is null || inks.Contains(colour), element.ToString());
            }
        }

        // A shape without a fill is drawn black whatever the page's colours are.
        string[] drawn = ["text", "rect", "path", "ellipse", "circle", "polygon"];
        IEnumerable<XElement> shapes = svg.Descendants().Where(element => drawn.Contains(element.Name.LocalName)
            && element.Parent!.Name != Svg + "clipPath");
        Assert.All(shapes, shape => Assert.True(shape.Attribute("fill") is not null, shape.ToString()));
    }

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
