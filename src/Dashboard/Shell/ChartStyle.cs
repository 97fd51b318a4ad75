using ScottPlot;
using ScottPlot.TickGenerators;

namespace Washwear.Dashboard.Shell;

/// <summary>The one look of all charts.</summary>
public static class ChartStyle
{
    /// <summary>Font size of tick labels and marks, pixels.</summary>
    public const float SmallText = 13;

    /// <summary>Font size of axis labels, pixels.</summary>
    public const float LabelText = 14;

    /// <summary>Width of a line that carries data, pixels.</summary>
    public const float DataLine = 2.5f;

    /// <summary>Width of a line that carries bounds, pixels.</summary>
    public const float BoundLine = 1.25f;

    /// <summary>Patterns of lines that have to be told apart without colours; no two of the six are alike.</summary>
    public static IReadOnlyList<LinePattern> Patterns { get; } =
    [
        LinePattern.Solid, LinePattern.Dashed, LinePattern.Dotted, new LinePattern([14, 4, 2, 4], 0, "dash dot"), LinePattern.DenselyDashed,
        new LinePattern([14, 4, 2, 4, 2, 4], 0, "dash dot dot"),
    ];

    // The drawing library hangs a line of text by its whole height, in which capitals and figures sit high: so far they drop to the middle.
    private const float DropToMiddle = 3;

    // Between the figures beside an axis and what it tells: readers' typefaces run wider than the chart's own.
    private const float RoomBeforeLabel = 6;

    /// <summary>A new plot in the house look: transparent ground, two axes, quiet grid, own typeface.</summary>
    /// <param name="xLabel">What runs along the bottom, with its unit; empty: nothing.</param>
    /// <param name="yLabel">What runs up the side, with its unit; empty: nothing.</param>
    /// <returns>The plot, ready for data.</returns>
    public static Plot NewPlot(string xLabel, string yLabel)
    {
        ChartFonts.Ready();
        var plot = new Plot();
        plot.FigureBackground.Color = Colors.Transparent;
        plot.DataBackground.Color = Colors.Transparent;
        plot.Axes.Color(Colour(Inks.Text));
        plot.Axes.Top.FrameLineStyle.IsVisible = false;
        plot.Axes.Right.FrameLineStyle.IsVisible = false;

        // Room for the halves of the last tick labels that stand over the frame.
        plot.Axes.Top.MinimumSize = 12;
        plot.Axes.Right.MinimumSize = 18;
        plot.Grid.MajorLineColor = Colour(Inks.Grid);
        plot.Grid.MajorLineWidth = 1;
        plot.XLabel(xLabel);
        plot.YLabel(yLabel);
        plot.Font.Set(ChartFonts.Name);
        foreach (IAxis axis in new IAxis[] { plot.Axes.Bottom, plot.Axes.Left })
        {
            axis.Label.FontSize = LabelText;
            axis.Label.Bold = false;
            axis.TickLabelStyle.FontSize = SmallText;
            axis.MinorTickStyle.Length = 0;
            axis.MajorTickStyle.Length = 5;
        }

        plot.Axes.Left.TickLabelStyle.OffsetY = DropToMiddle;
        if (yLabel.Length > 0 && plot.Axes.Left is ScottPlot.AxisPanels.LeftAxis left)
        {
            left.PaddingBetweenTickAndAxisLabels = new PixelPadding(RoomBeforeLabel, 0);
        }

        return plot;
    }

    /// <summary>The drawing library's form of a colour.</summary>
    /// <param name="ink">The part that it is for.</param>
    /// <returns>Its light colour, which the renderer turns into a class.</returns>
    public static Color Colour(Ink ink)
    {
        ArgumentNullException.ThrowIfNull(ink);
        return Color.FromHex(ink.Light);
    }

    /// <summary>Puts a quiet legend into a corner.</summary>
    /// <param name="plot">The plot.</param>
    /// <param name="corner">The corner.</param>
    public static void Legend(Plot plot, Alignment corner)
    {
        ArgumentNullException.ThrowIfNull(plot);
        Quiet(plot.ShowLegend(corner));
    }

    /// <summary>Puts a quiet legend under the plot, where no corner of it is free.</summary>
    /// <param name="plot">The plot.</param>
    public static void LegendBelow(Plot plot)
    {
        ArgumentNullException.ThrowIfNull(plot);
        Quiet(plot.ShowLegend(Edge.Bottom).Legend);
    }

    private static void Quiet(Legend legend)
    {
        legend.BackgroundColor = Colors.Transparent;
        legend.OutlineWidth = 0;
        legend.ShadowColor = Colors.Transparent;
        legend.FontColor = Colour(Inks.Text);
        legend.FontSize = SmallText;
        legend.FontName = ChartFonts.Name;
    }

