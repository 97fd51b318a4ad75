using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on decisions about planned jobs.</summary>
public static class DecisionSentences
{
    /// <summary>What a decision means for the plan.</summary>
    /// <param name="row">The decision; its sentence may still be empty.</param>
    public static string Of(PlanDecisionRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        string what = row.Decision switch
        {
            PlanDecisionWord.Accepted => $"is planned for {Day(row)}",
            PlanDecisionWord.Postponed => $"is not planned before {Day(row)}",
            PlanDecisionWord.Rejected => "is not planned",
            PlanDecisionWord.Revoked => "is planned as if nothing had been decided",
            _ => throw new ArgumentOutOfRangeException(nameof(row), row.Decision, "A decision without words."),
        };
        string why = row.Reason is { Length: > 0 } reason ? $": {reason.TrimEnd('.')}" : string.Empty;
        string still = row.InForce ? string.Empty : row.Decision == PlanDecisionWord.Revoked ? string.Empty : " This holds no longer.";
        return $"{row.PositionName} of {row.Unit} {what} (decided by {row.By}){why}.{still}";
    }

    /// <summary>The finding over some decisions.</summary>
    /// <param name="all">How many there are.</param>
    /// <param name="inForce">How many of them hold.</param>
    public static string Finding(int all, int inForce) => all == 0 ? "Nothing was decided about planned jobs yet."
        : $"{Text.Counted(inForce, "decision holds", "decisions hold")} now, of {Text.Counted(all, "decision")} taken.";

    private static string Day(PlanDecisionRow row) => row.Date is { } day ? Text.Date(day) : Text.NotKnown;
}
