using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>The records of a unit's timeline, in one sentence each; page and API say the same.</summary>
public static class HistorySentences
{
    /// <summary>A wash, a refusal or a clean by hand.</summary>
    /// <param name="what">Programme or grade, as reported; null: not told.</param>
    /// <param name="outcome">How it ended.</param>
    /// <param name="minutes">How long it ran; null: not known.</param>
    /// <param name="faultCode">Fault that stopped or refused it.</param>
    /// <param name="detergentLeft">Whether detergent was found left; null: nobody looked.</param>
    /// <param name="attestedBy">Who attests a clean by hand.</param>
    /// <returns>The sentence.</returns>
    public static string Wash(string? what, WashOutcome outcome, double? minutes, string? faultCode, bool? detergentLeft, string? attestedBy)
    {
        string wash = attestedBy is not null ? "Clean by hand" : what is null ? "Wash" : Named(Text.Words(what));
        string ended = outcome switch
        {
            WashOutcome.Completed => attestedBy is null ? "completed" : "attested by " + attestedBy,
            WashOutcome.StoppedByPerson => "stopped by a person",
            WashOutcome.StoppedByFault => "stopped by a fault",
            WashOutcome.Refused => "refused by the unit",
            WashOutcome.Unknown => "ran; its outcome is not known",
            _ => throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "An outcome without words."),
        };
        return wash + " " + ended
            + (faultCode is null ? string.Empty : " (" + faultCode + ")")
            + (minutes is null ? string.Empty : " after " + Text.Duration(minutes / 60))
            + (detergentLeft == true ? "; detergent left undissolved" : string.Empty) + ".";
    }

    // Many programmes are called a wash or a rinse already.
    private static string Named(string programme) =>
        programme.EndsWith("wash", StringComparison.OrdinalIgnoreCase) || programme.EndsWith("rinse", StringComparison.OrdinalIgnoreCase) ? programme : programme + " wash";

    /// <summary>A fault that was raised.</summary>
    /// <param name="code">Its code.</param>
    /// <param name="meaning">What the catalogue says it means; null: it is not listed.</param>
    /// <param name="hoursToClear">Hours until it was cleared, where the record says so.</param>
    /// <returns>The sentence.</returns>
    public static string Fault(string code, string? meaning, double? hoursToClear) =>
        "Fault " + code + " raised" + (meaning is null ? string.Empty : ": " + meaning.TrimEnd('.'))
        + (hoursToClear is null ? string.Empty : "; cleared after " + Text.Duration(hoursToClear)) + ".";

    /// <summary>A fault that was cleared.</summary>
    /// <param name="code">Its code.</param>
    /// <returns>The sentence.</returns>
    public static string FaultCleared(string code) => "Fault " + code + " cleared.";

    /// <summary>A part that was taken out, put in, or both.</summary>
    /// <param name="position">Name of the position.</param>
    /// <param name="removedReason">Why a part was taken out, as the API spells it; null: none was.</param>
    /// <param name="failureMode">How it failed.</param>
    /// <param name="fitted">Whether a part was put in.</param>
    /// <param name="partNumber">Its part number.</param>
    /// <returns>The sentence.</returns>
    public static string PartChange(string position, string? removedReason, string? failureMode, bool fitted, string? partNumber)
    {
        string? removed = removedReason is null ? null
            : "old part out: " + Text.Words(removedReason).ToLowerInvariant() + (failureMode is null ? string.Empty : " (" + failureMode + ")");
        string? put = fitted ? "new part in" + (partNumber is null ? string.Empty : ": " + partNumber) : null;
        return position + ": " + string.Join("; ", new[] { removed, put }.OfType<string>()) + ".";
    }

    /// <summary>A visit asked for, under way or over.</summary>
    /// <param name="technician">Who came or is to come; null: not told.</param>
    /// <param name="arrived">Whether work is known to have begun.</param>
    /// <param name="left">Whether it has ended.</param>
    /// <param name="hoursWaited">From asking to arrival; null: not known.</param>
    /// <param name="hoursOnSite">From arrival to leaving; null: not known.</param>
    /// <param name="outcome">How it ended; null: not told.</param>
    /// <param name="found">What was wrong, in words; empty: nothing told.</param>
    /// <returns>The sentence.</returns>
    public static string Visit(
        string? technician, bool arrived, bool left, double? hoursWaited, double? hoursOnSite, VisitOutcome? outcome, IReadOnlyList<string> found)
    {
        ArgumentNullException.ThrowIfNull(found);
        string who = technician is null ? string.Empty : " by " + technician;
        if (!arrived && !left)
        {
            return "Visit" + who + " asked for.";
        }

        string waited = hoursWaited is null ? string.Empty : ", " + Text.Duration(hoursWaited) + " after it was asked for";
        string ended = left ? outcome switch
        {
            VisitOutcome.Proven => "repaired and proven",
            VisitOutcome.RepairedNotProven => "repaired, not proven",
            VisitOutcome.WaitingApproval => "left to wait for an approval",
            VisitOutcome.WaitingPart => "left to wait for a part",
            VisitOutcome.NoFaultFound => "no fault found",
            null => "ended; nobody said how",
            _ => throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "An outcome without words."),
        }
        : "no departure on record yet";
        return "Visit" + who + waited + ": " + ended
            + (hoursOnSite is null ? string.Empty : " after " + Text.Duration(hoursOnSite))
            + (found.Count == 0 ? string.Empty : "; found: " + string.Join(", ", found)) + ".";
    }

    /// <summary>A decision on a repair, asked for or made.</summary>
    /// <param name="what">What is to be approved; null: not told.</param>
    /// <param name="amount">What it costs; null: not told.</param>
    /// <param name="granted">What was decided; null: it is open.</param>
    /// <param name="decidedBy">By whom.</param>
    /// <param name="hoursWaited">From asking to the decision; null: not known.</param>
    /// <returns>The sentence.</returns>
    public static string Approval(string? what, double? amount, bool? granted, string? decidedBy, double? hoursWaited)
    {
        string ended = granted switch { null => "asked for", true => "granted", false => "refused" };
        return "Approval " + ended
            + (decidedBy is null ? string.Empty : " by " + decidedBy)
            + (hoursWaited is null ? string.Empty : " after " + Text.Duration(hoursWaited))
            + (what is null ? string.Empty : ": " + what.TrimEnd('.'))
            + (amount is null ? string.Empty : " (cost " + Text.Number(amount) + ")") + ".";
    }

    /// <summary>A part that was looked at and left in.</summary>
    /// <param name="position">Name of the position.</param>
    /// <param name="grade">How it looks, as the API spells it.</param>
    /// <param name="note">Words; null: none.</param>
    /// <returns>The sentence.</returns>
    public static string Condition(string position, string grade, string? note)
    {
        ArgumentNullException.ThrowIfNull(grade);
        return position + " looked at: " + Text.Words(grade).ToLowerInvariant() + (note is null ? string.Empty : "; " + note.TrimEnd('.')) + ".";
    }

    /// <summary>A reading of the unit's counters.</summary>
    /// <param name="washes">Washes in all; null: not read.</param>
    /// <param name="operatingHours">Operating hours in all; null: not read.</param>
    /// <returns>The sentence.</returns>
    public static string Meter(double? washes, double? operatingHours) => "Meter read: " + string.Join(", ", new[]
    {
        washes is null ? null : Text.Number(washes) + " washes",
        operatingHours is null ? null : Text.Number(operatingHours) + " operating hours",
    }.OfType<string>()) + ".";
}
