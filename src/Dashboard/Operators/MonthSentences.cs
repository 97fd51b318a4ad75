using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Operators;

/// <summary>The findings about an operator's month; page and API say the same.</summary>
public static class MonthSentences
{
    /// <summary>How the report comes about.</summary>
    public static string Method => Texts.Method;

    private static MonthTexts Texts => MonthTexts.Now;

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
        string found = Fill.In(
            isOver ? Texts.Finding : Texts.FindingSoFar,
            ("month", month),
            ("kept", washing.Due == 0 ? Texts.NoneDue : Texts.Kept.For(washing.Due, ("share", Text.Share(washing.OnTimeShare?.Value)))),
            ("lockouts", Lockouts(lockouts)),
            ("repairs", Repairs(repairs)));
        return silent == 0 ? found : found + " " + Texts.Silent.For(silent);
    }

    /// <summary>Ovens that could not wash.</summary>
    /// <param name="lockouts">The lockouts.</param>
    /// <returns>One sentence.</returns>
    public static string Lockouts(IReadOnlyList<MonthLockout> lockouts)
    {
        ArgumentNullException.ThrowIfNull(lockouts);
        int units = lockouts.Select(row => row.Unit).Distinct(StringComparer.OrdinalIgnoreCase).Count();
        return units == 0 ? Texts.NoneLockedOut : Texts.LockedOut.For(units, ("time", Text.Duration(lockouts.Sum(row => row.Hours))));
    }

    /// <summary>Repairs, and how many of them are proven.</summary>
    /// <param name="repairs">The repairs.</param>
    /// <returns>One sentence.</returns>
    public static string Repairs(IReadOnlyList<RepairRow> repairs)
    {
        ArgumentNullException.ThrowIfNull(repairs);
        int doubted = repairs.Count(row => row.State == RepairState.Contradicted);
        int proven = repairs.Count(row => row.State is RepairState.ProvenByProofs or RepairState.ProvenByWashes);
        return repairs.Count == 0 ? Texts.NoRepair
            : (doubted == 0 ? Texts.Repaired : Texts.RepairedInDoubt).For(repairs.Count, ("proven", Text.Count(proven)), ("doubted", Text.Count(doubted)));
    }

    /// <summary>What was not heard from.</summary>
    /// <param name="silent">The ovens.</param>
    /// <returns>One sentence.</returns>
    public static string NotHeard(IReadOnlyList<MonthSilence> silent)
    {
        ArgumentNullException.ThrowIfNull(silent);
        return silent.Count == 0 ? Texts.AllHeard : Texts.NotHeard.For(silent.Count, ("time", Text.Duration(silent.Sum(row => row.Hours))));
    }
}
