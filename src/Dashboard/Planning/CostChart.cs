using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Cost a year against the age at which a part is replaced, the ages that cost about the same, and what running to failure costs.</summary>
public static class CostChart
{
    private const int MostValues = 60;

    // Costs above this multiple of running to failure belong to ages that nobody considers.
    private const double Highest = 2;

    private static PartsCurveTexts Texts => PlanPartsTexts.Now.Curve;

    /// <summary>What runs along the axis of costs.</summary>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static string CostAxis(string? currency) => currency is null ? Texts.CostAYear : Fill.In(Texts.CostAYearIn, ("currency", currency));

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="row">The row.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static string Sentence(ReplacementRow row, string? currency)
    {
        ArgumentNullException.ThrowIfNull(row);
        string lowest = Fill.In(
            row.Verdict == PlanVerdict.ReplaceAtAge ? Texts.Lowest : Texts.NoAge,
            ("age", Text.Number(row.Age?.Value)),
            ("clock", Text.ClockUnitAfter(row.Clock)),
            ("cost", PlanWords.Money(row.CostPerYear, currency)),
            ("run", PlanWords.Money(row.RunToFailureCostPerYear, currency)));
        return row.Verdict == PlanVerdict.ReplaceAtAge && Flat(row) is { Length: > 0 } flat ? lowest + " " + flat : lowest;
    }

    /// <summary>The chart.</summary>
    /// <param name="row">The row, with a cost curve.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    public static Chart Of(ReplacementRow row, string? currency)
    {
        ArgumentNullException.ThrowIfNull(row);
        return new Chart(
            "cost",
            Fill.In(Texts.Title, ("position", Text.Cut(row.PositionName, 40))),
            Sentence(row, currency),
            shape => Plot(row, currency, shape),
            new ChartSize(860, 380),
            new ChartSize(360, 340))
        {
            Values = _ => [.. ChartValues.Thinned(Drawn(row), MostValues).Select(point => new ChartValue(point.Age, point.CostPerYear,
                Fill.In(
                    Texts.Value,
                    ("age", Text.Number(point.Age)),
                    ("clock", Text.ClockUnitAfter(row.Clock)),
                    ("cost", PlanWords.Money(point.CostPerYear, currency)))))],
            Numbers = new ChartNumbers(
                ["age_" + (row.Clock ?? "days"), "cost_per_year" + (currency is null ? null : "_" + currency)],
                [.. row.CostCurve.Select(point => new object?[] { point.Age, point.CostPerYear })]),
        };
    }

    /// <summary>The points that are drawn: finite, and not far above running to failure.</summary>
    /// <param name="row">The row.</param>
    public static IReadOnlyList<CostPoint> Drawn(ReplacementRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        double most = Highest * (row.RunToFailureCostPerYear is { } run && double.IsFinite(run) && run > 0 ? run : double.PositiveInfinity);
        return [.. row.CostCurve.Where(point => double.IsFinite(point.Age) && double.IsFinite(point.CostPerYear) && point.CostPerYear <= most)];
    }

    /// <summary>Draws curve, flat range and the line of running to failure.</summary>
    /// <param name="row">The row.</param>
    /// <param name="currency">Currency of all money; null: not told.</param>
    /// <param name="shape">The room it is drawn for.</param>
    public static Plot Plot(ReplacementRow row, string? currency, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(row);
        Plot plot = ChartStyle.NewPlot(Text.AgeAxis(row.Clock), CostAxis(currency is null ? null : Text.Cut(currency, 8)));
        IReadOnlyList<CostPoint> points = Drawn(row);
        double right = points.Count > 0 ? points.Max(point => point.Age) : 1;
        double top = points.Count > 0 ? points.Max(point => point.CostPerYear) : 1;
        if (row is { FlatFrom: { } from, Verdict: PlanVerdict.ReplaceAtAge } && double.IsFinite(from))
        {
            var flat = plot.Add.HorizontalSpan(from, Math.Min(right, row.FlatTo is { } to && double.IsFinite(to) ? to : right));
            flat.FillColor = ChartStyle.Colour(Inks.FittedBand);
            flat.LineWidth = 0;
            flat.LegendText = Texts.Same;

            // The band alone is too faint to tell by its shade; the drawing library's own edges of a span come without a pattern in SVG.
            foreach (double edge in new[] { from, Math.Min(right, row.FlatTo is { } last && double.IsFinite(last) ? last : right) })
            {
                Line(plot, [new(edge, 0), new(edge, top * 1.05)], Inks.Kept, ChartStyle.BoundLine, string.Empty, LinePattern.Dotted);
            }
        }

        if (row.RunToFailureCostPerYear is { } run && double.IsFinite(run))
        {
            Line(plot, [new(0, run), new(right, run)], Inks.Observed, ChartStyle.BoundLine, Texts.Run, LinePattern.Dashed);
        }

        Line(plot, [.. points.Select(point => new Coordinates(point.Age, point.CostPerYear))], Inks.Fitted, ChartStyle.DataLine, Texts.AtThatAge);
        AddBest(plot, row);
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(right, shape == ChartShape.Wide ? 8 : 4);
        plot.Axes.Left.TickGenerator = ChartStyle.RoundTicks(top * 1.05, 5);
        plot.Axes.SetLimits(0, right, 0, top * 1.05);
        ChartStyle.Legend(plot, Alignment.LowerRight);
        return plot;
    }

    /// <summary>Between which ages it makes no difference, in a sentence.</summary>
    /// <param name="row">The row.</param>
    /// <returns>Empty where it is not known.</returns>
    public static string Flat(ReplacementRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.FlatFrom is not { } from || !double.IsFinite(from) ? string.Empty
            : Fill.In(
                row.FlatTo is { } to && double.IsFinite(to) ? Texts.Between : Texts.From,
                ("from", Text.Number(from)),
                ("to", Text.Number(row.FlatTo)),
                ("clock", Text.ClockUnitAfter(row.Clock)));
    }

    private static void AddBest(Plot plot, ReplacementRow row)
    {
        if (row is { Verdict: PlanVerdict.ReplaceAtAge, Age.Value: var age, CostPerYear: { } cost } && double.IsFinite(age) && double.IsFinite(cost))
        {
            var best = plot.Add.Marker(age, cost, MarkerShape.FilledCircle, 11, ChartStyle.Colour(Inks.Fitted));
            best.LegendText = Texts.Cheapest;
        }
    }

    private static void Line(Plot plot, Coordinates[] points, Ink ink, float width, string legend, LinePattern? pattern = null)
    {
        var line = plot.Add.ScatterLine(points);
        line.Color = ChartStyle.Colour(ink);
        line.LineWidth = width;
        line.LinePattern = pattern ?? LinePattern.Solid;
        line.LegendText = legend;
    }
}
