using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>How many failures a unit has had on average by an age or a day: steps, with bounds where they can be told apart.</summary>
public static class RecurrenceChart
{
    /// <summary>Most groups that can still be told apart.</summary>
    public const int MostLines = 6;

    private const int MostWithBounds = 2;
    private const int MostValues = 40;
    private const int LongestName = 30;
    private const double LeastGap = 0.06;

    private static readonly Ink[] LineInks = [Inks.Observed, Inks.Service, Inks.Fitted, Inks.Kitchen, Inks.Text, Inks.NotOwed];

    /// <summary>The groups that are drawn: those with steps, most failures first.</summary>
    /// <param name="report">The report.</param>
    /// <returns>At most <see cref="MostLines"/> groups.</returns>
    public static IReadOnlyList<RecurrenceGroup> Drawn(RecurrenceReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return [.. report.Groups.Where(group => group.Steps.Any(Finite)).OrderByDescending(group => group.Failures).Take(MostLines)];
    }

    /// <summary>What the chart shows, in one sentence or two.</summary>
    /// <param name="report">The report.</param>
    /// <returns>How to read the lines.</returns>
    public static string Sentence(RecurrenceReport report)
    {
        IReadOnlyList<RecurrenceGroup> groups = Drawn(report);
        if (groups.Count == 0)
        {
            return IsAge(report) ? Texts.NoAge : Texts.NoDay;
        }

        string?[] sentences =
        [
            IsAge(report) ? Texts.ReadingAge : Texts.ReadingDay,
            !HasBounds(groups) ? Texts.NoBounds : groups.Count > MostWithBounds ? Texts.BoundsInTable : Texts.ThinLines,
            groups.Count < report.Groups.Count ? Fill.In(Texts.Drawn, ("count", Text.Count(groups.Count))) : null,
        ];
        return string.Join(' ', sentences.Where(sentence => sentence is not null));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Age or day against the mean number of failures a unit.</returns>
    public static Chart Of(RecurrenceReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return new Chart(
            "recurrence",
            IsAge(report) ? Texts.TitleAge : Texts.TitleDay,
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, 320),
            new ChartSize(360, 340))
        {
            Values = _ => [.. Drawn(report).SelectMany(group => ChartValues.Thinned([.. group.Steps.Where(Finite)], MostValues)
                .Select(step => new ChartValue(step.Day, step.Mean, Words(report, group, step))))],
        };
    }

    /// <summary>Draws the steps of each group, with its name at the end where there are several.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot.</returns>
    public static Plot Plot(RecurrenceReport report, ChartShape shape)
    {
        IReadOnlyList<RecurrenceGroup> groups = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        Plot plot = ChartStyle.NewPlot(
            IsAge(report) ? Texts.XAge : Texts.XDay, wide ? Texts.YWide : Texts.Y);
        double limit = Limit(groups);
        double top = Top(groups);
        double nameAt = double.NegativeInfinity;
        IReadOnlyList<string> names = Names(groups, wide ? LongestName : 13);
        foreach (int i in Enumerable.Range(0, groups.Count).OrderBy(i => groups[i].Steps.Last(Finite).Mean))
        {
            RecurrenceGroup group = groups[i];
            AddGroup(plot, group, i, groups.Count <= MostWithBounds);
            if (groups.Count > 1)
            {
                nameAt = Math.Max(group.Steps.Last(Finite).Mean, nameAt + (LeastGap * top));
                ChartStyle.NameLine(plot, names[i], new Coordinates(limit, nameAt), LineInks[i], ChartStyle.Patterns[i]);
            }
        }

        plot.Axes.Left.TickGenerator = ChartStyle.RoundTicks(top, 5);
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(limit, wide ? 8 : 3);
        plot.Axes.SetLimits(0, groups.Count > 1 ? limit * (wide ? 1.46 : 1.65) : limit, 0, Math.Max(top, nameAt + (LeastGap * top)));
        return plot;
    }

