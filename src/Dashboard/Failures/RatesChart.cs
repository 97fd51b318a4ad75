using ScottPlot;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>Steadied rates with their bounds, highest first, beside the raw rates and the fleet's.</summary>
public static class RatesChart
{
    /// <summary>Most rows that can still be read.</summary>
    public const int MostRows = 20;

    private const int LongestName = 60;
    private const double LeastDifference = 1e-6;

    // A mark at no failure needs half its width left of the axis.
    private const double RoomForZero = 0.015;
    private const int RowPixels = 21;
    private const int FramePixels = 84;

    // A raw rate of a short watch may be any number and would push all others to the left edge: watched less than this share of
    // the usual time, it is in the table only.
    private const double ShortestWatch = 0.25;

    // Share of the width that is kept free for the words at the right.
    private const double WordsOfWide = 0.14;
    private const double WordsOfNarrow = 0.36;

    /// <summary>The rows that are drawn: those with a steadied rate, highest first.</summary>
    /// <param name="report">The report.</param>
    /// <returns>At most <see cref="MostRows"/> rows.</returns>
    public static IReadOnlyList<RateRow> Drawn(RatesReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        IEnumerable<RateRow> known = report.Rows.Where(row => double.IsFinite(row.Shrunken.Value));
        return [.. known.OrderByDescending(row => row.Shrunken.Value).ThenByDescending(row => Raw(row) ?? 0).Take(MostRows)];
    }

    /// <summary>What the chart shows, in one sentence or two.</summary>
    /// <param name="report">The report.</param>
    /// <returns>How to read it, with the highest row.</returns>
    public static string Sentence(RatesReport report)
    {
        IReadOnlyList<RateRow> rows = Drawn(report);
        if (rows.Count == 0)
        {
            return Texts.Nothing;
        }

        bool some = rows.Count > 1 && (rows.Count < report.Rows.Count || report.Next is not null);
        string?[] sentences =
        [
            some ? Fill.In(Texts.Some, ("count", Text.Count(rows.Count))) : null,
            Fleet(report) is { } fleet ? Fill.In(Texts.ReadingWithFleet, ("fleet", Text.Number(fleet))) : Texts.Reading,
            rows.Count > 1 && rows[0].Shrunken.Value <= rows[^1].Shrunken.Value * (1 + LeastDifference) ? Texts.AllTheSame
                : report.Fleet.Failures > 0
                ? Fill.In(Texts.Highest, ("name", Text.Cut(Name(report.By, rows[0]), LongestName)), ("rate", Text.Number(rows[0].Shrunken.Value)))
                : null,
            rows.Any(row => row.Called) ? Texts.Called : null,
            rows.Any(row => Raw(row) > Limit(report)) ? Texts.Beyond : null,
        ];
        return string.Join(' ', sentences.Where(sentence => sentence is not null));
    }

    /// <summary>The chart.</summary>
    /// <param name="report">The report.</param>
    /// <returns>A line of marks for each row, highest at the top.</returns>
    public static Chart Of(RatesReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        int height = FramePixels + (RowPixels * Math.Max(1, Drawn(report).Count));
        return new Chart(
            "rates",
            Texts.Titles[report.By],
            Sentence(report),
            shape => Plot(report, shape),
            new ChartSize(860, height),
            ChartStyle.NarrowBars(FramePixels, RowPixels, NarrowNames(report)))
        {
            Values = _ => [.. Drawn(report).Select((row, i) => new ChartValue(row.Shrunken.Value, -i, Words(report.By, row)))],
        };
    }

    private static string[] NarrowNames(RatesReport report) => [.. Drawn(report).Select(row => Text.InLines(ShortName(report.By, row), 15))];

    /// <summary>Draws the rows.</summary>
    /// <param name="report">The report.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot; the row at index i stands at y = −i.</returns>
    public static Plot Plot(RatesReport report, ChartShape shape)
    {
        IReadOnlyList<RateRow> rows = Drawn(report);
        bool wide = shape == ChartShape.Wide;
        string axis = (report.By == RateGroup.PartNumber, wide) switch
        {
            (true, true) => Texts.PartsAxisWide,
            (true, false) => Texts.PartsAxis,
            (false, true) => Texts.AxisWide,
            (false, false) => Texts.Axis,
        };
        Plot plot = ChartStyle.NewPlot(axis, string.Empty);
        double limit = Limit(report);
        bool words = rows.Any(row => row.Called);
        double right = words ? limit / (1 - (wide ? WordsOfWide : WordsOfNarrow)) : limit;
        AddFleet(plot, report, rows.Count);
        for (int i = 0; i < rows.Count; i++)
        {
            AddRow(plot, -i, rows[i], limit);
        }

        ChartStyle.NameBars(plot, wide ? [.. rows.Select(row => IsByCode(report.By) ? Text.FirstParts(Name(report.By, row), 42) : Text.Cut(Name(report.By, row), 42))] : NarrowNames(report));
        plot.Axes.Bottom.TickGenerator = ChartStyle.RoundTicks(limit, wide ? 7 : 2);
        plot.Grid.YAxisStyle.IsVisible = false;
        plot.Axes.SetLimits(-RoomForZero * limit, right, -Math.Max(1, rows.Count) + 0.4, 0.6);
        return plot;
    }

