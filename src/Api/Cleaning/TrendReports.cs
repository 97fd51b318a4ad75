using System.Globalization;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Assembles the trend of cleaning by week.</summary>
/// <param name="compliance">Counts the weeks.</param>
public sealed class TrendReports(ComplianceReports compliance)
{
    /// <summary>Weeks that are looked at unless asked otherwise: a quarter of a year.</summary>
    public const int UsualWeeks = 13;

    /// <summary>Most weeks that can be asked for.</summary>
    public const int MostWeeks = 104;

    private const double Level = 0.95;

    /// <summary>The last whole weeks before an instant.</summary>
    /// <param name="filter">Which units; its state and window are not looked at.</param>
    /// <param name="weeks">How many, 2 to <see cref="MostWeeks"/>.</param>
    /// <param name="asOf">The instant; the week in which it lies is not over and left out.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<TrendReport> AssembleAsync(CleaningFilter filter, int weeks, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        DateTimeOffset monday = Monday(asOf);
        Interval[] windows = [.. Enumerable.Range(0, weeks).Select(i => Week(monday.AddDays(7 * (i - weeks))))];
        IReadOnlyList<WindowCompliance> counted = await compliance.AssembleWindowsAsync(filter, windows, cancellationToken);
        OnTimeTrend trend = OnTimeTrend.Of(counted.SelectMany((week, i) => week.Units.Select(unit => new UnitPeriodShare(unit.Unit, i, unit.Share.Due, unit.Share.Kept))), Level);
        return new TrendReport(
            new Basis(asOf, windows[0].Start.ToDateTimeOffset(), monday, TrendSentences.Method, null, trend.Due, null, new Dictionary<string, int>(), TrendSentences.Doubts(trend)),
            TrendSentences.Of(trend, weeks),
            trend.Change,
            [.. counted.Select(Row)]);
    }

    private static TrendWeek Row(WindowCompliance week)
    {
        DateTimeOffset from = week.Window.Start.ToDateTimeOffset();
        ComplianceRow row = week.Total;
        return new TrendWeek(
            string.Create(CultureInfo.InvariantCulture, $"{ISOWeek.GetYear(from.UtcDateTime)}-W{ISOWeek.GetWeekOfYear(from.UtcDateTime):D2}"),
            from,
            week.Window.End.ToDateTimeOffset(),
            row.Units,
            row.Due,
            row.OnTime,
            row.OnTimeShare,
            row.TimeWithinShare,
            row.HoursByCause,
            row.WindowHours);
    }

    private static DateTimeOffset Monday(DateTimeOffset at)
    {
        DateTime day = at.UtcDateTime.Date;
        return new DateTimeOffset(day.AddDays(-(((int)day.DayOfWeek + 6) % 7)), TimeSpan.Zero);
    }

    private static Interval Week(DateTimeOffset monday) =>
        new(Instant.FromDateTimeOffset(monday), Instant.FromDateTimeOffset(monday.AddDays(7)));
}
