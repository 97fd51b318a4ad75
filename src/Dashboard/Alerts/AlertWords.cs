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
    public static string Name(AlertKind kind) => State(kind) is { } state ? CleaningWords.Name(state) : "Getting worse";

    /// <summary>The cleaning state that the kind tells of.</summary>
    /// <param name="kind">The kind.</param>
    /// <returns>The state; null for a kind that tells of no state.</returns>
    public static CleaningState? State(AlertKind kind) => kind switch
    {
        AlertKind.Overdue => CleaningState.Overdue,
        AlertKind.LockedOut => CleaningState.LockedOut,
        AlertKind.Silent => CleaningState.Silent,
        AlertKind.EarlySign => null,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A kind without a state."),
    };

    /// <summary>How many alerts wait, in one sentence.</summary>
    /// <param name="open">Alerts that nobody has seen.</param>
    /// <param name="seen">Alerts that somebody has seen and that still hold.</param>
    /// <returns>The sentence.</returns>
    public static string Finding(int open, int seen) => (open, seen) switch
    {
        (0, 0) => "No alert is open.",
        (0, _) => "Nothing new: " + Text.Counted(seen, "alert") + " still " + (seen == 1 ? "holds" : "hold") + ", seen already.",
        (_, 0) => Text.Counted(open, "alert") + " " + (open == 1 ? "waits" : "wait") + " to be seen.",
        _ => Text.Counted(open, "alert") + " " + (open == 1 ? "waits" : "wait") + " to be seen; " + Text.Count(seen) + " more still hold.",
    };

    /// <summary>What changed in a day, in one sentence.</summary>
    /// <param name="opened">Alerts opened.</param>
    /// <param name="closed">Alerts closed.</param>
    /// <param name="open">Alerts that are not closed.</param>
    /// <returns>The sentence.</returns>
    public static string Day(int opened, int closed, int open) => opened + closed == 0
        ? "Nothing changed in the last 24 hours; " + (open == 0 ? "no alert is open." : Text.Counted(open, "alert") + " still open.")
        : "In the last 24 hours " + Text.Counted(opened, "alert") + " opened and " + Text.Count(closed) + " closed; "
            + (open == 0 ? "none is open now." : Text.Count(open) + " open now.");
}
