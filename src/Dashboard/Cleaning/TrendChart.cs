using ScottPlot;
using ScottPlot.TickGenerators;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>On-time share week by week as points with bounds.</summary>
public static class TrendChart
{
    private const double Step = 0.1;

    private static TrendTexts Texts => ComplianceTexts.Now.Trend;

    /// <summary>The weeks that are drawn: those with a share.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Position from 0 and the week, oldest first.</returns>
    public static IReadOnlyList<(int At, TrendWeek Week)> Drawn(TrendReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Weeks.Select((week, at) => (at, week)).Where(pair => pair.week.OnTimeShare is { } share && double.IsFinite(share.Value))];
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report; at least one week with a share.</param>
    /// <returns>Points joined by a line, bounds as bars, weeks from left to right.</returns>
    public static Chart Of(TrendReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return new Chart(
            "trend", Texts.Title, report.Sentence, shape => Plot(report, shape), new ChartSize(860, 300), new ChartSize(360, 280))
        {
            Values = _ => [.. Drawn(report).Select(pair => new ChartValue(pair.At, pair.Week.OnTimeShare!.Value, Words(pair.Week)))],
        };
    }

    /// <summary>Draws the weeks.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the week at index i stands at x = i.</returns>
    public static Plot Plot(TrendReport report, ChartShape shape)
    {
        IReadOnlyList<(int At, TrendWeek Week)> drawn = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        Plot plot = ChartStyle.NewPlot(wide ? Texts.WeekAxisWide : Texts.WeekAxisNarrow, wide ? Texts.ShareAxisWide : Texts.ShareAxisNarrow);
        foreach ((int at, TrendWeek week) in drawn)
        {
            if (week.OnTimeShare is { Lower: { } lower, Upper: { } upper } && double.IsFinite(lower) && double.IsFinite(upper))
            {
                var bound = plot.Add.Line(at, lower, at, upper);
                bound.Color = ChartStyle.Colour(Inks.ObservedBound);
                bound.LineWidth = 3;
            }
        }

        var line = plot.Add.Scatter(drawn.Select(pair => (double)pair.At).ToArray(), drawn.Select(pair => pair.Week.OnTimeShare!.Value).ToArray());
        line.Color = ChartStyle.Colour(Inks.Observed);
        line.LineWidth = ChartStyle.DataLine;
        line.MarkerSize = 8;
        double floor = Math.Max(0, (Math.Floor(drawn.Select(pair => pair.Week.OnTimeShare!.Lower is { } low && double.IsFinite(low) ? low : pair.Week.OnTimeShare.Value)
            .DefaultIfEmpty(0).Min() / Step) - 1) * Step);
        plot.Axes.Left.TickGenerator = ChartStyle.ShareTicks(floor < 0.5 ? 2 * Step : Step);
        plot.Axes.Bottom.TickGenerator = Weeks(report.Weeks, wide ? 7 : 3);
        plot.Axes.SetLimits(-0.6, Math.Max(1, report.Weeks.Count) - 0.4, floor, 1.02);
        return plot;
    }

    private static string Words(TrendWeek week) => Fill.In(
        Texts.Value, ("date", Text.Date(week.From, "Etc/UTC")), ("share", Text.Share(week.OnTimeShare)), ("on_time", Text.Count(week.OnTime)), ("due", Text.Count(week.Due)));

    private static NumericManual Weeks(IReadOnlyList<TrendWeek> weeks, int about)
    {
        var ticks = new NumericManual();
        int step = Math.Max(1, (int)Math.Ceiling(weeks.Count / (double)about));
        for (int i = weeks.Count - 1; i >= 0; i -= step)
        {
            ticks.AddMajor(i, Text.DayMonth(DateOnly.FromDateTime(weeks[i].From.UtcDateTime)));
        }

        return ticks;
    }
}
