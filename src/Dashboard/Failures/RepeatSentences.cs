using Washwear.Analytics.Repeats;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Failures;

/// <summary>What came back after a repair, in words.</summary>
public static class RepeatSentences
{
    /// <summary>The finding.</summary>
    /// <param name="repairs">Repairs in the window.</param>
    /// <param name="repeats">How many came back.</param>
    /// <param name="windowDays">Days within which they had to.</param>
    /// <param name="places">Units and positions, the surest first.</param>
    /// <param name="batches">Batches, the surest first.</param>
    /// <returns>One or two sentences.</returns>
    public static string Of(int repairs, int repeats, int windowDays, IReadOnlyList<RepeatPlace> places, IReadOnlyList<RepeatBatch> batches)
    {
        ArgumentNullException.ThrowIfNull(places);
        ArgumentNullException.ThrowIfNull(batches);
        if (repairs == 0)
        {
            return "No part was replaced after a failure in this time, so nothing could come back.";
        }

        string[] called =
        [
            .. places.Where(place => place.Called).Take(2).Select(place => place.Unit + " at the " + place.PositionName.ToLowerInvariant()),
            .. batches.Where(batch => batch.Called).Take(2).Select(batch => "batch " + batch.Batch + " of the " + batch.PositionName.ToLowerInvariant()),
        ];
        return "Of " + Text.Counted(repairs, "repair") + " " + Text.Count(repeats) + " came back within " + Text.Counted(windowDays, "day") + ". "
            + (called.Length == 0
                ? "No unit and no batch fails more than parts of their ages would."
                : "More failures than parts of their ages would bring: " + string.Join(", ", called) + ".");
    }

    /// <summary>Why a repeat points to what it does.</summary>
    /// <param name="repeat">The repeat.</param>
    /// <param name="position">Name of the position that was repaired.</param>
    /// <param name="batch">Batch that was fitted; null: not known.</param>
    /// <param name="code">Fault code that led to the repair; null: none.</param>
    /// <param name="options">The choice made.</param>
    /// <returns>One sentence.</returns>
    public static string Evidence(Repeat repeat, string position, string? batch, string? code, RepeatOptions options)
    {
        ArgumentNullException.ThrowIfNull(repeat);
        ArgumentNullException.ThrowIfNull(options);
        string name = position.ToLowerInvariant();
        return repeat.Kind switch
        {
            RepeatKind.WrongCauseFound => "Fault " + code + " came back after " + Days(repeat.Days) + ", and the cause was then found elsewhere than at the " + name + ".",
            RepeatKind.RepairDidNotHold => "The new " + name + " failed after " + Days(repeat.Days) + "; a failure within " + Days(repeat.EarlyDays) + " is early.",
            RepeatKind.BadBatch => "Batch " + batch + " has " + Text.Counted(repeat.Batch!.Failures, "failure") + " where " + Text.Number(repeat.Batch.Expected) + " were expected.",
            RepeatKind.UnitEatsParts => "This unit has " + Text.Counted(repeat.UnitAtPosition!.Failures, "failure") + " at the " + name + " where "
                + Text.Number(repeat.UnitAtPosition.Expected) + " were expected.",
            RepeatKind.Unexplained => Text.Count(repeat.Place.CameBack) + " of " + Text.Counted(repeat.Place.Repairs, "repair") + " came back here, where "
                + Text.Number(repeat.Place.Expected) + " were expected.",
            _ => repeat.ExpectedChance is { } chance
                ? "Such a repair comes back within " + Days(options.WindowDays) + " in " + Text.Share(chance) + " of cases anyway."
                : "Too little is known to say more.",
        };
    }

    private static string Days(double days) => Text.Counted((int)Math.Max(1, Math.Round(days)), "day");
}
