using ScottPlot;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Repairs;

/// <summary>Mean length of a lockout by group, stacked by sort of delay.</summary>
public static class DelayChart
{
    /// <summary>Most groups that are drawn.</summary>
    public const int MostGroups = 12;

    private const int BarPixels = 46;
    private const int FramePixels = 96;
    private const double BarThickness = 0.6;
    private const int LongestName = 34;
    private const int LongestLine = 22;

    // A piece narrower than this share of the axis has no room for its number.
    private const double RoomForNumber = 0.04;

    private static DelayChartTexts Texts => DelayTexts.Now.Chart;

    /// <summary>The groups that are drawn: those with most hours, in their order.</summary>
    /// <param name="report">The delays.</param>
    public static IReadOnlyList<DelayRow> Drawn(DelaysReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Rows.Where(row => row.Lockouts > 0 && double.IsFinite(row.Hours)).Take(MostGroups)];
    }

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="report">The delays.</param>
    public static string Sentence(DelaysReport report)
    {
        IReadOnlyList<DelayRow> rows = Drawn(report);
        if (rows.Count == 0)
        {
            return Texts.Nothing;
        }

        DelayRow longest = rows.MaxBy(Mean)!;
        return Fill.In(
            Texts.Sentence, ("by", DelayWords.GroupInside(report.By)), ("time", Text.Duration(Mean(longest))), ("parts", Parts(longest, Texts.Part)), ("name", longest.Name));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The delays.</param>
    public static Chart Of(DelaysReport report)
    {
        int height = FramePixels + (BarPixels * Math.Max(1, Drawn(report).Count));
        return new Chart(
            "delays",
            Texts.Title,
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, height + 20),
            new ChartSize(360, height + 90))
        {
            Values = _ => [.. Drawn(report).Select((row, i) => new ChartValue(Mean(row) / 24, -i, Words(row)))],
        };
    }

    /// <summary>Draws the bars.</summary>
    /// <param name="report">The delays.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the group at index i has its bars at y = −i, in days.</returns>
    public static Plot Plot(DelaysReport report, ChartShape shape)
    {
        IReadOnlyList<DelayRow> rows = Drawn(report);
        double longest = rows.Count == 0 ? 1 : Math.Max(1e-3, rows.Max(Mean) / 24);
        Plot plot = ChartStyle.NewPlot(Texts.Axis, string.Empty);
        for (int i = 0; i < rows.Count; i++)
        {
            AddStack(plot, -i, rows[i], longest);
        }

        foreach (DelaySort sort in DelayWords.Sorts)
        {
            plot.Legend.ManualItems.Add(new LegendItem
            {
                LabelText = Number(sort) + "  " + (shape == ChartShape.Wide ? DelayWords.Name(sort) : InTwoLines(DelayWords.Name(sort))),
                FillColor = ChartStyle.Colour(DelayWords.Colour(sort)),
                LineWidth = 0,
            });
        }

        ChartStyle.Legend(plot, Alignment.UpperRight);
        ChartStyle.NameBars(plot, [.. rows.Select(row => shape == ChartShape.Wide ? Text.Cut(row.Name, LongestName) : Text.InLines(row.Name, LongestName / 2))]);
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(longest, shape == ChartShape.Wide ? 6 : 3);
        plot.Grid.YAxisStyle.IsVisible = false;

        // Room above the bars for the legend, and right of the longest for its length.
        plot.Axes.SetLimits(0, longest * (shape == ChartShape.Wide ? 1.2 : 1.7), -rows.Count + 0.4, shape == ChartShape.Wide ? 2.1 : 3.2);
        return plot;
    }

    private static string Words(DelayRow row) =>
        Fill.In(Texts.Value, ("time", Text.Duration(Mean(row))), ("parts", Parts(row, Texts.ValuePart)), ("name", row.Name));

    private static string Parts(DelayRow row, string text) => string.Join(
        ", ",
        DelayWords.Sorts.Select(sort => Fill.In(text, ("sort", DelayWords.NameInside(sort)), ("time", Text.Duration(row.MeanHours(sort))))));

    private static double Mean(DelayRow row) => row.Lockouts == 0 ? 0 : row.Hours / row.Lockouts;

    private static string InTwoLines(string name)
    {
        int space = name.Length <= LongestLine ? -1 : name.LastIndexOf(' ', LongestLine);
        return space < 0 ? name : name[..space] + "\n" + name[(space + 1)..];
    }

    // The colour of a piece is never its only sign: it bears the number that stands before its name in the key.
    private static string Number(DelaySort sort) => Text.Count(1 + DelayWords.Sorts.ToList().IndexOf(sort));

    private static void AddStack(Plot plot, double y, DelayRow row, double axis)
    {
        double from = 0;
        foreach (DelaySort sort in DelayWords.Sorts)
        {
            double to = from + (row.MeanHours(sort) / 24);
            var bar = plot.Add.Bar(new Bar
            {
                Position = y,
                ValueBase = from,
                Value = to,
                Size = BarThickness,
                FillColor = ChartStyle.Colour(DelayWords.Colour(sort)),
                LineWidth = 0,
            });
            bar.Horizontal = true;
            if (to - from > RoomForNumber * axis)
            {
                ChartStyle.AddWords(plot, Number(sort), (from + to) / 2, y, Inks.Paper, Alignment.MiddleCenter);
            }

            from = to;
        }

        ChartStyle.AddWords(plot, Text.Duration(Mean(row)), from, y, Inks.Text).OffsetX = 6;
    }
}
