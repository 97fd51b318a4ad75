using System.Globalization;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;

namespace Washwear.Api.Ingest;

/// <summary>What can be wrong, or doubtful, with what a record says, each with its mend.</summary>
internal static class RuleProblems
{
    public static RowProblem UnknownCode(string field, string what, string code, string? nearest) => new(
        field,
        "unknown_" + what,
        $"There is no {what} '{code}'.",
        nearest is null ? $"Correct the code, or enter the {what} in the registry first." : $"Did you mean '{nearest}'? If not, enter the {what} in the registry first.");

    public static RowProblem UncataloguedFault(string field, string code, string model) => new(
        field,
        "uncatalogued_fault",
        $"Model '{model}' has no fault '{code}' in its catalogue; the record was taken in with the code as it is.",
        "Add the fault to the model if it matters, above all if it locks out washing; past records then count as well.");

    public static RowProblem TooOld(string field, DateTimeOffset at, DateTimeOffset earliest) => new(
        field,
        "too_old",
        $"{InstantConverter.Format(at)} is before {earliest.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}.",
        "Set the sender's clock and send the true instant; leave the record out if nobody knows it.");

    public static RowProblem InTheFuture(string field, DateTimeOffset at, DateTimeOffset now) => new(
        field,
        "in_the_future",
        $"{InstantConverter.Format(at)} is more than 24 hours ahead of this server's clock, {InstantConverter.Format(now)}.",
        "Set the sender's clock, and check day and month.");

    public static RowProblem EndsBeforeStart(string field) => new(
        field, "ends_before_start", $"{field} is before the start.", "Correct one of the two instants.");

    public static RowProblem NotFinite(string field) => new(
        field, "finite", "The number is not finite.", "Leave the field out if the value is not known.");

    public static RowProblem Negative(string field) => new(
        field, "not_negative", "The number is below 0.", "Give 0 or more, or leave the field out.");

    public static RowProblem TooLarge(string field, double most) => new(
        field,
        "too_large",
        $"The number is above {most.ToString("#,0", CultureInfo.InvariantCulture)}, more than can be.",
        "Check the number and its unit, or leave the field out.");

    public static RowProblem BadKey() => new(
        "key", "key", "A key has 1 to 200 characters.", "Give each record a key of its own, such as the unit and the instant.");

    public static RowProblem SourceOfAnother(string source, string only) => new(
        "source", "source_of_another", $"The record names the source '{source}', but this sender sees a part of the fleet only and sends under its own name, '{only}'.",
        "Leave the source out, or send with a key that sees the whole fleet.");

    public static RowProblem ReplacesItself() => new(
        "replaces", "replaces_itself", "The record replaces its own key.", "Send the correction under a new key.");

    public static RowProblem VoidsItself() => new("voids", "voids_itself", "The record voids its own key.", "Name the key of the record to void.");

    public static RowProblem VoidOfAVoid(string key) => new(
        "voids",
        "void_of_a_void",
        $"'{key}' is itself a void, and a void cannot be taken back.",
        "Send the record that should count again, under a new key.");

    public static RowProblem IneffectiveVoid(string field, string key) => new(
        field,
        "void_of_a_void",
        $"'{key}' is a void, which stays in force whatever names it.",
        "Nothing needs to be done; to make a voided record count again, send it under a new key.");

    public static RowProblem AfterDecommissioning(string unit, DateOnly left, string field = "at") => new(
        field,
        "after_decommissioning",
        $"Unit '{unit}' left on {left.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}.",
        "Correct the instant or the asset tag, or the unit's decommissioned_on in the registry, and send the row again.");

    public static RowProblem BeforeCommissioning(string unit, DateOnly from) => new(
        "at",
        "before_commissioning",
        $"Unit '{unit}' was commissioned on {from.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}, after this.",
        "Check the instant, or the unit's commissioned_on in the registry.");

    public static RowProblem RefusedWithEnd() => new(
        "ended_at", "refused_with_end", "A wash that the unit refused to start has no end.", "Take out ended_at, or give the outcome that it had.");

    public static RowProblem LongWash(TimeSpan length) => new(
        "ended_at",
        "long_wash",
        string.Create(CultureInfo.InvariantCulture, $"The wash took {length.TotalHours:0.#} hours."),
        "Check both instants; replace the record if one is wrong.");

    public static RowProblem NoEnd() => new(
        "ended_at",
        "no_end",
        "A completed wash without its end cannot keep a cleaning rule.",
        "Replace the record by one with ended_at.");

    public static RowProblem NoGrade() => new(
        "grade",
        "no_grade",
        "Neither programme nor grade is given, so the wash cannot keep a cleaning rule.",
        "Replace the record by one with the programme or the grade.");

    public static RowProblem GradeDiffers(ProgrammeGrade reported, ProgrammeGrade listed, string programme) => new(
        "grade",
        "grade_differs",
        $"Reported as {EnumText<ProgrammeGrade>.Of(reported)}, but programme '{programme}' is {EnumText<ProgrammeGrade>.Of(listed)} in the registry; the reported grade counts.",
        "Correct the model's programme, or leave the grade out.");

    public static RowProblem ProgrammeNotListed(string programme, string model) => new(
        "programme",
        "programme_not_listed",
        $"Model '{model}' has no programme '{programme}'; the reported grade counts.",
        "Add the programme to the model.");

    public static RowProblem EmptyPartChange() => new(
        "removed",
        "empty_part_change",
        "Nothing was removed and nothing fitted.",
        "Give removed, fitted or both; \"fitted\":{} says that a part was put in of which nothing is known.");

    public static RowProblem EmptyMeter() => new(
        "washes_total", "empty_meter", "The reading holds no number.", "Give washes_total, operating_hours_total or both.");

    public static RowProblem SeenGoodAfterRemoval() => new(
        "removed.last_seen_good_at",
        "seen_good_after_removal",
        "The part was seen good after it was removed.",
        "Correct one of the two instants.");

    public static RowProblem RemovedBeforeFitted(DateTimeOffset at, DateTimeOffset fitted) => new(
        "at",
        "removed_before_fitted",
        $"The part was taken out at {InstantConverter.Format(at)}, but had been fitted only at {InstantConverter.Format(fitted)}.",
        "Correct the instant of the change; if another part was taken out, correct removed.fitted_at or leave it out.");

    public static RowProblem SeenGoodNotUsed() => new(
        "removed.last_seen_good_at",
        "seen_good_not_used",
        "Only for a part that was found failed does it matter when it was last seen good.",
        "Give found_failed as the reason if nobody saw it fail.");

    public static RowProblem ModeWithoutFailure() => new(
        "removed.failure_mode",
        "mode_without_failure",
        "A failure mode is given for a part that was taken out while it worked; it is not counted as a failure.",
        "Give failed or found_failed as the reason if it had failed.");

    public static RowProblem NotListed(string field, string what, string value, string position) => new(
        field,
        what + "_not_listed",
        $"Position '{position}' does not list '{value}'.",
        "Check the spelling, or add it to the model.");
}
