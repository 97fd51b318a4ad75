using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Operators;

namespace Washwear.Api.Operators;

/// <summary>Compares how washes were kept in two stretches of time.</summary>
internal static class WashingChanges
{
    private const double Level = 0.95;

    /// <summary>The later stretch beside the earlier one.</summary>
    /// <param name="before">The earlier stretch.</param>
    /// <param name="now">The later stretch.</param>
    /// <param name="compared">What the two are.</param>
    /// <param name="month">Name of the later month; null where they are no months.</param>
    public static WashingChange Of(WindowCompliance before, WindowCompliance now, WashingCompared compared, string? month = null)
    {
        // With two periods the line passes through both shares, so that its rise is their difference; its bounds take units as clusters.
        OnTimeTrend trend = OnTimeTrend.Of(
            new[] { before, now }.SelectMany((window, period) => window.Units.Select(unit => new UnitPeriodShare(unit.Unit, period, unit.Share.Due, unit.Share.Kept))),
            Level);
        WashingStretch told = Stretch(now);
        return new WashingChange(OperatorSentences.Change(told, trend, compared, month), Stretch(before), told, trend.Change, Causes(before.Total, now.Total));
    }

    private static WashingStretch Stretch(WindowCompliance window) => new(
        window.Window.Start.ToDateTimeOffset(),
        window.Window.End.ToDateTimeOffset(),
        window.Units.Count(unit => unit.Share.Due > 0),
        window.Total.Due,
        window.Total.OnTime,
        window.Total.OnTimeShare,
        window.Total.TimeWithinShare,
        window.Total.WindowHours);

    private static CauseChange[] Causes(ComplianceRow before, ComplianceRow now) =>
    [
        .. CleaningWords.Causes.Where(cause => cause.IsOverdue() || cause == Cause.Silent)
            .Select(cause => new CauseChange(
                cause,
                before.HoursByCause.GetValueOrDefault(cause),
                now.HoursByCause.GetValueOrDefault(cause),
                now.WindowHours > 0 ? now.HoursByCause.GetValueOrDefault(cause) / now.WindowHours : null))
            .Where(row => row.Hours > 0 || row.HoursBefore > 0)
            .OrderByDescending(row => row.Hours).ThenByDescending(row => row.HoursBefore),
    ];
}
