using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Alerts;

/// <summary>Alerts in words; page, API and message say the same.</summary>
public static class AlertWords
{
    /// <summary>The kind in words.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>The words or the state.</returns>
    public static string Name(AlertKind kind) => State(kind) is { } state ? CleaningWords.Name(state) : AlertTexts.Now.GettingWorse;

    /// <summary>The cleaning state that the kind tells of.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>The state; null for a kind that tells of no state.</returns>
    public static CleaningState? State(AlertKind kind) => kind switch
    {
        AlertKind.Overdue => CleaningState.Overdue,
        AlertKind.LockedOut => CleaningState.LockedOut,
        AlertKind.Silent => CleaningState.Silent,
        AlertKind.EarlySign => null,
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    /// <summary>By what alerts are found.</summary>
    public static string Method => AlertTexts.Now.Method;

    /// <summary>How many alerts wait, in one sentence.</summary>
    /// <param name="open">Alerts that nobody has seen.</param>
    /// <param name="seen">Alerts that somebody has seen and that still hold.</param>
    /// <returns>The sentence.</returns>
    public static string Finding(int open, int seen)
    {
        AlertFindingTexts texts = AlertTexts.Now.Finding;
        return (open, seen) switch
        {
            (0, 0) => texts.None,
            (0, _) => texts.AllSeen.For(seen),
            (_, 0) => texts.Waiting.For(open),
            _ => texts.WaitingAndSeen.For(open, ("seen", Text.Count(seen))),
        };
    }

    /// <summary>What changed in a day, in one sentence.</summary>
    /// <param name="opened">Alerts opened.</param>
    /// <param name="closed">Alerts closed.</param>
    /// <param name="open">Alerts that are not closed.</param>
    /// <returns>The sentence.</returns>
    public static string Day(int opened, int closed, int open)
    {
        AlertDayTexts texts = AlertTexts.Now.Day;
        return (opened + closed, open) switch
        {
            (0, 0) => texts.Nothing,
            (0, _) => texts.NothingButOpen.For(open),
            (_, 0) => texts.NoneOpen.For(opened, ("closed", Text.Count(closed))),
            _ => texts.SomeOpen.For(opened, ("closed", Text.Count(closed)), ("open", Text.Count(open))),
        };
    }
}
