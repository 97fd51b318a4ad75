using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

/// <summary>The findings about an operator's month; page and API say the same.</summary>
public static class MonthSentences
{
    /// <summary>The month in short.</summary>
    /// <param name="month">The month in words.</param>
    /// <param name="isOver">Whether it is over.</param>
    /// <param name="washing">How washes were kept.</param>
    /// <param name="lockouts">Ovens that could not wash.</param>
    /// <param name="repairs">Repairs that ended in it.</param>
    /// <param name="silent">How many ovens were not heard from.</param>
    /// <returns>Two or three sentences.</returns>
    public static string Finding(
        string month, bool isOver, WashingStretch washing, IReadOnlyList<MonthLockout> lockouts, IReadOnlyList<RepairRow> repairs, int silent)
    {
        ArgumentNullException.ThrowIfNull(washing);
        ArgumentNullException.ThrowIfNull(lockouts);
        ArgumentNullException.ThrowIfNull(repairs);
        string kept = washing.Due == 0
            ? "no wash was due that could be judged"
            : Text.Share(washing.OnTimeShare?.Value) + " of the " + Text.Counted(washing.Due, "wash", "washes") + " that were due were on time";
        return "In " + month + (isOver ? " " : ", so far, ") + kept + ". " + Lockouts(lockouts) + " " + Repairs(repairs)
            + (silent == 0 ? string.Empty : " " + Text.Capital(Text.Counted(silent, "oven was", "ovens were")) + " not heard from for a while.");
    }

    /// <summary>Ovens that could not wash.</summary>
    /// <param name="lockouts">The lockouts.</param>
    /// <returns>One sentence.</returns>
    public static string Lockouts(IReadOnlyList<MonthLockout> lockouts)
    {
        ArgumentNullException.ThrowIfNull(lockouts);
        int units = lockouts.Select(row => row.Unit).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        return units == 0
            ? "No oven was locked out of washing."
            : Text.Capital(Text.Counted(units, "oven was", "ovens were")) + " locked out of washing, for " + Text.Duration(lockouts.Sum(row => row.Hours))
                + (units == 1 ? "." : " in all.");
    }

    /// <summary>Repairs, and how many of them are proven.</summary>
    /// <param name="repairs">The repairs.</param>
    /// <returns>One sentence.</returns>
    public static string Repairs(IReadOnlyList<RepairRow> repairs)
    {
        ArgumentNullException.ThrowIfNull(repairs);
        int doubted = repairs.Count(row => row.State == RepairState.Contradicted);
        int proven = repairs.Count(row => row.State is RepairState.ProvenByProofs or RepairState.ProvenByWashes);
        return repairs.Count == 0
            ? "No repair ended."
            : Text.Capital(Text.Counted(repairs.Count, "repair")) + " ended, " + Text.Count(proven) + " of them proven"
                + (doubted == 0 ? string.Empty : " and " + Text.Count(doubted) + " in doubt") + ".";
    }

    /// <summary>What was not heard from.</summary>
    /// <param name="silent">The ovens.</param>
    /// <returns>One sentence.</returns>
    public static string NotHeard(IReadOnlyList<MonthSilence> silent)
    {
        ArgumentNullException.ThrowIfNull(silent);
        return silent.Count == 0
            ? "Every oven was heard from within its reporting time."
            : Text.Capital(Text.Counted(silent.Count, "oven was", "ovens were")) + " not heard from, for " + Text.Duration(silent.Sum(row => row.Hours))
                + " in all. Silence is not dirt: those washes are left out of the figures, neither kept nor missed.";
    }
}
