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
        VisitsDecisionsTexts texts = PlanVisitsTexts.Now.Decisions;
        string decided = Fill.In(
            (row.Reason is { Length: > 0 } ? texts.Because : texts.Of)[row.Decision],
            ("position", row.PositionName),
            ("unit", row.Unit),
            ("date", row.Date is { } day ? Text.Date(day) : Text.NotKnown),
            ("name", row.By),
            ("reason", row.Reason?.TrimEnd('.') ?? string.Empty));
        return row.InForce || row.Decision == PlanDecisionWord.Revoked ? decided : decided + " " + texts.NoLonger;
    }

    /// <summary>The finding over some decisions.</summary>
    /// <param name="all">How many there are.</param>
    /// <param name="inForce">How many of them hold.</param>
    public static string Finding(int all, int inForce)
    {
        VisitsDecisionsTexts texts = PlanVisitsTexts.Now.Decisions;
        return all == 0 ? texts.None : texts.Hold.For(inForce, ("taken", texts.Taken.For(all)));
    }
}