    /// <summary>How a row is called: a unit by tag and site, a part number with its part, others by their names.</summary>
    /// <param name="by">What rates are told apart by.</param>
    /// <param name="row">The row.</param>
    /// <returns>The name.</returns>
    public static string Name(RateGroup by, RateRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.Name.Length == 0 || row.Name == row.Code ? row.Code : IsByCode(by) ? row.Code + ", " + row.Name : row.Name;
    }

    /// <summary>Where the axis of rates ends, without the room for words.</summary>
    /// <param name="report">The report.</param>
    /// <returns>Above 0.</returns>
    public static double Limit(RatesReport report)
    {
        IReadOnlyList<RateRow> rows = Drawn(report);
        IEnumerable<double> drawn = rows.SelectMany(row => new[] { row.Shrunken.Value, Finite(row.Shrunken.Upper) ?? 0 });
        double bounds = drawn.Append(Fleet(report) ?? 0).Max();
        double[] watched = [.. rows.Select(row => row.Figures.UnitYears).Where(double.IsFinite).Order()];
        double least = watched.Length == 0 ? 0 : ShortestWatch * watched[watched.Length / 2];
        double raw = rows.Where(row => row.Figures.UnitYears >= least).Select(row => Raw(row) ?? 0).DefaultIfEmpty(0).Max();
        double limit = 1.03 * Math.Max(bounds, raw);
        return limit > 0 ? limit : 1;
    }

    /// <summary>Whether people know such a row by its code rather than by its name.</summary>
    /// <param name="by">What rates are told apart by.</param>
    public static bool IsByCode(RateGroup by) => by is RateGroup.Unit or RateGroup.PartNumber;

    private static RatesChartTexts Texts => FailureRatesTexts.Now.Chart;

    private static string Words(RateGroup by, RateRow row) => (row.Called ? Texts.ValueCalled : Texts.Value).For(
        row.Figures.Failures, ("name", Name(by, row)), ("steadied", Text.Estimated(row.Shrunken)), ("raw", Text.Estimated(row.Figures.PerUnitYear)));

    private static string ShortName(RateGroup by, RateRow row) => IsByCode(by) ? row.Code : Name(by, row);

    private static double? Raw(RateRow row) => Finite(row.Figures.PerUnitYear?.Value);

    private static double? Fleet(RatesReport report) => Finite(report.Fleet.PerUnitYear?.Value);

    private static double? Finite(double? value) => value is { } number && double.IsFinite(number) ? number : null;

    private static void AddFleet(Plot plot, RatesReport report, int rows)
    {
        if (Fleet(report) is { } fleet)
        {
            var line = plot.Add.Line(fleet, 0.6, fleet, -rows + 0.4);
            line.Color = ChartStyle.Colour(Inks.Text);
            line.LineWidth = ChartStyle.BoundLine;
            line.LinePattern = LinePattern.DenselyDashed;
        }
    }

    private static void AddRow(Plot plot, double y, RateRow row, double limit)
    {
        Ink ink = row.Called ? Inks.Service : Inks.Observed;
        if (row.Shrunken is { Lower: { } lower, Upper: { } upper } && double.IsFinite(lower) && double.IsFinite(upper))
        {
            var bounds = plot.Add.Line(lower, y, Math.Min(upper, limit), y);
            bounds.Color = ChartStyle.Colour(row.Called ? Inks.Service : Inks.ObservedBound);
            bounds.LineWidth = 2;
        }

        if (Raw(row) is { } raw && raw <= limit)
        {
            var hollow = plot.Add.Marker(raw, y, MarkerShape.OpenCircle, 9);
            hollow.Color = ChartStyle.Colour(Inks.NotOwed);
            hollow.LineWidth = 1.5f;
        }

        plot.Add.Marker(row.Shrunken.Value, y, row.Called ? MarkerShape.FilledSquare : MarkerShape.FilledCircle, 9, ChartStyle.Colour(ink));
        if (row.Called)
        {
            ChartStyle.AddWords(plot, FailureWords.StandsOut, limit, y, Inks.Text).OffsetX = 8;
        }
    }
}
