using ScottPlot;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>Hours of a window by cause as bars, without the time that was in order.</summary>
public static class CauseChart
{
    private const int BarPixels = 28;
    private const int FramePixels = 76;
    private const double BarThickness = 0.62;

    // Room right of the longest bar for its length in words.
    private const double Headroom = 1.22;

    private static CauseTexts Texts => ComplianceTexts.Now.Causes;

    /// <summary>The causes that are drawn: all but 'in order' that took any time, longest first.</summary>
    /// <param name="row">The group.</param>
    /// <returns>Causes and their hours.</returns>
    public static IReadOnlyList<(Cause Cause, double Hours)> Drawn(ComplianceRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return [.. row.HoursByCause
            .Where(pair => pair.Key != Cause.InOrder && pair.Value > 0 && double.IsFinite(pair.Value))
            .OrderByDescending(pair => pair.Value)
            .ThenBy(pair => pair.Key)
            .Select(pair => (pair.Key, pair.Value))];
    }

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="row">The group.</param>
    /// <returns>The cause that took most time, and the share that was in order.</returns>
    public static string Sentence(ComplianceRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        double inOrder = row.HoursByCause.GetValueOrDefault(Cause.InOrder);
        (string, string) rest = ("in_order", row.WindowHours > 0 ? Fill.In(Texts.InOrder, ("share", Text.Share(inOrder / row.WindowHours))) : Texts.NoTime);
        (Cause Cause, double Hours)[] owed = [.. Drawn(row).Where(entry => CleaningWords.Colour(entry.Cause) != Inks.NotOwed)];
        return owed.Length == 0
            ? Fill.In(Texts.NoneOwed, rest)
            : Fill.In(Texts.Mostly, rest, ("cause", CleaningWords.InSentence(owed[0].Cause)), ("time", Text.Duration(owed[0].Hours)));
    }

    /// <summary>The chart.</summary>
    /// <param name="row">The group; at least one cause to draw.</param>
    /// <returns>Bars in hours, longest at the top.</returns>
    public static Chart Of(ComplianceRow row)
    {
        int height = FramePixels + (BarPixels * Math.Max(1, Drawn(row).Count));
        return new Chart(
            "causes",
            Texts.Title,
            Sentence(row),
            shape => Plot(row, shape),
            new ChartSize(860, height),
            new ChartSize(360, height + (BarPixels * Drawn(row).Count / 2)))
        {
            Values = _ => [.. Drawn(row).Select((bar, i) => new ChartValue(bar.Hours, -i, Words(row, bar.Cause, bar.Hours)))],
        };
    }

    /// <summary>Draws the bars.</summary>
    /// <param name="row">The group.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the cause at index i has its bar at y = −i.</returns>
    public static Plot Plot(ComplianceRow row, ChartShape shape)
    {
        IReadOnlyList<(Cause Cause, double Hours)> bars = Drawn(row);
        double longest = bars.Count == 0 ? 1 : bars[0].Hours;
        Plot plot = ChartStyle.NewPlot(Texts.Axis, string.Empty);
        for (int i = 0; i < bars.Count; i++)
        {
            AddBar(plot, -i, bars[i].Cause, bars[i].Hours);
        }

        ChartStyle.NameBars(plot, [.. bars.Select(bar => Label(bar.Cause, shape))]);
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(longest, shape == ChartShape.Wide ? 6 : 2);
        plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.SetLimits(0, longest * (shape == ChartShape.Wide ? Headroom : 1.75), -bars.Count + 0.4, 0.6);
        return plot;
    }

    private static string Words(ComplianceRow row, Cause cause, double hours) => Fill.In(
        row.WindowHours > 0 ? Texts.ValueOfWindow : Texts.Value,
        ("cause", CleaningWords.Name(cause)), ("time", Text.Duration(hours)), ("share", Text.Share(hours / row.WindowHours)));

    private static void AddBar(Plot plot, double y, Cause cause, double hours)
    {
        var bar = plot.Add.Bar(new Bar
        {
            Position = y,
            Value = hours,
            Size = BarThickness,
            FillColor = ChartStyle.Colour(CleaningWords.Colour(cause)),
            LineWidth = 0,
        });
        bar.Horizontal = true;
        ChartStyle.AddWords(plot, Text.Duration(hours), hours, y, Inks.Text).OffsetX = 6;
    }

    // On a phone a long cause takes two lines.
    private static string Label(Cause cause, ChartShape shape) => shape == ChartShape.Wide
        ? CleaningWords.Name(cause)
        : CleaningWords.Name(cause).Replace(", ", ",\n", StringComparison.Ordinal);
}
