using System.Text.Json;
using NodaTime;
using ScottPlot;
using ScottPlot.TickGenerators;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>The sums of a unit's early signs over time, each as a share of its limit.</summary>
public static class SignChart
{
    // Room for the key above the limit.
    private const double TopOfWide = 1.3;
    private const double TopOfNarrow = 1.65;
    private const float DurationLine = 1.8f;

    private static SignSectionTexts Texts => UnitTexts.Now.Signs;

    /// <summary>Kinds in the order of legend and table.</summary>
    public static IReadOnlyList<SignKind> Kinds { get; } = Enum.GetValues<SignKind>();

    /// <summary>Whether there is anything to draw.</summary>
    /// <param name="charts">The charts.</param>
    public static bool HasPoints(SignCharts charts)
    {
        ArgumentNullException.ThrowIfNull(charts);
        return charts.Points.Any(point => Kinds.Any(kind => Level(point, kind) is not null));
    }

    /// <summary>What the chart shows, in one sentence.</summary>
    /// <param name="charts">The charts.</param>
    /// <returns>The highest sum, and whether a sign was called.</returns>
    public static string Sentence(SignCharts charts)
    {
        ArgumentNullException.ThrowIfNull(charts);
        (double Share, SignKind Kind)[] sums = [.. charts.Points.SelectMany(point => Kinds.Select(kind => (Level(point, kind) ?? -1, kind)))];
        (double Share, SignKind Kind) highest = sums.DefaultIfEmpty((-1, SignKind.BadWashes)).MaxBy(one => one.Item1);
        return highest.Share < 0
            ? Texts.TooLittle
            : Fill.In(Texts.Highest, ("kind", EarlySignSentences.InSentence(highest.Kind)), ("share", Text.Share(highest.Share)))
                + (charts.Points.Any(point => point.BeginsAnew) ? " " + Texts.Restarts : string.Empty);
    }

    /// <summary>The chart.</summary>
    /// <param name="unit">Asset tag.</param>
    /// <param name="timeZone">IANA time zone of its site.</param>
    /// <param name="charts">The charts; at least one point.</param>
    public static Chart Of(string unit, string timeZone, SignCharts charts) => new(
        "signs",
        Fill.In(Texts.Title, ("unit", Text.Cut(unit, 40))),
        Sentence(charts),
        shape => Plot(charts, timeZone, shape),
        new ChartSize(860, 320),
        new ChartSize(360, 320))
    {
        Values = _ => [.. charts.Points.Where(point => Kinds.Any(kind => Level(point, kind) is not null)).Select(point => new ChartValue(
            Days(point.At), Kinds.Max(kind => Level(point, kind) ?? 0), Words(point, timeZone)))],
        Numbers = new ChartNumbers(
            ["started_at", .. Kinds.Select(kind => JsonNamingPolicy.SnakeCaseLower.ConvertName(kind.ToString()) + "_share_of_limit"), "begins_anew"],
            [.. charts.Points.Select(point => Row(point))]),
    };

    private static object?[] Row(SignPoint point) => [point.At, .. Kinds.Select(kind => Level(point, kind)), point.BeginsAnew];

    private static string Words(SignPoint point, string timeZone) => Fill.In(
        Texts.Value,
        ("moment", Text.Moment(point.At, timeZone)),
        ("sums", string.Join(", ", Kinds.Where(kind => Level(point, kind) is not null).Select(kind => EarlySignSentences.InSentence(kind) + " " + Text.Share(Level(point, kind))))));

