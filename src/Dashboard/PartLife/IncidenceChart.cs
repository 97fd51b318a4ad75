using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.PartLife;

/// <summary>Share of parts that each failure mode has ended, by age, the modes competing.</summary>
public static class IncidenceChart
{
    private const int MostLines = 6;
    private const int MostValues = 40;
    private const double HeadroomOverTheHighest = 1.12;

    // Room for the name at the end of each line.
    private const double RoomForNames = 1.36;
    private const double LeastGap = 0.055;

    private static readonly Ink[] LineInks = [Inks.Fitted, Inks.Service, Inks.Observed, Inks.Kitchen, Inks.Unheard, Inks.NotOwed];

    /// <summary>The modes that are drawn: those with most failures.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Modes with at least one step, most failures first.</returns>
    public static IReadOnlyList<ModeRow> Drawn(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. (report.Modes?.Rows ?? []).Where(row => row.Incidence.Any(Finite)).OrderByDescending(row => row.Failures).Take(MostLines)];
    }

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="report">The report.</param>
    /// <returns>The mode that ends most parts, and by when.</returns>
    public static string Sentence(PartLifeReport report)
    {
        IReadOnlyList<ModeRow> rows = Drawn(report);
        if (rows.Count == 0)
        {
            return Texts.Nothing;
        }

        IncidencePoint last = rows[0].Incidence.Last(Finite);
        return Fill.In(
            Texts.Sentence,
            ("ended", Text.Share(last.Incidence)), ("mode", rows[0].Mode is { } mode ? Text.Inside(Text.Words(mode)) : Texts.UnnamedInside),
            ("age", Text.Number(last.Age)), ("clock", Text.ClockUnitAfter(report.Basis.Clock)));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Age against the share ended by each mode.</returns>
    public static Chart Of(PartLifeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return new Chart(
            "modes",
            Fill.In(Texts.Title, ("position", Text.Cut(report.PositionName, 40))),
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, 400),
            new ChartSize(360, 380))
        {
            Values = _ => [.. Drawn(report).SelectMany(row => ChartValues.Thinned([.. row.Incidence.Where(Finite)], MostValues)
                .Select(step => new ChartValue(step.Age, step.Incidence, Words(report, row, step))))],
        };
    }

    /// <summary>Draws a line of steps for each mode, with its name at the end.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot.</returns>
    public static Plot Plot(PartLifeReport report, ChartShape shape)
    {
        IReadOnlyList<ModeRow> rows = Drawn(report);
        Plot plot = ChartStyle.NewPlot(Text.AgeAxis(report.Basis.Clock), Texts.Axis);
        double limit = SurvivalChart.AgeLimit(report);
        double top = Math.Min(1, HeadroomOverTheHighest * rows.Select(row => row.Incidence.Last(Finite).Incidence).DefaultIfEmpty(1).Max());
        double nameAt = double.NegativeInfinity;
        foreach ((ModeRow row, int i) in rows.Select((row, i) => (row, i)).OrderBy(pair => pair.row.Incidence.Last(Finite).Incidence))
        {
            Coordinates[] corners = [.. ChartPoints.Seen([.. Corners(row, limit)], limit, top, shape)];
            var line = plot.Add.ScatterLine(corners);
            line.Color = ChartStyle.Colour(LineInks[i]);
            line.LineWidth = ChartStyle.DataLine;
            line.LinePattern = ChartStyle.Patterns[i];
            nameAt = Math.Max(corners[^1].Y, nameAt + (LeastGap * top * (shape == ChartShape.Wide ? 1 : 1.2)));
            ChartStyle.NameLine(plot, Text.Cut(Name(row), shape == ChartShape.Wide ? 26 : 14), new Coordinates(limit, nameAt), LineInks[i], ChartStyle.Patterns[i]);
        }

        plot.Axes.Left.TickGenerator = ChartStyle.ShareTicks(top > 0.5 ? 0.1 : top > 0.2 ? 0.05 : 0.02);
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(limit, shape == ChartShape.Wide ? 8 : 3);
        plot.Axes.SetLimits(0, limit * (shape == ChartShape.Wide ? RoomForNames : RoomForNames + 0.2), 0, Math.Max(top, nameAt + (LeastGap * top)));
        return plot;
    }

    /// <summary>The corners of one mode's steps, from age 0 to the greatest age.</summary>
    /// <param name="row">The mode.</param>
    /// <param name="limit">Greatest age drawn.</param>
    /// <returns>Corners in order of age.</returns>
    public static IEnumerable<Coordinates> Corners(ModeRow row, double limit)
    {
        ArgumentNullException.ThrowIfNull(row);
        double height = 0;
        yield return new Coordinates(0, 0);
        foreach (IncidencePoint step in row.Incidence.Where(Finite))
        {
            yield return new Coordinates(step.Age, height);
            yield return new Coordinates(step.Age, height = step.Incidence);
        }

        yield return new Coordinates(limit, height);
    }

    /// <summary>What a mode is called.</summary>
    /// <param name="row">The mode.</param>
    /// <returns>Its name; words where failures name none.</returns>
    public static string Name(ModeRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.Mode is { } mode ? Text.Words(mode) : PartLifeGroupsTexts.Now.Modes.NotNamed;
    }

    private static IncidenceTexts Texts => PartLifeGroupsTexts.Now.Modes.Chart;

    private static string Words(PartLifeReport report, ModeRow row, IncidencePoint step) => Fill.In(
        Texts.Value,
        ("mode", Name(row)), ("share", Text.Share(step.Incidence)), ("age", Text.Number(step.Age)), ("clock", Text.ClockUnitAfter(report.Basis.Clock)));

    private static bool Finite(IncidencePoint step) => double.IsFinite(step.Age) && double.IsFinite(step.Incidence);
}
