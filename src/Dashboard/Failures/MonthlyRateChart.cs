using System.Globalization;
using ScottPlot;
using ScottPlot.TickGenerators;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Failures a unit a year, month by month: points with exact bounds, and the rate of the whole window as a line.</summary>
public static class MonthlyRateChart
{
    // A month cut short by the window has bounds that would flatten all others: the axis ends here, the table has the bound.
    private const double TopByHighestRate = 2.5;
    private const double Headroom = 1.06;

    // Right of the last month its name needs more than half a month.
    private const double RoomForLastName = 0.3;

    /// <summary>The months that are drawn: those with a rate.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Position from 0 and the month, oldest first.</returns>
    public static IReadOnlyList<(int At, FailureMonth Month)> Drawn(FailureTrendReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Months.Select((month, at) => (at, month))
            .Where(pair => pair.month.RatePerUnitYear is { } rate && double.IsFinite(rate.Value))];
    }

    /// <summary>What the chart shows, in one sentence or two.</summary>
    /// <param name="report">The report.</param>
    /// <returns>How to read it, with the highest month.</returns>
    public static string Sentence(FailureTrendReport report)
    {
        IReadOnlyList<(int At, FailureMonth Month)> drawn = Drawn(report);
        if (drawn.Count == 0)
        {
            return Texts.Nothing;
        }

        FailureMonth highest = drawn.Select(pair => pair.Month)
            .OrderBy(IsPart).ThenByDescending(month => month.RatePerUnitYear!.Value).First();
        (string Name, string Value)[] top = [("month", Name(highest)), ("rate", Text.Number(highest.RatePerUnitYear!.Value))];
        string?[] sentences =
        [
            Texts.Reading,
            Whole(report) is { } whole ? Fill.In(Texts.HighestAndWhole, [.. top, ("whole", Text.Number(whole))]) : Fill.In(Texts.Highest, top),
            drawn.Any(pair => IsPart(pair.Month)) ? Texts.Hollow : null,
            IsCut(report) ? Texts.Cut : null,
        ];
        return string.Join(' ', sentences.Where(sentence => sentence is not null));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Points with bars, months from left to right.</returns>
    public static Chart Of(FailureTrendReport report) => new(
        "monthly",
        Texts.Title,
        Sentence(report),
        shape => Plot(report, shape),
        new ChartSize(860, 300),
        new ChartSize(360, 300))
    {
        Values = _ => [.. Drawn(report).Select(pair => new ChartValue(pair.At, pair.Month.RatePerUnitYear!.Value, Words(pair.Month)))],
    };

    private static MonthlyChartTexts Texts => FailureTrendTexts.Now.Chart;

    private static string Words(FailureMonth month) => (IsPart(month) ? Texts.ValueOfAPart : Texts.Value)
        .For(month.Failures, ("month", Name(month)), ("rate", Text.Estimated(month.RatePerUnitYear)));

    /// <summary>Draws the months.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the month at index i stands at x = i.</returns>
    public static Plot Plot(FailureTrendReport report, ChartShape shape)
    {
        IReadOnlyList<(int At, FailureMonth Month)> drawn = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        Plot plot = ChartStyle.NewPlot(
            wide ? Texts.XAxis : string.Empty, wide ? Texts.YAxisWide : Texts.YAxis);
        AddWhole(plot, report);
        foreach ((int at, FailureMonth month) in drawn)
        {
            if (month.RatePerUnitYear is { Lower: { } lower, Upper: { } upper } && double.IsFinite(lower) && double.IsFinite(upper))
            {
                var bound = plot.Add.Line(at, lower, at, upper);
                bound.Color = ChartStyle.Colour(Inks.ObservedBound);
                bound.LineWidth = 3;
            }
        }

        var line = plot.Add.Scatter(drawn.Select(pair => new Coordinates(pair.At, pair.Month.RatePerUnitYear!.Value)).ToArray());
        line.Color = ChartStyle.Colour(Inks.Observed);
        line.LineWidth = ChartStyle.DataLine;
        line.MarkerSize = 0;
        foreach ((int at, FailureMonth month) in drawn)
        {
            AddPoint(plot, at, month);
        }

        double top = Top(report);
        plot.Axes.Left.TickGenerator = ChartStyle.RoundTicks(top, 5);
        plot.Axes.Bottom.TickGenerator = Months(report.Months, wide ? 8 : 3);
        plot.Axes.SetLimits(-0.6, Math.Max(1, report.Months.Count) - RoomForLastName, 0, top);
        return plot;
    }

    /// <summary>Where the axis of rates ends.</summary>
    /// <param name="report">The report.</param>
    /// <returns>The highest bound, but no more than 2.5 times the highest rate; 1 where every rate is 0 and unbounded.</returns>
    public static double Top(FailureTrendReport report)
    {
        double rate = Highest(report, month => month.RatePerUnitYear!.Value);
        double bound = Highest(report, month => month.RatePerUnitYear!.Upper);
        double top = rate > 0 ? Math.Min(Math.Max(bound, rate), TopByHighestRate * rate) : Lowest(report);
        return Headroom * (top > 0 ? top : 1);
    }

    /// <summary>A month's name, such as 'Mar 2026'.</summary>
    /// <param name="month">The month.</param>
    /// <returns>Month and year.</returns>
    public static string Name(FailureMonth month)
    {
        ArgumentNullException.ThrowIfNull(month);
        return DateOnly.TryParseExact(month.Month + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
            ? Text.ShortMonthYear(day)
            : Text.Cut(month.Month, 12);
    }

    /// <summary>Whether a month is cut by the window.</summary>
    /// <param name="month">The month.</param>
    /// <returns>True where it does not begin or does not end with a month by UTC.</returns>
    public static bool IsPart(FailureMonth month)
    {
        ArgumentNullException.ThrowIfNull(month);
        return month.From.UtcDateTime is not { Day: 1, TimeOfDay.Ticks: 0 } || month.To.UtcDateTime is not { Day: 1, TimeOfDay.Ticks: 0 };
    }

    private static void AddPoint(Plot plot, double at, FailureMonth month)
    {
        double rate = month.RatePerUnitYear!.Value;
        if (IsPart(month))
        {
            plot.Add.Marker(at, rate, MarkerShape.FilledCircle, 10, ChartStyle.Colour(Inks.Observed));
            plot.Add.Marker(at, rate, MarkerShape.FilledCircle, 6, ChartStyle.Colour(Inks.Paper));
        }
        else
        {
            plot.Add.Marker(at, rate, MarkerShape.FilledCircle, 8, ChartStyle.Colour(Inks.Observed));
        }
    }

    private static bool IsCut(FailureTrendReport report) =>
        Highest(report, month => month.RatePerUnitYear!.Upper) > Top(report);

    private static double Highest(FailureTrendReport report, Func<FailureMonth, double?> value) =>
        Drawn(report).Select(pair => value(pair.Month)).OfType<double>().Where(double.IsFinite).DefaultIfEmpty(0).Max();

    // With no failure at all the least upper bound is that of the month watched longest.
    private static double Lowest(FailureTrendReport report) => TopByHighestRate
        * Drawn(report).Select(pair => pair.Month.RatePerUnitYear!.Upper).OfType<double>().Where(double.IsFinite).DefaultIfEmpty(0).Min();

    private static double? Whole(FailureTrendReport report)
    {
        double years = report.Months.Select(month => month.UnitYears).Where(double.IsFinite).Sum();
        return years > 0 ? report.Months.Sum(month => (double)month.Failures) / years : null;
    }

    private static void AddWhole(Plot plot, FailureTrendReport report)
    {
        if (Whole(report) is { } whole && double.IsFinite(whole))
        {
            var line = plot.Add.HorizontalLine(whole);
            line.Color = ChartStyle.Colour(Inks.NotOwed);
            line.LineWidth = ChartStyle.BoundLine;
            line.LinePattern = LinePattern.DenselyDashed;
        }
    }

    private static NumericManual Months(IReadOnlyList<FailureMonth> months, int about)
    {
        var ticks = new NumericManual();
        int step = Math.Max(1, (int)Math.Ceiling(months.Count / (double)about));
        for (int i = months.Count - 1; i >= 0; i -= step)
        {
            ticks.AddMajor(i, Name(months[i]));
        }

        return ticks;
    }
}
