using ScottPlot;
using ScottPlot.TickGenerators;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>
/// Failures on Weibull probability paper: log age against ln(−ln(1 − p)), on which a Weibull distribution is a straight line
/// whose slope is the shape. Convention: IEC 61649 (two-parameter Weibull paper).
/// </summary>
public static class WeibullPlot
{
    private const int MostValues = 80;

    private static readonly double[] PaperProbabilities =
        [0.0001, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.632, 0.8, 0.9, 0.95, 0.99, 0.999];

    // The labels of a phone stay apart at these.
    private static readonly double[] NarrowProbabilities = [0.0001, 0.001, 0.01, 0.05, 0.1, 0.3, 0.632, 0.9, 0.99];

    /// <summary>Height on the paper of a probability of failing.</summary>
    /// <param name="probability">Probability, above 0 and below 1.</param>
    /// <returns>ln(−ln(1 − p)).</returns>
    /// <remarks>−ln(1 − p) = 2 artanh(p / (2 − p)), which keeps its digits where p is small; 1 − p would lose them.</remarks>
    public static double Height(double probability) => Math.Log(2 * Math.Atanh(probability / (2 - probability)));

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Slope and what it says.</returns>
    public static string Sentence(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Weibull is { } fit
            ? Fill.In(Texts.Reading, ("shape", Text.Estimated(fit.Shape)))
            : Texts.TooFew;
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report; at least one plotting point.</param>
    /// <returns>Age on a logarithmic axis against probability of failing on Weibull paper.</returns>
    public static Chart Of(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return new Chart(
            "probability",
            Fill.In(Texts.Title, ("position", Text.Cut(report.PositionName, 40))),
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, 460),
            new ChartSize(360, 400))
        {
            Values = _ => [.. ChartValues.Thinned(OnPaper(report), MostValues).Select(point => new ChartValue(
                Math.Log10(point.Age), Height(point.Probability), Words(report, point)))],
            Numbers = new ChartNumbers(
                ["age_" + (report.Basis.Clock ?? "days"), "failed_share", "adjusted_rank"],
                [.. report.PlottingPoints.Select(point => new object?[] { point.Age, point.Probability, point.AdjustedRank })]),
        };
    }

