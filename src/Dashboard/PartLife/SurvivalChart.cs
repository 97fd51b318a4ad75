using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>Share of parts still working by age: what was observed as steps with bounds, the fitted model as a curve with a band.</summary>
public static class SurvivalChart
{
    private const int MostValues = 40;

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="report">The report.</param>
    /// <returns>The half-life of the fit, or the lowest observed share.</returns>
    public static string Sentence(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        (string Name, string Value) unit = ("clock", Text.ClockUnitAfter(report.Basis.Clock));
        return report.Weibull is { } fit
            ? Fill.In(Texts.OfAHundred, ("b10", Text.Number(fit.B10.Value)), ("b50", Text.Number(fit.B50.Value)), unit)
            : report.KaplanMeier.Count == 0
            ? Fill.In(Texts.NoneFailed, ("age", Text.Number(report.Counts.LongestAge)), unit)
            : Fill.In(
                Texts.TooFew, ("age", Text.Number(report.KaplanMeier[^1].Age)), unit, ("share", Text.Share(report.KaplanMeier[^1].Survival)));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Age on the report's clock against the share still working.</returns>
    public static Chart Of(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return new Chart(
            "survival",
            Fill.In(Texts.Title, ("position", Text.Cut(report.PositionName, 40))),
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, 420),
            new ChartSize(360, 416))
        {
            Values = _ => [.. Values(report).OrderBy(value => value.X)],
        };
    }

    private static IEnumerable<ChartValue> Values(PartLifeReport report)
    {
        string Words(string text, double age, string share) =>
            Fill.In(text, ("age", Text.Number(age)), ("clock", Text.ClockUnit(report.Basis.Clock)), ("share", share));
        IEnumerable<ChartValue> seen = ChartValues.Thinned(report.KaplanMeier, MostValues).Select(step => new ChartValue(
            step.Age, step.Survival, Words(Texts.SeenValue, step.Age, Between(step.Survival, step.Lower, step.Upper))));
        IEnumerable<ChartValue> fitted = ChartValues.Thinned(FromBirth(report), MostValues).Select(point => new ChartValue(
            point.Age, point.Survival, Words(Texts.FittedValue, point.Age, Between(point.Survival, point.Lower, point.Upper))));
        double longest = AgeLimit(report);
        return report.KaplanMeier.Count + report.Curve.Count > 0
            ? seen.Concat(fitted)
            : [new ChartValue(longest, 1, Words(Texts.NoFailureValue, longest, string.Empty))];
    }

    /// <summary>What the steps are, told of one in the middle.</summary>
    /// <param name="report">The report.</param>
    /// <returns>A paragraph each.</returns>
    public static IReadOnlyList<string?> Help(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.KaplanMeier.Count == 0 ? [Texts.Help] : [Texts.Help, Here(report, report.KaplanMeier[report.KaplanMeier.Count / 2])];
    }

    private static SurvivalTexts Texts => PartLifeFitTexts.Now.Survival;

    private static string Here(PartLifeReport report, KaplanMeierStep step) => Fill.In(
        Texts.HelpHere,
        ("age", Text.Number(step.Age)), ("clock", Text.ClockUnitAfter(report.Basis.Clock)), ("failed", Text.Count(step.Failures)), ("watched", Text.Count(step.AtRisk)),
        ("share", Between(step.Survival, step.Lower, step.Upper)), ("level", Text.Share(report.Weibull?.B10.Level ?? PartLifeChoice.UsualLevel)));

    private static string Between(double share, double? lower, double? upper) => lower is null || upper is null
        ? Text.Share(share)
        : Fill.In(Texts.ShareWithBounds, ("share", Text.Share(share)), ("lower", Text.Share(lower)), ("upper", Text.Share(upper)));

    /// <summary>Draws curve and steps.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot: x from 0 to the greatest age, y from 0 to 1.</returns>
    public static Plot Plot(PartLifeReport report, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(report);
        Plot plot = ChartStyle.NewPlot(Text.AgeAxis(report.Basis.Clock), Texts.Axis);
        double limit = AgeLimit(report);
        AddFit(plot, report);
        AddSteps(plot, report, limit, shape);
        plot.Axes.Left.TickGenerator = ChartStyle.ShareTicks(shape == ChartShape.Wide ? 0.1 : 0.25);
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(limit, shape == ChartShape.Wide ? 8 : 4);
        plot.Axes.SetLimits(0, limit, 0, 1.005);
        if (shape == ChartShape.Narrow)
        {
            ChartStyle.LegendBelow(plot);
        }
        else
        {
            ChartStyle.Legend(plot, FallsEarly(report, limit) ? Alignment.UpperRight : Alignment.LowerLeft);
        }

        return plot;
    }

