using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ScottPlot;
using SkiaSharp;

namespace Washwear.Dashboard.Shell;

/// <summary>Turns charts into pictures: SVG inside a page, SVG that stands alone, PNG.</summary>
/// <remarks>
/// Each colour that was drawn becomes a class, so that a style sheet can give it its dark twin; text becomes plain text with
/// its anchor, so that it stays in place in whatever typeface the reader has. Nothing carries a style attribute.
/// </remarks>
public static partial class ChartImage
{
    private const string FontFamily = "system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', 'DejaVu Sans Condensed', Arial, sans-serif";

    // Charts are flat: a row is mostly the one above it. Trying every filter on every row, and packing harder, takes twice as long for no less bytes.
    private static readonly SKPngEncoderOptions Packing = new(SKPngEncoderFilterFlags.Up, 4);

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    private static readonly Dictionary<string, Ink> InkByColour = Inks.All.ToDictionary(ink => ink.Light, StringComparer.OrdinalIgnoreCase);

    /// <summary>The picture as markup that stands inside a page, whose style sheet colours it.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>One svg element with role, title and description; the same bytes for the same chart.</returns>
    public static string Inline(Chart chart, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(chart);
        using Plot plot = chart.Draw(shape);
        XElement svg = Render(chart, plot, shape, chart.Name + "-" + (shape == ChartShape.Wide ? "w" : "n"));
        svg.Add(ChartValues.Places(chart, plot, shape));
        return svg.ToString(SaveOptions.DisableFormatting);
    }

    /// <summary>The picture as an SVG file that brings its own colours, light and dark.</summary>
    /// <param name="chart">The chart.</param>
    /// <returns>The file's text; the same for the same chart.</returns>
    public static string SvgFile(Chart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        using Plot plot = Titled(chart);
        XElement svg = Render(chart, plot, ChartShape.Wide, chart.Name);
        svg.Add(new XAttribute("width", chart.Wide.Width), new XAttribute("height", chart.Wide.Height));
        svg.AddFirst(
            new XElement(Svg + "style", Inks.Css()),
            new XElement(
                Svg + "rect",
                new XAttribute("width", "100%"),
                new XAttribute("height", "100%"),
                new XAttribute("fill", Inks.Paper.Light),
                new XAttribute("class", "fill-" + Inks.Paper.Name)));
        return svg.ToString(SaveOptions.DisableFormatting);
    }

    /// <summary>The picture as a PNG file on light ground, at twice the pixels for sharp print.</summary>
    /// <param name="chart">The chart.</param>
    /// <returns>The file's bytes.</returns>
    public static byte[] PngFile(Chart chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        const int Sharpness = 2;
        using Plot plot = Titled(chart);
        plot.FigureBackground.Color = ChartStyle.Colour(Inks.Paper);
        plot.ScaleFactor = Sharpness;

        // Opaque, as the ground is: without a fourth byte to every pixel.
        var size = new SKImageInfo(chart.Wide.Width * Sharpness, chart.Wide.Height * Sharpness, SKImageInfo.PlatformColorType, SKAlphaType.Opaque);
        using SKSurface surface = SKSurface.Create(size);
        plot.Render(surface.Canvas, size.Width, size.Height);
        using SKPixmap pixels = surface.PeekPixels();
        using SKData file = pixels.Encode(Packing) ?? throw new InvalidOperationException("The picture could not be packed.");
        return file.ToArray();
    }

    // A picture that leaves its page takes its title along.
    private static Plot Titled(Chart chart)
    {
        Plot plot = chart.Draw(ChartShape.Wide);
        plot.Axes.Title.Label.Text = chart.Title;
        plot.Axes.Title.Label.FontName = ChartFonts.Name;
        plot.Axes.Title.Label.FontSize = ChartStyle.LabelText + 2;
        plot.Axes.Title.Label.Bold = false;
        plot.Axes.Title.Label.ForeColor = ChartStyle.Colour(Inks.Text);
        plot.Axes.Title.IsVisible = true;
        return plot;
    }

