using ScottPlot;
using ScottPlot.TickGenerators;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>A year of trading days, weeks by weekdays; each kind of day has its colour and its letter.</summary>
public static class WashCalendar
{
    private const int DaysPerWeek = 7;
    private const int WeeksOfWide = 54;
    private const int WeeksOfNarrow = 18;

    /// <summary>Rows of a band: seven weekdays, one for the names of the months, one of air.</summary>
    public const int RowsOfABand = DaysPerWeek + 2;

    private const int RowsPerBand = RowsOfABand;
    private const double HalfCell = 0.44;

    private static WashCalendarTexts Texts => WashCalendarTexts.Now;

    /// <summary>Kinds in the order of the legend.</summary>
    public static IReadOnlyList<WashDayKind> Kinds { get; } = Enum.GetValues<WashDayKind>();

    /// <summary>What the calendar shows, in one sentence.</summary>
    /// <param name="days">The days.</param>
    /// <returns>How many days had a wash that counts, and the most frequent other kind.</returns>
    public static string Sentence(IReadOnlyList<WashDay> days)
    {
        ArgumentNullException.ThrowIfNull(days);
        if (days.Count == 0)
        {
            return Texts.NoDay;
        }

        WashDay[] open = [.. days.Where(day => WashDayWords.IsOwed(day.Kind))];
        string kept = Texts.KeptOf.For(open.Length, ("kept", Text.Count(open.Count(day => WashDayWords.IsKept(day.Kind)))));
        IGrouping<WashDayKind, WashDay>? most = open
            .Where(day => !WashDayWords.IsKept(day.Kind))
            .GroupBy(day => day.Kind)
            .MaxBy(group => group.Count());
        return most is null
            ? Fill.In(Texts.AllKept, ("kept_of", kept))
            : Texts.Commonest.For(most.Count(), ("kept_of", kept), ("kind", WashDayWords.InSentence(most.Key)));
    }

    /// <summary>The chart.</summary>
    /// <param name="unit">Asset tag of the unit.</param>
    /// <param name="days">The days, oldest first; at least one.</param>
    /// <returns>The calendar.</returns>
    public static Chart Of(string unit, IReadOnlyList<WashDay> days) => new(
        "calendar",
        Title(unit),
        Sentence(days),
        shape => Plot(days, shape),
        new ChartSize(900, 190),
        new ChartSize(360, 520))
    {
        Values = shape => [.. days.Select(day => Value(day, days[0].Day, shape))],
        Numbers = new ChartNumbers(
            ["day", "letter", "kind", "washes", "why"],
            [.. days.Select(day => new object?[] { day.Day, WashDayWords.Letter(day.Kind), day.Kind, day.Washes, day.Why })]),
    };

    /// <summary>What the calendar is called.</summary>
    /// <param name="unit">Asset tag of the unit.</param>
    public static string Title(string unit) => Fill.In(Texts.Title, ("unit", Text.Cut(unit, 40)));

    /// <summary>A day in words.</summary>
    /// <param name="day">Its date.</param>
    /// <param name="what">What happened on it, within a sentence.</param>
    public static string Words(DateOnly day, string what) => Fill.In(Texts.Value, ("date", Text.Date(day)), ("what", what));

    private static ChartValue Value(WashDay day, DateOnly first, ChartShape shape)
    {
        (int column, int row) = Place(day.Day, first, shape == ChartShape.Wide ? WeeksOfWide : WeeksOfNarrow);
        return new ChartValue(column, -row, Words(day.Day, WashDayWords.InSentence(day.Kind)));
    }

    /// <summary>Where a day stands: column of its week, row counted downwards.</summary>
    /// <param name="day">The day.</param>
    /// <param name="first">The first day of the calendar.</param>
    /// <param name="weeksPerBand">Weeks side by side before the next band begins.</param>
    /// <returns>Column from 0, row from 0 (the day on which a week begins, in the first band).</returns>
    public static (int Column, int Row) Place(DateOnly day, DateOnly first, int weeksPerBand)
    {
        int week = (day.DayNumber - Weeks.BeginOf(first).DayNumber) / DaysPerWeek;
        return (week % weeksPerBand, (week / weeksPerBand * RowsPerBand) + Weeks.RowOf(day));
    }

