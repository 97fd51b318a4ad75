using System.Globalization;
using System.Xml.Linq;
using ScottPlot;

namespace Washwear.Dashboard.Shell;

/// <summary>Puts the values of a chart into its picture, where the script of figures finds them: a place and its words each.</summary>
internal static class ChartValues
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    /// <summary>The places of the values, drawn as nothing.</summary>
    /// <param name="chart">The chart.</param>
    /// <param name="plot">Its plot, which has been rendered in this shape.</param>
    /// <param name="shape">The room it was drawn for.</param>
    /// <returns>A group with one circle a value, in pixels of the picture; values that lie beyond the frame stand at its edge.</returns>
    internal static XElement? Places(Chart chart, Plot plot, ChartShape shape)
    {
        PixelRect frame = plot.LastRender.DataRect;
        ChartValue[] values = [.. chart.Values(shape).Where(value => double.IsFinite(value.X) && double.IsFinite(value.Y))];
        return values.Length == 0 ? null : new XElement(
            Svg + "g",
            new XAttribute("class", "values"),
            values.Select(value => Place(plot.GetPixel(new Coordinates(value.X, value.Y)), frame, value.Words)));
    }

    /// <summary>Some of many, evenly chosen, the first and the last among them.</summary>
    /// <typeparam name="T">One of them.</typeparam>
    /// <param name="all">All of them.</param>
    /// <param name="most">How many are wanted at most, 2 or more.</param>
    internal static IEnumerable<T> Thinned<T>(IReadOnlyList<T> all, int most) => all.Count <= most
        ? all
        : Enumerable.Range(0, most).Select(i => all[(int)((long)i * (all.Count - 1) / (most - 1))]);

    private static XElement Place(Pixel at, PixelRect frame, string words) => new(
        Svg + "circle",
        new XAttribute("cx", Number(Math.Clamp(at.X, frame.Left, frame.Right))),
        new XAttribute("cy", Number(Math.Clamp(at.Y, frame.Top, frame.Bottom))),
        new XAttribute("r", 0),
        new XAttribute("fill", "none"),
        new XAttribute("data-words", words));

    private static string Number(float pixels) => pixels.ToString("0.#", CultureInfo.InvariantCulture);
}
