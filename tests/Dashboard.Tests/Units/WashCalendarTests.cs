using System.Globalization;
using ScottPlot;
using ScottPlot.Plottables;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Units;

public sealed class WashCalendarTests
{
    // 4 June 2024 was a Tuesday; 9 June 2024 a Sunday (any calendar).
    [Theory]
    [InlineData("2024-06-04", 0, 1)]
    [InlineData("2024-06-09", 0, 6)]
    [InlineData("2024-06-10", 1, 0)]
    [InlineData("2024-10-07", 0, 9)]
    public void A_day_stands_in_the_column_of_its_week_and_the_row_of_its_weekday(string day, int column, int row) =>
        Assert.Equal((column, row), WashCalendar.Place(DateOnly.Parse(day, CultureInfo.InvariantCulture),
            new DateOnly(2024, 6, 4), 18));

    [Theory]
    [InlineData(ChartShape.Wide)]
    [InlineData(ChartShape.Narrow)]
    public void Every_day_is_drawn_once_inside_the_frame(ChartShape shape)
    {
        using Plot plot = WashCalendar.Plot(Samples.Days, shape);
        CoordinateRect[] cells = [.. plot.GetPlottables<Rectangle>().Select(cell => cell.CoordinateRect)];
        AxisLimits limits = plot.Axes.GetLimits();
        Assert.Equal(365, cells.Select(cell => (cell.Center.X, cell.Center.Y)).Distinct().Count());
        Assert.All(cells, cell => Assert.True(cell.Left > limits.Left && cell.Right < limits.Right && cell.Bottom > limits.Bottom
            && cell.Top < limits.Top));
    }

    // On a phone there is room for seven letters beneath a day.
    [Theory]
    [InlineData("en")]
    [InlineData("de")]
    public void Every_kind_of_day_has_its_own_letter_words_and_is_told_by_more_than_colour(string language)
    {
        using IDisposable reader = ReaderPreferences.Use(new ReaderPreferences { Language = language });
        Assert.Equal(WashDayWords.Kinds.Count, WashDayWords.Kinds.Select(WashDayWords.Letter).Distinct().Count());
        Assert.Equal(WashDayWords.Kinds.Count, WashDayWords.Kinds.Select(WashDayWords.Name).Distinct().Count());
        Assert.All(WashDayWords.Kinds, kind => Assert.Equal(1, new StringInfo(WashDayWords.Letter(kind)).LengthInTextElements));
        Assert.All(WashDayWords.Kinds.SelectMany(kind => WashDayWords.Brief(kind).Split(' ')), word => Assert.InRange(word.Length, 1, 7));
    }

    [Fact]
    public void The_sentence_counts_trading_days_only()
    {
        WashDay Day(int i, WashDayKind kind) => new(new DateOnly(2025, 1, 1).AddDays(i), kind, 1);
        WashDay[] days = [Day(0, WashDayKind.Counted), Day(1, WashDayKind.Closed), Day(2, WashDayKind.NobodyStarted), Day(3,
            WashDayKind.OutOfService)];
        Assert.Equal("1 of 2 trading days on which a wash was owed had one that counts; the commonest other day was 'nobody started a wash', 1 day.",
            WashCalendar.Sentence(days));
    }
}
