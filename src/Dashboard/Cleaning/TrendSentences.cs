using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Cleaning;

/// <summary>The trend in one sentence: a rise or fall is named only where it is more than chance.</summary>
public static class TrendSentences
{
    /// <summary>What the weeks show.</summary>
    /// <param name="trend">The line through them.</param>
    /// <param name="weeks">How many weeks were looked at.</param>
    /// <returns>One sentence.</returns>
    public static string Of(OnTimeTrend trend, int weeks)
    {
        ArgumentNullException.ThrowIfNull(trend);
        string over = " over " + Text.Counted(weeks, "week");
        if (trend.Due == 0)
        {
            return "No wash was due" + over + ".";
        }

        if (trend.Change is not { } change)
        {
            return "Whether washing gets better or worse" + over + " cannot be told: " + (trend.Doubts.Count == 0 ? "too few records." : Lower(trend.Doubts[0]));
        }

        string points = Points(change.Value) + " points (" + Points(change.Lower ?? double.NaN) + " to " + Points(change.Upper ?? double.NaN) + ")";
        return trend.IsClear
            ? "The share of washes on time " + (change.Value < 0 ? "fell" : "rose") + " from about " + Limited(trend.Start) + " to about " + Limited(trend.End)
                + over + ": by " + points + "."
            : "The share of washes on time shows no steady rise or fall" + over + " beyond chance: " + points + ".";
    }

    private static string Limited(double? share) => share is { } known ? Text.Share(Math.Clamp(known, 0, 1)) : Text.NotKnown;

    private static string Points(double share) =>
        Text.Points(share);

    private static string Lower(string words) => char.ToLowerInvariant(words[0]) + words[1..];
}