    /// <summary>Draws the calendar.</summary>
    /// <param name="days">The days.</param>
    /// <param name="shape">The room it is drawn for.</param>
    /// <returns>The plot: a day at column x and row r has its middle at (x, −r).</returns>
    public static Plot Plot(IReadOnlyList<WashDay> days, ChartShape shape)
    {
        ArgumentNullException.ThrowIfNull(days);
        Plot plot = ChartStyle.NewPlot(string.Empty, string.Empty);
        int weeksPerBand = shape == ChartShape.Wide ? WeeksOfWide : WeeksOfNarrow;
        DateOnly first = days.Count == 0 ? default : days[0].Day;
        int bands = 1;
        var weekdays = new NumericManual();
        foreach (WashDay day in days)
        {
            (int column, int row) = Place(day.Day, first, weeksPerBand);
            bands = Math.Max(bands, (row / RowsPerBand) + 1);
            AddDay(plot, column, row, day.Kind);
            AddMonth(plot, column, row, day.Day);
        }

        for (int band = 0; band < bands; band++)
        {
            AddWeekdays(weekdays, band * RowsPerBand);
        }

        plot.Axes.Left.TickGenerator = weekdays;
        plot.Axes.Left.MajorTickStyle.Length = 0;
        plot.Axes.Left.FrameLineStyle.IsVisible = false;
        plot.Axes.Bottom.IsVisible = false;
        plot.HideGrid();
        plot.Axes.SetLimits(-0.6, weeksPerBand - 0.4, -(bands * RowsPerBand) + 1.5, 1.7);
        return plot;
    }

    private static void AddDay(Plot plot, int column, int row, WashDayKind kind)
    {
        var cell = plot.Add.Rectangle(column - HalfCell, column + HalfCell, -row - HalfCell, -row + HalfCell);
        cell.FillColor = ChartStyle.Colour(Colour(kind));
        cell.LineWidth = kind == WashDayKind.Counted || !WashDayWords.IsOwed(kind) ? 0 : 1;
        cell.LineColor = ChartStyle.Colour(Inks.DayEdge);
        if (kind != WashDayKind.Counted)
        {
            ChartStyle.AddWords(plot, WashDayWords.Letter(kind), column, -row, Inks.DayLetter, Alignment.MiddleCenter);
        }
    }

    private static void AddMonth(Plot plot, int column, int row, DateOnly day)
    {
        if (day.Day == 1)
        {
            int top = row / RowsPerBand * RowsPerBand;
            string name = Text.ShortMonth(day);
            ChartStyle.AddWords(plot, name, column - HalfCell, -top + 1.1, Inks.Text);
        }
    }

    private static void AddWeekdays(NumericManual ticks, int top)
    {
        for (int row = 0; row < DaysPerWeek; row += 2)
        {
            ticks.AddMajor(-top - row, Weeks.NameOf(row));
        }
    }

    /// <summary>The colour of a kind.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>The fill of its day.</returns>
    public static Ink Colour(WashDayKind kind) => kind switch
    {
        WashDayKind.Counted => Inks.DayCounted,
        WashDayKind.CountedByHand => Inks.DayByHand,
        WashDayKind.LowerGrade or WashDayKind.DetergentLeft or WashDayKind.OutcomeUnknown => Inks.DayShort,
        WashDayKind.StoppedByPerson or WashDayKind.StoppedByFault => Inks.DayStopped,
        WashDayKind.Refused or WashDayKind.LockedOut => Inks.DayRefused,
        WashDayKind.NobodyStarted => Inks.DayNone,
        WashDayKind.Silent => Inks.DaySilent,
        WashDayKind.NotDue or WashDayKind.Pending or WashDayKind.Closed or WashDayKind.OutOfService => Inks.DayFree,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, null),
    };
}