    private static XElement Render(Chart chart, Plot plot, ChartShape shape, string prefix)
    {
        ChartSize size = chart.Size(shape);
        string xml = plot.GetSvgXml(size.Width, size.Height);
        XElement svg = XElement.Parse(xml[xml.IndexOf("<svg", StringComparison.Ordinal)..]);
        Compact(svg);
        RenameClips(svg, prefix);
        foreach (XElement element in svg.Descendants())
        {
            ColourByClass(element);
            if (element.Name == Svg + "text")
            {
                AnchorText(element);
            }
        }

        svg.ReplaceAttributes(
            new XAttribute("class", shape == ChartShape.Wide ? "chart chart-wide" : "chart chart-narrow"),
            new XAttribute("viewBox", string.Create(CultureInfo.InvariantCulture, $"0 0 {size.Width} {size.Height}")),
            new XAttribute("role", "img"),
            new XAttribute("aria-labelledby", prefix + "-title " + prefix + "-desc"),
            new XAttribute("font-family", FontFamily));
        svg.AddFirst(
            new XElement(Svg + "title", new XAttribute("id", prefix + "-title"), chart.Title),
            new XElement(Svg + "desc", new XAttribute("id", prefix + "-desc"), chart.Description));
        return svg;
    }

    // Fully transparent shapes draw nothing; white space between elements carries nothing. Only lines and points can leave the
    // frame, so nothing else needs a clip: a clip measured in the server's typeface would cut text in the reader's.
    private static void Compact(XElement svg)
    {
        svg.Descendants().Where(element => (string?)element.Attribute("fill-opacity") == "0").Remove();
        svg.DescendantNodes().OfType<XText>().Where(text => text.Parent!.Name != Svg + "text").Remove();
        foreach (XElement group in svg.Elements(Svg + "g").ToArray())
        {
            if (!group.Elements().Any(element => element.Name == Svg + "path" || element.Name == Svg + "ellipse")
                || group.Elements(Svg + "text").Any())
            {
                group.ReplaceWith(group.Elements());
            }
        }
    }

    // The drawing library numbers clips over the whole process and repeats them: named by the chart, each room once, they stay
    // unique on a page and the picture stays the same each time.
    private static void RenameClips(XElement svg, string prefix)
    {
        var nameByRoom = new Dictionary<string, string>();
        var nameById = new Dictionary<string, string>();
        HashSet<string> used = [.. svg.Descendants().Attributes("clip-path").Select(use => ClipReference().Match(use.Value).Value)];
        foreach (XElement clip in svg.Elements(Svg + "clipPath").ToArray())
        {
            string id = (string)clip.Attribute("id")!;
            string room = string.Concat(clip.Elements().Select(element => element.ToString(SaveOptions.DisableFormatting)));
            bool first = !nameByRoom.TryGetValue(room, out string? name) && used.Contains(id);
            name ??= string.Create(CultureInfo.InvariantCulture, $"{prefix}-clip-{nameByRoom.Count}");
            nameById[id] = name;
            if (first)
            {
                nameByRoom[room] = name;
                clip.SetAttributeValue("id", name);
            }
            else
            {
                clip.Remove();
            }
        }

        foreach (XAttribute use in svg.Descendants().Attributes("clip-path"))
        {
            use.Value = ClipReference().Replace(use.Value, match => nameById[match.Value]);
        }
    }

    private static void ColourByClass(XElement element)
    {
        if (element.Name == Svg + "text" && element.Attribute("fill") is null)
        {
            element.SetAttributeValue("fill", Inks.Text.Light);
        }

        var classes = new List<string>();
        foreach ((string attribute, string kind) in new[] { ("fill", "fill-"), ("stroke", "line-") })
        {
            string? colour = (string?)element.Attribute(attribute);
            if (colour is not null && InkByColour.TryGetValue(colour, out Ink? ink))
            {
                element.SetAttributeValue(attribute, ink.Light);
                classes.Add(kind + ink.Name);
            }
        }

        if (classes.Count > 0)
        {
            element.SetAttributeValue("class", string.Join(' ', classes));
        }
    }

    // The library places each glyph by its own typeface. The origin of the text is its anchor: what lies left of it tells which.
    private static void AnchorText(XElement text)
    {
        text.Value = text.Value.Trim();
        float size = (float)text.Attribute("font-size")!;
        float left = -First(text, "x");
        float share = left / Math.Max(1, ChartFonts.Width(text.Value, size));
        text.SetAttributeValue("text-anchor", share < 0.25 ? null : share < 0.75 ? "middle" : "end");
        text.SetAttributeValue("y", First(text, "y").ToString("0.##", CultureInfo.InvariantCulture));
        text.SetAttributeValue("x", null);
        text.SetAttributeValue("font-family", null);
        text.SetAttributeValue("font-stretch", null);
        text.SetAttributeValue("font-weight", null);
    }

    private static float First(XElement text, string attribute) =>
        float.Parse(((string)text.Attribute(attribute)!).Split(',')[0], CultureInfo.InvariantCulture);

    [GeneratedRegex("(?<=#)cl_[0-9a-f]+")]
    private static partial Regex ClipReference();
}