    /// <summary>The corners of the steps, from age 0 to the greatest age under watch.</summary>
    /// <param name="report">The report.</param>
    /// <param name="value">Which value of a step: survival or one of its bounds; null stops the line.</param>
    /// <returns>Corners in order of age.</returns>
    public static IReadOnlyList<Coordinates> Corners(PartLifeReport report, Func<KaplanMeierStep, double?> value)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(value);
        var corners = new List<Coordinates> { new(0, 1) };
        foreach (KaplanMeierStep step in report.KaplanMeier)
        {
            if (value(step) is not { } level || !double.IsFinite(level))
            {
                break;
            }

            corners.Add(new Coordinates(step.Age, corners[^1].Y));
            corners.Add(new Coordinates(step.Age, level));
        }

        bool whole = corners.Count == 1 + (2 * report.KaplanMeier.Count);
        if (whole && report.Counts.LongestAge > corners[^1].X)
        {
            corners.Add(new Coordinates(report.Counts.LongestAge, corners[^1].Y));
        }

        return corners;
    }

    /// <summary>Where the age axis ends.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Greatest age drawn, above 0.</returns>
    public static double AgeLimit(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        IEnumerable<double> ages =
            [report.Counts.LongestAge, .. report.KaplanMeier.Select(step => step.Age), .. report.Curve.Select(point => point.Age)];
        double greatest = ages.Where(double.IsFinite).DefaultIfEmpty(0).Max();
        return greatest > 0 ? greatest : 1;
    }

    // The legend stands in the corner that the curve leaves free; a phone has no corner of that size.
    private static bool FallsEarly(PartLifeReport report, double limit)
    {
        KaplanMeierStep? middle = report.KaplanMeier.LastOrDefault(step => step.Age <= limit / 2);
        return middle is not null && middle.Survival < 0.4;
    }

    /// <summary>The fitted curve from age 0, at which every part works.</summary>
    /// <param name="report">The report.</param>
    /// <returns>The report's curve, with its first point put before it where it begins later; empty without a fit.</returns>
    public static IReadOnlyList<CurvePoint> FromBirth(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Curve.Count > 0 && report.Curve[0].Age > 0 ? [new CurvePoint(0, 1, 1, 1), .. report.Curve] : report.Curve;
    }

    private static void AddFit(Plot plot, PartLifeReport report)
    {
        CurvePoint[] banded = [.. FromBirth(report).Where(point => point is { Lower: { } low, Upper: { } high }
            && double.IsFinite(low) && double.IsFinite(high))];
        if (banded.Length > 1)
        {
            var band = plot.Add.FillY(
                banded.Select(point => point.Age).ToArray(),
                banded.Select(point => point.Lower!.Value).ToArray(),
                banded.Select(point => point.Upper!.Value).ToArray());
            band.FillColor = ChartStyle.Colour(Inks.FittedBand);
            band.LineWidth = 0;
            band.MarkerShape = MarkerShape.None;
            band.LegendText = Texts.LegendFitBounds;

            // The band alone is too faint to tell by its shade; the drawing library complains of a pattern around an area.
            AddLine(plot, banded.Select(point => new Coordinates(point.Age, point.Lower!.Value)), Inks.Kept, ChartStyle.BoundLine, null, LinePattern.Dotted);
            AddLine(plot, banded.Select(point => new Coordinates(point.Age, point.Upper!.Value)), Inks.Kept, ChartStyle.BoundLine, null, LinePattern.Dotted);
        }

        if (report.Curve.Count > 1)
        {
            IEnumerable<Coordinates> points = FromBirth(report).Select(point => new Coordinates(point.Age, point.Survival));
            AddLine(plot, points, Inks.Fitted, ChartStyle.DataLine, Texts.LegendFit, LinePattern.Dashed);
        }
    }

    private static void AddSteps(Plot plot, PartLifeReport report, double limit, ChartShape shape)
    {
        IReadOnlyList<Coordinates> Line(Func<KaplanMeierStep, double?> value) => ChartPoints.Seen(Corners(report, value), limit, 1, shape);
        if (report.KaplanMeier.Count > 0)
        {
            AddLine(plot, Line(step => step.Lower), Inks.ObservedBound, ChartStyle.BoundLine, Texts.LegendSeenBounds);
            AddLine(plot, Line(step => step.Upper), Inks.ObservedBound, ChartStyle.BoundLine, null);
        }

        AddLine(plot, Line(step => step.Survival), Inks.Observed, ChartStyle.DataLine, Texts.LegendSeen);
    }

    private static void AddLine(Plot plot, IEnumerable<Coordinates> points, Ink ink, float width, string? legend, LinePattern? pattern = null)
    {
        var line = plot.Add.ScatterLine(points.Where(point => double.IsFinite(point.X) && double.IsFinite(point.Y)).ToArray());
        line.Color = ChartStyle.Colour(ink);
        line.LineWidth = width;
        line.LinePattern = pattern ?? LinePattern.Solid;
        line.LegendText = legend ?? string.Empty;
    }
}
