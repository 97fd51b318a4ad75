using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>What a sign is about.</summary>
public enum SignKind
{
    /// <summary>More washes than before are stopped by a fault or leave detergent.</summary>
    BadWashes,

    /// <summary>Completed washes take longer than before.</summary>
    LongerWashes,

    /// <summary>Completed washes take less time than before.</summary>
    ShorterWashes,
}

/// <summary>What one chart says about one unit.</summary>
/// <param name="Kind">What it watches.</param>
/// <param name="IsCharted">Whether there is history enough; if not, nothing else is told.</param>
/// <param name="Statistic">The sum: in bad washes, or in standard deviations of the duration.</param>
/// <param name="Limit">A sign is called when the sum reaches it.</param>
/// <param name="Since">First wash of the present climb; null: the sum is at 0.</param>
/// <param name="CalledAt">Wash at which the standing sign was called; null: none stands.</param>
/// <param name="Washes">Washes of the present climb.</param>
/// <param name="Seen">Of these: bad washes, or minutes in all.</param>
/// <param name="Expected">What the unit had on average in as many washes before.</param>
/// <param name="BaselineShare">Share of bad washes that the chart takes for sound; null for durations.</param>
/// <param name="BaselineWashes">Washes that the measure rests on.</param>
/// <param name="WashesBetweenFalseAlarms">Charted washes between two false alarms of a sound unit, on average.</param>
/// <param name="FalseAlarmsPerYear">False alarms that a sound unit has in a year, at the rate at which this one washes.</param>
/// <param name="EndedAt">When the last sign ended; null: there was none.</param>
/// <param name="Ended">How it ended.</param>
public sealed record EarlySign(
    SignKind Kind,
    bool IsCharted,
    double Statistic,
    double Limit,
    Instant? Since,
    Instant? CalledAt,
    int Washes,
    double Seen,
    double Expected,
    double? BaselineShare,
    int BaselineWashes,
    double? WashesBetweenFalseAlarms,
    double? FalseAlarmsPerYear,
    Instant? EndedAt,
    SignEnd? Ended)
{
    /// <summary>Whether the sign stands.</summary>
    public bool IsCalled => CalledAt is not null;

    /// <summary>The sum as a share of its limit, 0 to 1; null where nothing is charted.</summary>
    public double? ShareOfLimit => IsCharted ? Statistic / Limit : null;
}

/// <summary>Reads the signs from the running state.</summary>
public static class EarlySigns
{
    /// <summary>What each chart says, in the order of <see cref="SignKind"/>.</summary>
    /// <param name="signs">The running state.</param>
    public static IReadOnlyList<EarlySign> Of(UnitSigns signs)
    {
        int measured = signs.Durations.Programmes.Where(one => one.IsKnown).Sum(one => one.Count);
        EarlySign Duration(SignKind kind, SignSum sum) => Of(
            kind, sum, DurationChart.UnitsPerDeviation, signs.Durations.IsCharted, signs.Durations.Rate.PerYear, null, measured);
        return
        [
            Of(
                SignKind.BadWashes, signs.Bad.Sum, signs.Bad.StepsPerBadWash, signs.Bad.Sum.Limit > 0, signs.Bad.Rate.PerYear,
                signs.Bad.BaseShare, (int)Math.Round(signs.Bad.BaselineWashes)),
            Duration(SignKind.LongerWashes, signs.Durations.Longer),
            Duration(SignKind.ShorterWashes, signs.Durations.Shorter),
        ];
    }

    private static EarlySign Of(
        SignKind kind, SignSum sum, double unit, bool isCharted, double washesPerYear, double? share, int baseline) =>
        !isCharted || sum.Limit == 0
            ? new EarlySign(kind, false, 0, 0, null, null, 0, 0, 0, null, baseline, null, null, sum.EndedAt, sum.Ended)
            : new EarlySign(
                kind, true, sum.Value / unit, sum.Limit / unit, sum.Since, sum.CalledAt, sum.Washes, sum.Seen, sum.Expected, share, baseline,
                sum.WashesBetweenFalseAlarms, washesPerYear / sum.WashesBetweenFalseAlarms, sum.EndedAt, sum.Ended);
}
