using System.Globalization;
using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Failures to be expected, a mark with its prediction interval for each group, most at the top; months in the order of time.</summary>
public static class ForecastChart
{
    /// <summary>Most rows that can still be read.</summary>
    public const int MostRows = 20;

    private const int RowPixels = 24;
    private const int FramePixels = 84;

    // A mark at no failure needs half its width left of the axis; the figures at the ends of the lines need room right of it.
    private const double RoomForZero = 0.015;
    private const double RoomForWordsWide = 1.08;
    private const double RoomForWordsNarrow = 1.25;

    private static ForecastFigureTexts Texts => PlanForecastTexts.Now.Figure;

    /// <summary>What the chart is called.</summary>
    /// <param name="report">The forecast.</param>
    public static string Title(FailureForecastReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return Fill.In(Texts.Title, ("days", PlanForecastTexts.Now.Finding.Within.For(report.Days)), ("by", ForecastWords.One(report.By)));
    }

    /// <summary>Fewest and most failures of a row.</summary>
    /// <param name="row">The row.</param>
    public static string Range(ForecastRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Fill.In(Texts.Range, Bounds(row));
    }

    /// <summary>The rows that are drawn.</summary>
    /// <param name="report">The forecast.</param>
    /// <returns>At most <see cref="MostRows"/> rows of which something can be told, in the forecast's order.</returns>
    public static IReadOnlyList<ForecastRow> Drawn(FailureForecastReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Rows.Where(row => row.Parts > 0 && double.IsFinite(row.Expected) && row.Expected >= 0).Take(MostRows)];
    }

    /// <summary>What the chart shows, in one sentence or two.</summary>
    /// <param name="report">The forecast.</param>
    public static string Sentence(FailureForecastReport report)
    {
        IReadOnlyList<ForecastRow> rows = Drawn(report);
        if (rows.Count == 0)
        {
            return Texts.None;
        }

        ForecastRow most = rows.MaxBy(row => row.Expected)!;
        bool isByMonth = report.By == ForecastBy.Month;
        string?[] sentences =
        [
            rows.Count < report.Rows.Count || report.Next is not null ? Texts.Rows.For(rows.Count) : null,
            Fill.In(Texts.MarkAndLine, ("share", Text.Share(report.Level))),
            Fill.In(
                isByMonth ? Texts.MostIn : Texts.MostOf,
                [("expected", Text.Number(most.Expected)), .. Bounds(most), ("name", isByMonth ? most.Name : Text.Cut(Name(report.By, most), 60))]),
            isByMonth ? Texts.Edges.For(report.Days) : null,
        ];
        return string.Join(' ', sentences.OfType<string>());
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The forecast.</param>
    public static Chart Of(FailureForecastReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        int height = FramePixels + (RowPixels * Math.Max(1, Drawn(report).Count));
        return new Chart(
            report.By == ForecastBy.Month ? "forecast-month" : "forecast",
            Title(report),
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, height),
            ChartStyle.NarrowBars(FramePixels, RowPixels, NarrowNames(report)))
        {
            Values = _ => [.. Drawn(report).Select((row, i) => new ChartValue(
                row.Expected,
                -i,
                Fill.In(
                    Texts.Value, [("expected", Text.Number(row.Expected)), .. Bounds(row), ("share", Text.Share(report.Level)), ("name", Name(report.By, row))])))],
        };
    }

    private static string[] NarrowNames(FailureForecastReport report) => [.. Drawn(report).Select(row => Text.InLines(ShortName(report.By, row), 15))];

    /// <summary>Draws the rows.</summary>
    /// <param name="report">The forecast.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the row at index i stands at y = −i.</returns>
    public static Plot Plot(FailureForecastReport report, ChartShape shape)
    {
        IReadOnlyList<ForecastRow> rows = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        string what = report.By == ForecastBy.Month ? Texts.InMonth : Texts.Within.For(report.Days);
        Plot plot = ChartStyle.NewPlot(wide ? Fill.In(Texts.LineSure, ("what", what), ("share", Text.Share(report.Level))) : what, string.Empty);
        for (int i = 0; i < rows.Count; i++)
        {
            AddRow(plot, -i, rows[i]);
        }

        double limit = Math.Max(1, rows.Select(row => Math.Max(row.Expected, row.Upper)).DefaultIfEmpty(1).Max());
        ChartStyle.NameBars(plot, wide ? [.. rows.Select(row => report.By == ForecastBy.PartNumber ? Text.FirstParts(Name(report.By, row), 42) : Text.Cut(Name(report.By, row), 42))] : NarrowNames(report));
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(limit, wide ? 7 : 3);
        plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.SetLimits(
            -RoomForZero * limit, limit * (wide ? RoomForWordsWide : RoomForWordsNarrow), -Math.Max(1, rows.Count) + 0.4, 0.6);
        return plot;
    }

    /// <summary>How a row is called: a part number with its part, others by their names.</summary>
    /// <param name="by">By what the rows are split.</param>
    /// <param name="row">The row.</param>
    public static string Name(ForecastBy by, ForecastRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return by == ForecastBy.PartNumber && row.Name.Length > 0 && row.Name != row.Key ? row.Key + ", " + row.Name
            : row.Name.Length > 0 ? row.Name : row.Key;
    }

    private static string ShortName(ForecastBy by, ForecastRow row) => by switch
    {
        ForecastBy.PartNumber => row.Key,
        ForecastBy.Month when DateOnly.TryParseExact(row.Key + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) =>
            Text.ShortMonthYear(day),
        _ => Name(by, row),
    };

    private static (string Name, string Value)[] Bounds(ForecastRow row) => [("lower", Text.Count(row.Lower)), ("upper", Text.Count(row.Upper))];

    private static void AddRow(Plot plot, double y, ForecastRow row)
    {
        double end = Math.Max(row.Expected, row.Upper);
        if (row.Upper >= row.Lower && row.Lower >= 0)
        {
            var interval = plot.Add.Line(row.Lower, y, row.Upper, y);
            interval.Color = ChartStyle.Colour(Inks.Kept);
            interval.LineWidth = 3;
        }

        plot.Add.Marker(row.Expected, y, MarkerShape.FilledCircle, 9, ChartStyle.Colour(Inks.Fitted));
        ChartStyle.AddWords(plot, Text.Number(row.Expected), end, y, Inks.Text).OffsetX = 8;
    }
}
