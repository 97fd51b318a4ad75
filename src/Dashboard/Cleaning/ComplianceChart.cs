using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>On-time share by group as bars with bounds, lowest first.</summary>
public static class ComplianceChart
{
    /// <summary>Most bars that can still be read.</summary>
    public const int MostBars = 25;

    private const int BarPixels = 26;
    private const int FramePixels = 70;
    private const double BarThickness = 0.62;

    // The counts stand right of 100 %.
    private const double CountsFrom = 1.02;
    private const double PixelsPerCharacter = 7.2;

    private static ComplianceChartTexts Texts => ComplianceTexts.Now.Chart;

    /// <summary>The groups that are drawn: those with a share, lowest first.</summary>
    /// <param name="report">The report.</param>
    /// <returns>At most <see cref="MostBars"/> groups.</returns>
    public static IReadOnlyList<ComplianceRow> Drawn(ComplianceReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Rows
            .Where(row => row.OnTimeShare is { } share && double.IsFinite(share.Value))
            .OrderBy(row => row.OnTimeShare!.Value)
            .Take(MostBars)];
    }

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="report">The report.</param>
    /// <returns>The lowest and the highest group drawn.</returns>
    public static string Sentence(ComplianceReport report)
    {
        IReadOnlyList<ComplianceRow> rows = Drawn(report);
        if (rows.Count == 0)
        {
            return Texts.Nothing;
        }

        ComplianceRow least = rows[0];
        return Fill.In(
            rows.Count < report.Rows.Count ? Texts.LeastOfLowest : Texts.Least,
            ("shown", Text.Count(rows.Count)),
            ("all", Text.Count(report.Rows.Count)),
            ("share", Text.Share(least.OnTimeShare)),
            ("on_time", Text.Count(least.OnTime)),
            ("due", Text.Count(least.Due)),
            ("name", least.Name));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report; at least one group with a share.</param>
    /// <returns>Bars from 0 to 100 %, lowest at the top, with bounds and counts.</returns>
    public static Chart Of(ComplianceReport report)
    {
        int height = FramePixels + (BarPixels * Math.Max(1, Drawn(report).Count));
        return new Chart(
            "on-time",
            Fill.In(Texts.Title, ("by", CleaningWords.GroupingInSentence(report.By))),
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, height),
            ChartStyle.NarrowBars(FramePixels, BarPixels, NarrowNames(report)))
        {
            Values = _ => [.. Drawn(report).Select((row, i) => new ChartValue(
                row.OnTimeShare!.Value, -i, Words(row)))],
        };
    }

    private static string[] NarrowNames(ComplianceReport report) => [.. Drawn(report).Select(row => Text.InLines(row.Name, 16))];

    /// <summary>Draws the bars.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the group at index i has its bar at y = −i.</returns>
    public static Plot Plot(ComplianceReport report, ChartShape shape)
    {
        IReadOnlyList<ComplianceRow> rows = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        Plot plot = ChartStyle.NewPlot(wide ? Texts.AxisWide : Texts.AxisNarrow, string.Empty);
        for (int i = 0; i < rows.Count; i++)
        {
            AddBar(plot, -i, rows[i]);
        }

        ChartStyle.NameBars(plot, wide ? [.. rows.Select(row => Text.Cut(row.Name, 34))] : NarrowNames(report));
        plot.Axes.Bottom.TickGenerator = ChartStyle.ShareTicks(wide ? 0.1 : 0.5);
        plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.SetLimits(0, RightLimit(rows, shape), -rows.Count + 0.4, 0.6);
        return plot;
    }

    private static string Counts(ComplianceRow row) => CleaningWords.OfWhole(row.OnTime, row.Due);

    private static string Words(ComplianceRow row) => Fill.In(
        Texts.Value, ("share", Text.Share(row.OnTimeShare)), ("on_time", Text.Count(row.OnTime)), ("due", Text.Count(row.Due)), ("name", row.Name));

    // Where the axis must end so that the longest count still fits between 100 % and the edge.
    private static double RightLimit(IReadOnlyList<ComplianceRow> rows, ChartShape shape)
    {
        double bars = shape == ChartShape.Wide ? 560 : 190;
        double longest = PixelsPerCharacter * rows.Select(row => Counts(row).Length).DefaultIfEmpty(0).Max();
        return CountsFrom / (1 - Math.Min(0.6, longest / bars));
    }

    private static void AddBar(Plot plot, double y, ComplianceRow row)
    {
        double share = row.OnTimeShare!.Value;
        var bar = plot.Add.Bar(new Bar
        {
            Position = y,
            Value = share,
            Size = BarThickness,
            FillColor = ChartStyle.Colour(Inks.Kept),
            LineWidth = 0,
        });
        bar.Horizontal = true;
        if (row.OnTimeShare is { Lower: { } lower, Upper: { } upper } && double.IsFinite(lower) && double.IsFinite(upper))
        {
            var whisker = plot.Add.Line(lower, y, upper, y);
            whisker.Color = ChartStyle.Colour(Inks.Whisker);
            whisker.LineWidth = 1.5f;
        }

        ChartStyle.AddWords(plot, Counts(row), CountsFrom, y, Inks.Text);
    }
}
