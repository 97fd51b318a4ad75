using System.Globalization;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

/// <summary>The findings about an operator, in one sentence each; page and API say the same.</summary>
public static class OperatorSentences
{
    /// <summary>Whether a unit in a state waits for somebody.</summary>
    /// <param name="state">The state.</param>
    /// <returns>True for locked out, overdue and silent.</returns>
    public static bool Waits(CleaningState state) => state is CleaningState.LockedOut or CleaningState.Overdue or CleaningState.Silent;

    /// <summary>How many units wait for somebody.</summary>
    /// <param name="byState">Units by state.</param>
    /// <returns>The count.</returns>
    public static int Waiting(IReadOnlyDictionary<CleaningState, int> byState)
    {
        ArgumentNullException.ThrowIfNull(byState);
        return byState.Where(pair => Waits(pair.Key)).Sum(pair => pair.Value);
    }

    /// <summary>How an operator's ovens stand.</summary>
    /// <param name="byState">Units by state.</param>
    /// <param name="kitchens">Kitchens with a unit in service.</param>
    /// <param name="kitchensThatWait">Those with a unit that waits for somebody.</param>
    /// <returns>One sentence.</returns>
    public static string Finding(IReadOnlyDictionary<CleaningState, int> byState, int kitchens, int kitchensThatWait)
    {
        ArgumentNullException.ThrowIfNull(byState);
        int all = byState.Values.Sum();
        if (all == 0)
        {
            return "No oven of this operator is under a cleaning rule.";
        }

        (CleaningState State, string One, string Many)[] words =
        [
            (CleaningState.LockedOut, "cannot wash", "cannot wash"),
            (CleaningState.Overdue, "has no wash that counts", "have no wash that counts"),
            (CleaningState.Silent, "is not heard from", "are not heard from"),
        ];
        string[] parts =
        [
            .. words.Select(word => (word, Count: byState.GetValueOrDefault(word.State))).Where(pair => pair.Count > 0)
                .Select(pair => Text.Count(pair.Count) + " " + (pair.Count == 1 ? pair.word.One : pair.word.Many)),
        ];
        string where = Text.Counted(all, "oven") + " in " + Text.Counted(kitchens, "kitchen");
        return parts.Length == 0
            ? "None of " + where + " waits for anybody."
            : "Of " + where + ", " + Listed(parts) + (kitchensThatWait == 1 ? ": all in one kitchen." : ", in " + Text.Counted(kitchensThatWait, "kitchen") + ".");
    }

    /// <summary>How operators stand beside each other.</summary>
    /// <param name="rows">Every operator that matches.</param>
    /// <returns>One sentence.</returns>
    public static string List(IReadOnlyCollection<OperatorListRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        string found = Text.Counted(rows.Count, "operator") + " on record";
        OperatorListRow? most = rows.OrderByDescending(row => row.UnitsThatWait).FirstOrDefault();
        return most is not { UnitsThatWait: > 0 } ? found + "; no oven waits for anybody."
            : found + "; " + Text.Counted(rows.Sum(row => row.UnitsThatWait), "oven waits", "ovens wait") + " for somebody"
                + (rows.Count == 1 ? "." : ", most at " + most.OperatorName + " (" + Text.Count(most.UnitsThatWait) + " of " + Text.Count(most.Units) + ").");
    }

    /// <summary>How washing changed.</summary>
    /// <param name="now">The later stretch.</param>
    /// <param name="trend">The change between the two, counted by units.</param>
    /// <param name="later">The later stretch in words, such as 'In the last 28 days'.</param>
    /// <param name="earlier">The earlier one, such as 'the 28 days before'.</param>
    /// <returns>One or two sentences; a change is named only where it is more than chance explains.</returns>
    public static string Change(WashingStretch now, OnTimeTrend trend, string later, string earlier)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(trend);
        if (now.Due == 0)
        {
            return later + " no wash was due that could be judged.";
        }

        string kept = later + " " + Text.Count(now.OnTime) + " of " + Text.Counted(now.Due, "wash that was due was", "washes that were due were") + " on time ("
            + Text.Share(now.OnTimeShare?.Value) + "). ";
        if (trend.Change is not { Lower: { } lower, Upper: { } upper } change)
        {
            return kept + "Whether that differs from " + earlier + " cannot be told: "
                + (trend.Doubts.Count == 0 ? "there is too little on record." : char.ToLowerInvariant(trend.Doubts[0][0]) + trend.Doubts[0][1..]);
        }

        string points = Points(change.Value) + " points (" + Points(lower) + " to " + Points(upper) + ")";
        return kept + (!trend.IsClear ? "Against " + earlier + " that is no change beyond chance: " + points + "."
            : change.Value > 0 ? "That is better than " + earlier + " by more than chance: " + points + "."
            : "That is worse than " + earlier + " by more than chance: " + points + ".");
    }

    /// <summary>Repairs that came back.</summary>
    /// <param name="repairs">Repairs looked at.</param>
    /// <param name="count">How many came back.</param>
    /// <param name="days">Days that were looked back.</param>
    /// <param name="withinDays">Days after a repair within which a failure is a repeat.</param>
    /// <returns>One sentence.</returns>
    public static string Repeats(int repairs, int count, int days, int withinDays) =>
        count == 0 && repairs == 0 ? "No part was replaced after a failure in the last " + Text.Counted(days, "day") + " that could have come back."
        : count == 0 ? "None of the parts that were replaced failed again in the last " + Text.Counted(days, "day") + "."
        : Text.Counted(count, "part", "parts") + " failed again in the last " + Text.Counted(days, "day") + ", each within " + Text.Counted(withinDays, "day")
            + " of the repair.";

    /// <summary>A difference of shares in points of a hundred, with its sign.</summary>
    /// <param name="share">The difference.</param>
    /// <returns>Such as '+3.1'.</returns>
    public static string Points(double share) =>
        double.IsFinite(share) ? (share * 100).ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture) : Text.NotKnown;

    private static string Listed(string[] parts) => parts.Length == 1 ? parts[0] : string.Join(", ", parts[..^1]) + " and " + parts[^1];
}
