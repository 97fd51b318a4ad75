using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>The trend in one sentence: a rise or fall is named only where it is more than chance.</summary>
public static class TrendSentences
{
    /// <summary>How the trend is told.</summary>
    public static string Method => Texts.Method;

    private static TrendTexts Texts => ComplianceTexts.Now.Trend;

    /// <summary>What the weeks show.</summary>
    /// <param name="trend">The line through them.</param>
    /// <param name="weeks">How many weeks were looked at.</param>
    /// <returns>One sentence.</returns>
    public static string Of(OnTimeTrend trend, int weeks)
    {
        ArgumentNullException.ThrowIfNull(trend);
        if (trend.Due == 0)
        {
            return Texts.NoneDue.For(weeks);
        }

        if (trend.Change is not { } change)
        {
            return Texts.CannotTell.For(weeks, ("why", DoubtAfterColon(trend) ?? Texts.TooFewRecords));
        }

        (string, string) points = ("points", Fill.In(
            Texts.Points, ("points", Text.Points(change.Value)), ("lower", Text.Points(change.Lower ?? double.NaN)), ("upper", Text.Points(change.Upper ?? double.NaN))));
        return trend.IsClear
            ? (change.Value < 0 ? Texts.Fell : Texts.Rose).For(weeks, ("start", Limited(trend.Start)), ("end", Limited(trend.End)), points)
            : Texts.Steady.For(weeks, points);
    }

    /// <summary>What limits a trend.</summary>
    /// <param name="trend">The line.</param>
    /// <returns>One sentence; none where nothing does.</returns>
    public static IReadOnlyList<string> Doubts(OnTimeTrend trend) => DoubtAfterColon(trend) is { } doubt ? [Text.Capital(doubt)] : [];

    /// <summary>What limits a trend, after a colon.</summary>
    /// <param name="trend">The line.</param>
    /// <returns>A clause with a full stop; null where nothing does.</returns>
    public static string? DoubtAfterColon(OnTimeTrend trend)
    {
        ArgumentNullException.ThrowIfNull(trend);
        return trend.Doubts.Count == 0 ? null
            : trend.Start is null ? Texts.FewPeriods
            : Fill.In(Texts.FewUnits, ("fewest", Text.Count(OnTimeTrend.FewestUnits)), ("units", Text.Count(trend.Units)));
    }

    private static string Limited(double? share) => share is { } known ? Text.Share(Math.Clamp(known, 0, 1)) : Text.NotKnown;
}
