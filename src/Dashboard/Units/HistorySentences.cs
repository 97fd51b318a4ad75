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
        string wash = attestedBy is not null ? "Clean by hand" : what is null ? "Wash" : Text.Words(what) + " wash";
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
