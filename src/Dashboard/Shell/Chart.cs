using ScottPlot;

namespace Washwear.Dashboard.Shell;

/// <summary>The room that a chart is drawn for.</summary>
public enum ChartShape
{
    /// <summary>A screen or sheet: wider than high.</summary>
    Wide,

    /// <summary>A phone: about as high as wide, fewer ticks.</summary>
    Narrow,
}

/// <summary>A chart that can be drawn in each shape, with the words that stand for it where it cannot be seen.</summary>
/// <param name="Name">Name in letters, digits and hyphens, unique on its page; the ids inside the picture begin with it.</param>
/// <param name="Title">What it shows, in a few words.</param>
/// <param name="Description">What a reader would see in it, in one or two sentences.</param>
/// <param name="Draw">Draws it afresh; a drawn plot is never shared.</param>
/// <param name="Wide">Size of the wide shape, pixels.</param>
/// <param name="Narrow">Size of the narrow shape, pixels.</param>
public sealed record Chart(
    string Name,
    string Title,
    string Description,
    Func<ChartShape, Plot> Draw,
    ChartSize Wide,
    ChartSize Narrow)
{
    /// <summary>Size of a shape.</summary>
    /// <param name="shape">The shape.</param>
    /// <returns>Width and height, pixels.</returns>
    public ChartSize Size(ChartShape shape) => shape == ChartShape.Wide ? Wide : Narrow;

    /// <summary>The values that a reader can ask for one by one, in the order of reading.</summary>
    public Func<ChartShape, IReadOnlyList<ChartValue>> Values { get; init; } = _ => [];

    /// <summary>The numbers as a file of their own; null where an address of the API gives them.</summary>
    public ChartNumbers? Numbers { get; init; }
}

/// <summary>A value at its place in a chart.</summary>
/// <param name="X">Place along the bottom axis, in the plot's coordinates.</param>
/// <param name="Y">Place along the side axis, in the plot's coordinates.</param>
/// <param name="Words">What it is of and how much, with its unit.</param>
public readonly record struct ChartValue(double X, double Y, string Words);

/// <summary>The numbers of a chart as rows.</summary>
/// <param name="Columns">Names of the columns, with units.</param>
/// <param name="Rows">Cells of each row: text, numbers, truth values, instants, dates or null.</param>
public sealed record ChartNumbers(IReadOnlyList<string> Columns, IReadOnlyList<object?[]> Rows);

/// <summary>Size of a picture.</summary>
/// <param name="Width">Width, pixels, above 0.</param>
/// <param name="Height">Height, pixels, above 0.</param>
public readonly record struct ChartSize(int Width, int Height);
