using System.Text.Json;
using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Units;

/// <summary>The records of a unit's timeline, in one sentence each; page and API say the same.</summary>
public static class HistorySentences
{
    private static HistoryTexts Texts => HistoryTexts.Now;

    /// <summary>A sign of life.</summary>
    public static string Heard => Texts.Heard;

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
        string wash = attestedBy is not null ? Texts.ByHand : what is null ? Texts.Wash : Named(what);
        string text = outcome == WashOutcome.Completed && attestedBy is not null
            ? Fill.In(Texts.Attested, ("wash", wash), ("name", attestedBy))
            : Fill.In(Texts.Washed[outcome], ("wash", wash));
        text = faultCode is null ? text : Fill.In(Texts.WithCode, ("code", faultCode), ("text", text));
        text = minutes is null ? text : Fill.In(Texts.WithTime, ("time", Text.DurationAfter(minutes / 60)), ("text", text));
        text = detergentLeft == true ? Fill.In(Texts.WithDetergent, ("text", text)) : text;
        return Fill.In(Texts.Sentence, ("text", text));
    }

    // Many programmes are called a wash or a rinse already.
    private static string Named(string programme)
    {
        if (Texts.Grades.FirstOrDefault(grade => JsonNamingPolicy.SnakeCaseLower.ConvertName(grade.Key.ToString()) == programme) is { Value: { } grade })
        {
            return grade;
        }

        string name = Text.Words(programme);
        return Fill.In(
            name.EndsWith("wash", StringComparison.OrdinalIgnoreCase) || name.EndsWith("rinse", StringComparison.OrdinalIgnoreCase) ? Texts.Named : Texts.NamedWash,
            ("programme", name));
    }

    /// <summary>A fault that was raised.</summary>
    /// <param name="code">Its code.</param>
    /// <param name="meaning">What the catalogue says it means; null: it is not listed.</param>
    /// <param name="hoursToClear">Hours until it was cleared, where the record says so.</param>
    /// <returns>The sentence.</returns>
    public static string Fault(string code, string? meaning, double? hoursToClear)
    {
        string text = meaning is null
            ? Fill.In(Texts.Fault, ("code", code))
            : Fill.In(Texts.FaultMeaning, ("code", code), ("meaning", meaning.TrimEnd('.')));
        text = hoursToClear is null ? text : Fill.In(Texts.FaultClearedAfter, ("time", Text.DurationAfter(hoursToClear)), ("text", text));
        return Fill.In(Texts.Sentence, ("text", text));
    }

    /// <summary>A fault that was cleared.</summary>
    /// <param name="code">Its code.</param>
    /// <returns>The sentence.</returns>
    public static string FaultCleared(string code) => Fill.In(Texts.FaultCleared, ("code", code));

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
            : Fill.In(
                failureMode is null ? Texts.PartOut : Texts.PartOutMode,
                ("reason", Texts.Reasons.GetValueOrDefault(removedReason) ?? Text.Words(removedReason).ToLowerInvariant()), ("mode", failureMode ?? string.Empty));
        string? put = !fitted ? null : partNumber is null ? Texts.PartIn : Fill.In(Texts.PartInNumber, ("number", partNumber));
        return Fill.In(Texts.Changed, ("changes", string.Join("; ", new[] { removed, put }.OfType<string>())), ("position", position));
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
        if (!arrived && !left)
        {
            return technician is null ? Texts.VisitAsked : Fill.In(Texts.VisitAskedOf, ("technician", technician));
        }

        string text = technician is null ? Texts.Visit : Fill.In(Texts.VisitOf, ("technician", technician));
        text = hoursWaited is null ? text : Fill.In(Texts.VisitWaited, ("time", Text.Duration(hoursWaited)), ("text", text));
        text = Fill.In(!left ? Texts.VisitOpen : outcome is { } known ? Texts.VisitEnded[known] : Texts.VisitEndedUntold, ("text", text));
        text = hoursOnSite is null ? text : Fill.In(Texts.WithTime, ("time", Text.DurationAfter(hoursOnSite)), ("text", text));
        text = found.Count == 0 ? text : Fill.In(Texts.VisitFound, ("found", string.Join(", ", found)), ("text", text));
        return Fill.In(Texts.Sentence, ("text", text));
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
        string text = granted switch { null => Texts.ApprovalAsked, true => Texts.ApprovalGranted, false => Texts.ApprovalRefused };
        text = decidedBy is null ? text : Fill.In(Texts.ApprovalBy, ("name", decidedBy), ("text", text));
        text = hoursWaited is null ? text : Fill.In(Texts.ApprovalWaited, ("time", Text.DurationAfter(hoursWaited)), ("text", text));
        text = what is null ? text : Fill.In(Texts.ApprovalFor, ("what", what.TrimEnd('.')), ("text", text));
        text = amount is null ? text : Fill.In(Texts.ApprovalCost, ("amount", Text.Number(amount)), ("text", text));
        return Fill.In(Texts.Sentence, ("text", text));
    }

    /// <summary>A part that was looked at and left in.</summary>
    /// <param name="position">Name of the position.</param>
    /// <param name="grade">How it looks, as the API spells it.</param>
    /// <param name="note">Words; null: none.</param>
    /// <returns>The sentence.</returns>
    public static string Condition(string position, string grade, string? note)
    {
        ArgumentNullException.ThrowIfNull(grade);
        string text = Fill.In(Texts.LookedAt, ("grade", Texts.Conditions.GetValueOrDefault(grade) ?? Text.Words(grade).ToLowerInvariant()), ("position", position));
        text = note is null ? text : Fill.In(Texts.LookedAtNote, ("note", note.TrimEnd('.')), ("text", text));
        return Fill.In(Texts.Sentence, ("text", text));
    }

    /// <summary>A reading of the unit's counters.</summary>
    /// <param name="washes">Washes in all; null: not read.</param>
    /// <param name="operatingHours">Operating hours in all; null: not read.</param>
    /// <returns>The sentence.</returns>
    public static string Meter(double? washes, double? operatingHours) => Fill.In(Texts.Meter, ("readings", string.Join(", ", new[]
    {
        washes is null ? null : Fill.In(Texts.MeterWashes, ("count", Text.Number(washes))),
        operatingHours is null ? null : Fill.In(Texts.MeterHours, ("count", Text.Number(operatingHours))),
    }.OfType<string>())));
}
