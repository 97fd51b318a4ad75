using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What most failures come from: a bar for each share, and a line for the share of it and all above it.</summary>
public static class FailureParetoChart
{
    /// <summary>Most bars that can still be read.</summary>
    public const int MostBars = 12;

    private const int BarPixels = 24;
    private const int FramePixels = 84;
    private const double BarThickness = 0.6;
    private const double FiguresFrom = 1.03;
    private const double PixelsPerCharacter = 7.4;

    /// <summary>The rows that are drawn: those with a share, most first.</summary>
    /// <param name="report">The report.</param>
    /// <returns>At most <see cref="MostBars"/> rows.</returns>
    public static IReadOnlyList<ParetoRow> Drawn(ParetoReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Rows.Where(row => row.Share > 0 && double.IsFinite(row.Share)).Take(MostBars)];
    }

    /// <summary>What the chart shows, in one sentence or two.</summary>
    /// <param name="report">The report.</param>
    /// <returns>How to read it, with how many make up half and more.</returns>
    public static string Sentence(ParetoReport report)
    {
        IReadOnlyList<ParetoRow> rows = Drawn(report);
        if (rows.Count == 0)
        {
            return Texts.Nothing;
        }

        int most = rows.TakeWhile(row => row.CumulativeShare < 0.5).Count() + 1;
        (string Name, string Value)[] sides =
        [
            ("of_all", Texts.OfAll[report.Measure]),
            ("right", report.Measure != ParetoMeasure.Count ? Texts.AtRightMuch : HasBefore(report) ? Texts.AtRightBefore : Texts.AtRightCount),
        ];
        return most == 1 || most > rows.Count
            ? Fill.In(Texts.FirstAlone, [("share", Text.Share(rows[0].Share)), .. sides])
            : Fill.In(Texts.FirstTogether, [("count", Text.Count(most)), ("share", Text.Share(rows[most - 1].CumulativeShare)), .. sides]);
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Bars from 0 to 100 %, longest at the top.</returns>
    public static Chart Of(ParetoReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        int height = FramePixels + (BarPixels * Math.Max(1, Drawn(report).Count));
        return new Chart(
            "pareto",
            Fill.In(Texts.Titles[report.Measure], ("group", FailureWords.One(report.By))),
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, height),
            ChartStyle.NarrowBars(FramePixels, BarPixels, NarrowNames(report)))
        {
            Values = _ => [.. Drawn(report).Select((row, i) => new ChartValue(
                row.Share, -i, Fill.In(
                    Texts.Value, ("name", row.Name), ("figures", Figures(report, row, wide: true)), ("share", Text.Share(row.Share)), ("sum", Text.Share(row.CumulativeShare)))))],
        };
    }

    private static string[] NarrowNames(ParetoReport report) => [.. Drawn(report).Select(row => Text.InLines(row.Name, 15))];

    /// <summary>Draws bars and line.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the row at index i stands at y = −i.</returns>
    public static Plot Plot(ParetoReport report, ChartShape shape)
    {
        IReadOnlyList<ParetoRow> rows = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        Plot plot = ChartStyle.NewPlot(wide ? Texts.AxisWide[report.Measure] : Texts.Axis, string.Empty);
        for (int i = 0; i < rows.Count; i++)
        {
            var bar = plot.Add.Bar(new Bar
            {
                Position = -i,
                Value = rows[i].Share,
                Size = BarThickness,
                FillColor = ChartStyle.Colour(Inks.Kitchen),
                LineWidth = 0,
            });
            bar.Horizontal = true;
            AddFigures(plot, -i, Figures(report, rows[i], wide));
        }

        AddLine(plot, rows);
        ChartStyle.NameBars(plot, wide ? [.. rows.Select(row => Text.Cut(row.Name, 42))] : NarrowNames(report));
        plot.Axes.Bottom.TickGenerator = ChartStyle.ShareTicks(wide ? 0.2 : 0.5);
        plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.SetLimits(0, RightLimit(report, rows, wide), -Math.Max(1, rows.Count) + 0.4, 0.6);
        return plot;
    }

    private static void AddLine(Plot plot, IReadOnlyList<ParetoRow> rows)
    {
        IEnumerable<Coordinates> points = rows.Select((row, i) => new Coordinates(row.CumulativeShare, -i));
        var line = plot.Add.Scatter(points.Where(point => double.IsFinite(point.X)).ToArray());
        line.Color = ChartStyle.Colour(Inks.Observed);
        line.LineWidth = 1.5f;
        line.MarkerSize = 7;
    }

    private static void AddFigures(Plot plot, double y, string figures) => ChartStyle.AddWords(plot, figures, FiguresFrom, y, Inks.Text).OffsetX = 6;

    /// <summary>Whether the period before can be compared with: it was watched.</summary>
    /// <param name="report">The report.</param>
    public static bool HasBefore(ParetoReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Rows.Any(row => row.EarlierCount > 0 || row.Change is not null);
    }

    private static ParetoChartTexts Texts => FailureParetoTexts.Now.Chart;

    private static string Figures(ParetoReport report, ParetoRow row, bool wide) => report.Measure switch
    {
        ParetoMeasure.Count when !HasBefore(report) => Text.Count(row.Count),
        ParetoMeasure.Count when wide => Fill.In(Texts.CountBefore, ("count", Text.Count(row.Count)), ("before", Text.Count(row.EarlierCount))),
        ParetoMeasure.Count => Text.Count(row.Count) + " (" + Text.Count(row.EarlierCount) + ")",
        ParetoMeasure.LockedOutHours => wide
            ? Texts.HoursAndFailures.For(row.Count, ("hours", Text.Number(row.LockedOutHours)))
            : Fill.In(Texts.Hours, ("hours", Text.Number(row.LockedOutHours))),
        ParetoMeasure.UnwashedDays => wide
            ? Texts.DaysAndFailures.For(row.Count, ("days", Text.Number(row.UnwashedDays)))
            : Fill.In(Texts.Days, ("days", Text.Number(row.UnwashedDays))),
        _ => throw new ArgumentOutOfRangeException(nameof(report), report.Measure, null),
    };

    // Where the axis must end so that the longest figures still fit between 100 % and the edge.
    private static double RightLimit(ParetoReport report, IReadOnlyList<ParetoRow> rows, bool wide)
    {
        double longest = PixelsPerCharacter * rows.Select(row => Figures(report, row, wide).Length).DefaultIfEmpty(0).Max();
        return FiguresFrom / (1 - Math.Min(0.55, longest / (wide ? 560 : 200)));
    }
}