    /// <summary>Draws the sums.</summary>
    /// <param name="charts">The charts.</param>
    /// <param name="timeZone">IANA time zone of the site.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot: x in days since 1970, y as a share of the limit.</returns>
    public static Plot Plot(SignCharts charts, string timeZone, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(charts);
        Plot plot = ChartStyle.NewPlot(string.Empty, Texts.Axis);
        foreach (SignKind kind in Kinds)
        {
            AddSum(plot, charts.Points, kind);
        }

        AddRestarts(plot, charts.Points);
        var limit = plot.Add.HorizontalLine(1);
        limit.Color = ChartStyle.Colour(Inks.Whisker);
        limit.LineWidth = ChartStyle.BoundLine;
        limit.LinePattern = LinePattern.DenselyDashed;
        limit.LegendText = Texts.Limit;
        (double from, double to) = charts.Points.Count == 0 ? (0, 1) : (Days(charts.Points[0].At), Days(charts.Points[^1].At));
        plot.Axes.Left.TickGenerator = ChartStyle.ShareTicks(0.25);
        plot.Axes.Bottom.TickGenerator = MonthTicks(from, to, timeZone);
        plot.Axes.SetLimits(from - 1, Math.Max(to, from + 1) + 1, 0, shape == ChartShape.Wide ? TopOfWide : TopOfNarrow);
        ChartStyle.Legend(plot, Alignment.UpperLeft);
        plot.Legend.Orientation = shape == ChartShape.Wide ? Orientation.Horizontal : Orientation.Vertical;

        return plot;
    }

    // A sum keeps its height until the next wash; where there is too little history the line breaks.
    private static void AddSum(Plot plot, IReadOnlyList<SignPoint> points, SignKind kind)
    {
        var run = new List<Coordinates>();
        bool named = false;
        foreach (SignPoint point in points)
        {
            double x = Days(point.At);
            if (Level(point, kind) is not { } share)
            {
                named |= AddRun(plot, run, kind, named);
                run.Clear();
                continue;
            }

            if (run.Count > 0)
            {
                run.Add(new Coordinates(x, run[^1].Y));
            }

            run.Add(new Coordinates(x, share));
        }

        AddRun(plot, run, kind, named);
    }

    private static bool AddRun(Plot plot, List<Coordinates> run, SignKind kind, bool named)
    {
        if (run.Count < 2)
        {
            return false;
        }

        (Ink ink, LinePattern pattern, float width) = kind switch
        {
            SignKind.BadWashes => (Inks.Service, LinePattern.Solid, ChartStyle.DataLine),
            SignKind.LongerWashes => (Inks.Observed, LinePattern.Dashed, DurationLine),
            _ => (Inks.Fitted, LinePattern.Dotted, DurationLine),
        };
        var line = plot.Add.ScatterLine(run.ToArray(), ChartStyle.Colour(ink));
        line.LineWidth = width;
        line.LinePattern = pattern;
        line.LegendText = named ? string.Empty : EarlySignSentences.Name(kind);
        return true;
    }

    private static void AddRestarts(Plot plot, IReadOnlyList<SignPoint> points)
    {
        foreach (SignPoint point in points.Where(point => point.BeginsAnew))
        {
            var mark = plot.Add.Line(Days(point.At), 0, Days(point.At), 1);
            mark.Color = ChartStyle.Colour(Inks.NotOwed);
            mark.LineWidth = ChartStyle.BoundLine;
        }
    }

    private static NumericManual MonthTicks(double from, double to, string timeZone)
    {
        DateTimeZone zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(timeZone) ?? DateTimeZone.Utc;
        var ticks = new NumericManual();
        for (int day = (int)Math.Ceiling(from); day <= to; day++)
        {
            DateOnly date = DateOnly.FromDateTime(DateTime.UnixEpoch.AddDays(day));
            if (date.Day is 1 or 15)
            {
                double x = zone.AtStartOfDay(LocalDate.FromDateOnly(date)).ToInstant().ToUnixTimeMilliseconds() / 86_400_000.0;
                ticks.AddMajor(x, date.Day == 1 ? Text.DayMonth(date) : "15");
            }
        }

        return ticks;
    }

    private static double? Level(SignPoint point, SignKind kind) => point.Of(kind) is { } share && double.IsFinite(share) ? share : null;

    private static double Days(DateTimeOffset at) => at.ToUnixTimeMilliseconds() / 86_400_000.0;
}
