using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

/// <summary>Contrast as WCAG 2.2 defines it (relative luminance; success criteria 1.4.3 and 1.4.11).</summary>
public sealed class ContrastTests
{
    private const double OfText = 4.5;
    private const double OfParts = 3.0;

    [Theory]
    [InlineData("#ffffff", "#000000", 21)]
    [InlineData("#ffffff", "#777777", 4.478)]
    public void The_ratio_is_the_published_one(string one, string other, double ratio) => Assert.Equal(ratio, Ratio(one, other), 3);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Text_of_the_pages_can_be_read(bool dark)
    {
        Dictionary<string, string> colours = Variables(dark);
        string[] texts = ["ink", "soft", "accent", "locked-out", "overdue", "due", "silent", "clean", "free", "error"];
        foreach (string ground in new[] { "ground", "sheet" })
        {
            Assert.All(texts, text => Assert.True(Ratio(colours[text], colours[ground]) >= OfText,
                $"{text} on {ground}: {Ratio(colours[text], colours[ground]):0.00}"));
        }

        Assert.True(Ratio(colours["on-accent"], colours["accent"]) >= OfText);
        Assert.True(Ratio(colours["ink"], colours["mind"]) >= OfText);
        Assert.True(Ratio(colours["edge"], colours["ground"]) >= OfParts);
        Assert.True(Ratio(colours["edge"], colours["sheet"]) >= OfParts);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Parts_of_charts_can_be_told_from_their_ground(bool dark)
    {
        string Colour(Ink ink) => dark ? ink.Dark : ink.Light;
        Assert.True(Ratio(Colour(Inks.Text), Colour(Inks.Paper)) >= OfText);
        Ink[] parts =
        [
            Inks.Fitted, Inks.Observed, Inks.ObservedBound, Inks.Point, Inks.Kept, Inks.Kitchen, Inks.Service, Inks.Unheard, Inks.NotOwed,
            Inks.Whisker, Inks.DayCounted, Inks.DayEdge,
        ];
        Assert.All(parts, part => Assert.True(Ratio(Colour(part), Colour(Inks.Paper)) >= OfParts,
            $"{part.Name}: {Ratio(Colour(part), Colour(Inks.Paper)):0.00}"));
        Assert.All(
            [Inks.DayByHand, Inks.DayShort, Inks.DayStopped, Inks.DayRefused, Inks.DayNone, Inks.DaySilent, Inks.DayFree],
            day => Assert.True(Ratio(Colour(Inks.DayLetter), Colour(day)) >= OfText, day.Name));
        Assert.True(Ratio(Colour(Inks.Fitted), Colour(Inks.FittedBand)) >= OfParts, "fitted on its band");
        Assert.True(Ratio(Colour(Inks.Observed), Colour(Inks.FittedBand)) >= OfParts, "observed on the band");
    }

    [Fact]
    public void No_two_parts_share_a_colour_so_that_a_drawn_colour_tells_its_part() =>
        Assert.Equal(Inks.All.Count, Inks.All.Select(ink => ink.Light).Distinct(StringComparer.OrdinalIgnoreCase).Count());

    [Fact]
    public void Charts_stand_on_the_ground_of_the_page()
    {
        Assert.Equal(Variables(dark: false)["ground"], Inks.Paper.Light);
        Assert.Equal(Variables(dark: true)["ground"], Inks.Paper.Dark);
    }

    internal static Dictionary<string, string> Variables(bool dark)
    {
        string css = Encoding.UTF8.GetString(PageAssets.Find("site.css")!.Content.Span);
        var blocks = Regex.Matches(css, @":root\s*\{([^}]*)\}").Select(match => match.Groups[1].Value).ToArray();
        var colours = new Dictionary<string, string>();
        foreach (string block in dark ? blocks : blocks[..1])
        {
            foreach (Match match in Regex.Matches(block, @"--([a-z-]+):\s*(#[0-9a-f]{6})"))
            {
                colours[match.Groups[1].Value] = match.Groups[2].Value;
            }
        }

        return colours;
    }

    internal static double Ratio(string one, string other)
    {
        double a = Luminance(one);
        double b = Luminance(other);
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    private static double Luminance(string hex)
    {
        double Channel(int start)
        {
            double value = int.Parse(hex.AsSpan(start, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
            return value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4);
        }

        return (0.2126 * Channel(1)) + (0.7152 * Channel(3)) + (0.0722 * Channel(5));
    }
}