    /// <summary>Points that can stand on the paper, as log10 of age and height.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Coordinates in the report's order.</returns>
    public static IReadOnlyList<Coordinates> Points(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. OnPaper(report).Select(point => new Coordinates(Math.Log10(point.Age), Height(point.Probability)))];
    }

    private static ProbabilityPlotTexts Texts => PartLifeFitTexts.Now.Plot;

    private static string Words(PartLifeReport report, PlottingPoint point) => Fill.In(
        Texts.Value, ("age", Text.Number(point.Age)), ("clock", Text.ClockUnit(report.Basis.Clock)), ("share", Text.Share(point.Probability)));

    private static PlottingPoint[] OnPaper(PartLifeReport report) =>
        [.. report.PlottingPoints.Where(point => point.Age > 0 && double.IsFinite(point.Age) && point.Probability is > 0 and < 1)];

    /// <summary>Draws the paper, the points, the line and its bounds.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot.</returns>
    public static Plot Plot(PartLifeReport report, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(report);
        Plot plot = ChartStyle.NewPlot(Fill.In(Texts.XAxis, ("age", Text.AgeAxis(report.Basis.Clock))), Texts.YAxis);
        IReadOnlyList<Coordinates> points = Points(report);
        AxisLimits limits = Limits(points);
        AddFit(plot, report, limits);
        if (points.Count > 0)
        {
            var marks = plot.Add.ScatterPoints(ChartPoints.Seen(points, limits.HorizontalSpan, limits.VerticalSpan, shape).ToArray());
            marks.Color = ChartStyle.Colour(Inks.Point);
            marks.MarkerShape = MarkerShape.FilledCircle;
            marks.MarkerSize = points.Count > 60 ? 5 : 8;
            marks.LegendText = Texts.LegendFailures;
        }

        plot.Axes.Left.TickGenerator = ProbabilityTicks(shape, limits);
        plot.Axes.Bottom.TickGenerator = AgeTicks(shape, limits);
        plot.Axes.SetLimits(limits);
        ChartStyle.Legend(plot, Alignment.LowerRight);
        return plot;
    }

    /// <summary>Limits of the paper: all points with room around, at least a factor of four in age.</summary>
    /// <param name="points">The points.</param>
    /// <returns>Limits in log10 of age and in height.</returns>
    public static AxisLimits Limits(IReadOnlyList<Coordinates> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        const double AgeRoom = 0.15;
        double left = points.Count == 0 ? 0 : points.Min(point => point.X);
        double right = points.Count == 0 ? 1 : points.Max(point => point.X);
        double slack = Math.Max(AgeRoom, (Math.Log10(4) - (right - left)) / 2);
        double bottom = points.Count == 0 ? Height(0.01) : points.Min(point => point.Y);
        double top = points.Count == 0 ? Height(0.9) : points.Max(point => point.Y);
        return new AxisLimits(left - slack, right + slack, bottom - 0.7, Math.Max(top + 0.5, bottom + 1));
    }

    private static void AddFit(Plot plot, PartLifeReport report, AxisLimits limits)
    {
        if (report.Weibull is not { } fit || fit.Shape.Value is not > 0 || fit.Scale.Value is not > 0)
        {
            return;
        }

        AddBounds(plot, report);
        double logScale = Math.Log(fit.Scale.Value);
        Coordinates[] line = [.. new[] { limits.Left, limits.Right }
            .Select(x => new Coordinates(x, fit.Shape.Value * ((x * Math.Log(10)) - logScale)))];
        AddLine(plot, line, Inks.Fitted, ChartStyle.DataLine, PartLifeFitTexts.Now.Survival.LegendFit);
    }

    private static void AddBounds(Plot plot, PartLifeReport report)
    {
        Coordinates[] low = [.. Bound(report, point => point.Lower)];
        Coordinates[] high = [.. Bound(report, point => point.Upper)];
        if (low.Length > 1)
        {
            AddLine(plot, low, Inks.Kept, ChartStyle.BoundLine, PartLifeFitTexts.Now.Survival.LegendFitBounds, LinePattern.Dashed);
        }

        if (high.Length > 1)
        {
            AddLine(plot, high, Inks.Kept, ChartStyle.BoundLine, string.Empty, LinePattern.Dashed);
        }
    }

    private static IEnumerable<Coordinates> Bound(PartLifeReport report, Func<CurvePoint, double?> survival) => report.Curve
        .Where(point => point.Age > 0 && survival(point) is > 0 and < 1)
        .Select(point => new Coordinates(Math.Log10(point.Age), Height(1 - survival(point)!.Value)));

    private static void AddLine(Plot plot, Coordinates[] points, Ink ink, float width, string legend, LinePattern? pattern = null)
    {
        var line = plot.Add.ScatterLine(points);
        line.Color = ChartStyle.Colour(ink);
        line.LineWidth = width;
        line.LinePattern = pattern ?? LinePattern.Solid;
        line.LegendText = legend;
    }

    private static NumericManual ProbabilityTicks(ChartShape shape, AxisLimits limits)
    {
        var ticks = new NumericManual();
        foreach (double p in shape == ChartShape.Wide ? PaperProbabilities : NarrowProbabilities)
        {
            if (Height(p) >= limits.Bottom && Height(p) <= limits.Top)
            {
                ticks.AddMajor(Height(p), Text.Tick(p * 100) + " %");
            }
        }

        return ticks;
    }

    // Labels at 1, 2 and 5 of each power of ten; where these would stand on each other at 1 and 3; over more than three powers at the powers alone.
    private static NumericManual AgeTicks(ChartShape shape, AxisLimits limits)
    {
        var ticks = new NumericManual();
        double powers = limits.Right - limits.Left;
        double[] leads = powers > 3 ? [1] : shape == ChartShape.Narrow && powers > 1.4 ? [1, 3] : [1, 2, 5];
        for (int power = (int)Math.Floor(limits.Left); power <= limits.Right; power++)
        {
            foreach (double lead in leads)
            {
                double age = lead * Math.Pow(10, power);
                if (Math.Log10(age) >= limits.Left && Math.Log10(age) <= limits.Right)
                {
                    ticks.AddMajor(Math.Log10(age), Text.Tick(age));
                }
            }
        }

        return ticks;
    }
}