    /// <summary>Names a line at its end, with a piece of its pattern: where ends lie close, the colour alone would tell whose name it is.</summary>
    /// <param name="plot">The plot.</param>
    /// <param name="name">The name.</param>
    /// <param name="at">Where the lines end, and the height of the name.</param>
    /// <param name="ink">The line's ink.</param>
    /// <param name="pattern">The line's pattern.</param>
    public static void NameLine(Plot plot, string name, Coordinates at, Ink ink, LinePattern pattern)
    {
        ArgumentNullException.ThrowIfNull(plot);
        var piece = plot.Add.Line(at.X * 1.02, at.Y, at.X * 1.07, at.Y);
        piece.Color = Colour(ink);
        piece.LineWidth = DataLine;
        piece.LinePattern = pattern;
        AddWords(plot, name, at.X * 1.07, at.Y, ink).OffsetX = 6;
    }

    /// <summary>Writes words at a place, half of their capitals above it and half below.</summary>
    /// <param name="plot">The plot.</param>
    /// <param name="words">The words.</param>
    /// <param name="x">Where they begin, or where their middle is.</param>
    /// <param name="y">The height of their middle.</param>
    /// <param name="ink">Their ink.</param>
    /// <param name="alignment">Left or centre of the middle.</param>
    /// <returns>The words, to be moved aside.</returns>
    public static ScottPlot.Plottables.Text AddWords(Plot plot, string words, double x, double y, Ink ink, Alignment alignment = Alignment.MiddleLeft)
    {
        ArgumentNullException.ThrowIfNull(plot);
        var text = plot.Add.Text(words, x, y);
        text.LabelFontColor = Colour(ink);
        text.LabelFontName = ChartFonts.Name;
        text.LabelFontSize = SmallText;
        text.LabelAlignment = alignment;
        text.OffsetY = DropToMiddle;
        return text;
    }

    /// <summary>Ticks of a share from 0 to 1, labelled as percentages.</summary>
    /// <param name="step">Distance of the ticks as a share.</param>
    /// <returns>The ticks.</returns>
    public static NumericManual ShareTicks(double step)
    {
        var ticks = new NumericManual();
        int count = (int)Math.Round(1 / step);
        for (int i = 0; i <= count; i++)
        {
            ticks.AddMajor(i * step, Text.Share(Math.Round(i * step, 6)));
        }

        return ticks;
    }

    /// <summary>Ticks at round numbers from 0 to a limit.</summary>
    /// <param name="limit">Upper limit, above 0.</param>
    /// <param name="about">About how many ticks.</param>
    /// <returns>The ticks.</returns>
    public static NumericManual RoundTicks(double limit, int about)
    {
        var ticks = new NumericManual();
        double step = RoundStep(limit / Math.Max(1, about));
        for (int i = 0; i * step <= limit * (1 + 1e-9); i++)
        {
            ticks.AddMajor(i * step, Text.Tick(i * step));
        }

        return ticks;
    }

    /// <summary>The room for horizontal bars on a phone: higher where a name takes several lines.</summary>
    /// <param name="framePixels">Height of what stands around the bars.</param>
    /// <param name="barPixels">Height of a bar with its gap where names take one line.</param>
    /// <param name="names">A name for each bar, in lines.</param>
    public static ChartSize NarrowBars(int framePixels, int barPixels, IReadOnlyCollection<string> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        const int NarrowWidth = 360;
        const int LinePixels = 16;
        const int GapPixels = 6;
        int lines = names.Select(name => name.Count(letter => letter == '\n') + 1).DefaultIfEmpty(1).Max();
        int pixels = lines == 1 ? barPixels : Math.Max(barPixels, (LinePixels * lines) + GapPixels);
        return new ChartSize(NarrowWidth, framePixels + (pixels * Math.Max(1, names.Count)));
    }

    /// <summary>Puts names before horizontal bars, with room for readers whose typeface runs wider than the chart's own.</summary>
    /// <param name="plot">The plot.</param>
    /// <param name="names">A name for each bar, in lines; the bar at index i stands at y = −i.</param>
    public static void NameBars(Plot plot, IReadOnlyList<string> names)
    {
        ArgumentNullException.ThrowIfNull(plot);
        ArgumentNullException.ThrowIfNull(names);
        const float WiderTypeface = 1.15f;
        const float Gap = 14;
        plot.Axes.Left.TickGenerator = new NumericManual([.. names.Select((name, i) => new Tick(-i, name))]);
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Axes.Left.FrameLineStyle.IsVisible = false;
        plot.Axes.Left.MinimumSize = Gap + (WiderTypeface * names
            .SelectMany(name => name.Split('\n'))
            .Select(line => ChartFonts.Width(line, SmallText))
            .DefaultIfEmpty(0)
            .Max());
    }

    private static double RoundStep(double rough)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double lead = rough / power;
        return power * (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10);
    }
}
