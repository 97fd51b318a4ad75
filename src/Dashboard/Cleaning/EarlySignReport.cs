using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>Units whose washes are getting worse, newest sign first.</summary>
/// <param name="Basis">What the answer rests on; n counts units with history enough.</param>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="AskedFalseAlarmsPerYear">False alarms of a sound unit in a year that each chart may have at most: the chart of bad washes,
/// and the chart of durations with its two sides together.</param>
/// <param name="Units">Units under a standing sign, whatever the page.</param>
/// <param name="Rows">One row a unit and sign that stands.</param>
/// <param name="Next">Opaque cursor of the next page; null on the last.</param>
public sealed record EarlySignsReport(
    Basis Basis, string Sentence, double AskedFalseAlarmsPerYear, int Units, IReadOnlyList<UnitSign> Rows, string? Next);

/// <summary>A sign that stands at a unit.</summary>
/// <param name="Unit">Asset tag of the unit.</param>
/// <param name="Site">Code of the site.</param>
/// <param name="SiteName">Name of the site.</param>
/// <param name="Operator">Code of the operator.</param>
/// <param name="OperatorName">Name of the operator.</param>
/// <param name="Model">Code of the model.</param>
/// <param name="Region">Region of the site, if any.</param>
/// <param name="TimeZone">IANA time zone of the site.</param>
/// <param name="Sign">What its chart says.</param>
public sealed record UnitSign(
    string Unit, string Site, string SiteName, string Operator, string OperatorName, string Model, string? Region, string TimeZone,
    SignReading Sign);

/// <summary>What one chart says about one unit.</summary>
/// <param name="Kind">What it watches.</param>
/// <param name="IsCharted">Whether there is history enough; if not, the figures are null.</param>
/// <param name="Statistic">The cumulative sum: in bad washes, or in standard deviations of the duration.</param>
/// <param name="Limit">A sign is called when the sum reaches it; it ends when the sum is down to half of it.</param>
/// <param name="Since">First wash of the present climb of the sum; null: it is at 0.</param>
/// <param name="CalledAt">Wash at which the sign was called; null: none stands.</param>
/// <param name="Washes">Washes of the present climb.</param>
/// <param name="BadWashes">Bad ones among them; null for durations.</param>
/// <param name="MeanMinutes">How long they took on average, minutes; null for bad washes.</param>
/// <param name="UsualMinutes">How long washes of the same programmes took before, on average, minutes; null for bad washes.</param>
/// <param name="UsualBadShare">In-control rate: the share of bad washes that the chart takes for usual, rounded up; null for durations.</param>
/// <param name="BaselineWashes">Washes that the usual rests on.</param>
/// <param name="WashesBetweenFalseAlarms">Charted washes between two false alarms of a sound unit, on average, exact for the chart's limit.</param>
/// <param name="FalseAlarmsPerYear">False alarms that a sound unit has in a year, at the rate at which this one washes.</param>
/// <param name="Sentence">What it says, in one sentence.</param>
public sealed record SignReading(
    SignKind Kind,
    bool IsCharted,
    double? Statistic,
    double? Limit,
    DateTimeOffset? Since,
    DateTimeOffset? CalledAt,
    int Washes,
    int? BadWashes,
    double? MeanMinutes,
    double? UsualMinutes,
    double? UsualBadShare,
    int BaselineWashes,
    double? WashesBetweenFalseAlarms,
    double? FalseAlarmsPerYear,
    string Sentence);

/// <summary>A unit's charts of early signs.</summary>
/// <param name="Sentence">The finding in one sentence.</param>
/// <param name="Readings">What each chart says, one entry a kind.</param>
/// <param name="Points">The sums after each wash and restart of the last 120 days, oldest first.</param>
public sealed record SignCharts(string Sentence, IReadOnlyList<SignReading> Readings, IReadOnlyList<SignPoint> Points);

/// <summary>The sums after a wash, each as a share of its limit; null while there was too little history.</summary>
/// <param name="At">When the wash started, or the charts began anew.</param>
/// <param name="BeginsAnew">Whether a part was changed or a visit ended, so that the charts began anew.</param>
/// <param name="BadWashes">The sum of bad washes.</param>
/// <param name="LongerWashes">The sum of washes that take longer.</param>
/// <param name="ShorterWashes">The sum of washes that take less time.</param>
public sealed record SignPoint(DateTimeOffset At, bool BeginsAnew, double? BadWashes, double? LongerWashes, double? ShorterWashes)
{
    /// <summary>The sum of one kind.</summary>
    /// <param name="kind">The kind.</param>
    public double? Of(SignKind kind) => kind switch
    {
        SignKind.BadWashes => BadWashes,
        SignKind.LongerWashes => LongerWashes,
        SignKind.ShorterWashes => ShorterWashes,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, null),
    };
}