    /// <summary>The corners of steps that start at no failure.</summary>
    /// <param name="group">The group.</param>
    /// <param name="value">Which value of a step; null stops the line.</param>
    /// <returns>Corners in order of age or day.</returns>
    public static IReadOnlyList<Coordinates> Corners(RecurrenceGroup group, Func<RecurrenceStep, double?> value)
    {
        ArgumentNullException.ThrowIfNull(group);
        ArgumentNullException.ThrowIfNull(value);
        var corners = new List<Coordinates> { new(0, 0) };
        foreach (RecurrenceStep step in group.Steps.Where(Finite))
        {
            if (value(step) is not { } height || !double.IsFinite(height))
            {
                break;
            }

            corners.Add(new Coordinates(step.Day, corners[^1].Y));
            corners.Add(new Coordinates(step.Day, height));
        }

        return corners;
    }

    /// <summary>Names at the ends of the lines.</summary>
    /// <param name="groups">The groups drawn.</param>
    /// <param name="length">Longest name, characters.</param>
    /// <returns>The names cut to that length, or the codes where cut names would be the same.</returns>
    public static IReadOnlyList<string> Names(IReadOnlyList<RecurrenceGroup> groups, int length)
    {
        ArgumentNullException.ThrowIfNull(groups);
        string[] names = [.. groups.Select(group => Text.Cut(group.Name, length))];
        return names.Distinct().Count() == names.Length ? names : [.. groups.Select(group => Text.Cut(group.Group, length))];
    }

    private static bool HasBounds(IReadOnlyList<RecurrenceGroup> groups) =>
        groups.Any(group => group.Steps.Any(step => step is { Lower: { } lower, Upper: { } upper } && double.IsFinite(lower) && double.IsFinite(upper)));

    private static RecurrenceChartTexts Texts => FailureRecurrenceTexts.Now.Chart;

    private static string Words(RecurrenceReport report, RecurrenceGroup group, RecurrenceStep step)
    {
        string value = (IsAge(report) ? Texts.ValueAge : Texts.ValueDay).For(step.AtRisk, ("day", Text.Number(step.Day)), ("mean", Text.Number(step.Mean)));
        return report.Groups.Count == 1 ? value : Fill.In(Texts.ValueOfGroup, ("group", group.Name), ("value", value));
    }

    private static bool IsAge(RecurrenceReport report) => report.Axis != "calendar";

    private static bool Finite(RecurrenceStep step) => double.IsFinite(step.Day) && double.IsFinite(step.Mean);

    private static double Limit(IReadOnlyList<RecurrenceGroup> groups)
    {
        double limit = groups.Select(group => group.Steps.Last(Finite).Day).DefaultIfEmpty(0).Max();
        return limit > 0 ? limit : 1;
    }

    // Bounds of the last steps, where few units are left, may run far away: twice the highest mean is enough.
    private static double Top(IReadOnlyList<RecurrenceGroup> groups)
    {
        double mean = groups.Select(group => group.Steps.Last(Finite).Mean).DefaultIfEmpty(0).Max();
        double bound = groups.Count > MostWithBounds
            ? mean
            : groups.SelectMany(group => group.Steps, (_, step) => step.Upper ?? mean).Where(double.IsFinite).DefaultIfEmpty(mean).Max();
        double top = 1.06 * Math.Min(Math.Max(mean, bound), 2 * mean);
        return top > 0 ? top : 1;
    }

    private static void AddGroup(Plot plot, RecurrenceGroup group, int i, bool bounds)
    {
        if (bounds)
        {
            AddSteps(plot, Corners(group, step => step.Lower), LineInks[i], ChartStyle.BoundLine, LinePattern.Solid);
            AddSteps(plot, Corners(group, step => step.Upper), LineInks[i], ChartStyle.BoundLine, LinePattern.Solid);
        }

        AddSteps(plot, Corners(group, step => step.Mean), LineInks[i], ChartStyle.DataLine, ChartStyle.Patterns[i]);
    }

    private static void AddSteps(Plot plot, IReadOnlyList<Coordinates> corners, Ink ink, float width, LinePattern pattern)
    {
        var line = plot.Add.ScatterLine(corners.ToArray(), ChartStyle.Colour(ink));
        line.LineWidth = width;
        line.LinePattern = pattern;
    }
}
