using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

/// <summary>What follows from a visit and what speaks against it, in sentences; page and API say the same.</summary>
public static class VisitSentences
{
    /// <summary>What an outcome means for what comes next.</summary>
    /// <param name="outcome">How the visit ended.</param>
    /// <param name="missing">Names of proofs that were not done or failed.</param>
    /// <returns>A sentence; null: nothing follows.</returns>
    public static string? Next(VisitOutcome? outcome, IReadOnlyList<string> missing)
    {
        ArgumentNullException.ThrowIfNull(missing);
        return outcome switch
        {
            VisitOutcome.Proven => "Repaired and proven: the next wash is expected as the rule says.",
            VisitOutcome.RepairedNotProven when missing.Count == 0 => "Repaired, not proven, though every proof that was told has passed.",
            VisitOutcome.RepairedNotProven => "Repaired, not proven. Missing: " + string.Join("; ", missing).ToLowerInvariant() + ".",
            VisitOutcome.WaitingPart => "The repair waits for a part.",
            VisitOutcome.WaitingApproval => "The repair waits for an approval.",
            VisitOutcome.NoFaultFound => "No fault was found; if the fault stays open, it waits for another visit.",
            null => "Nobody said how the visit ended; a lockout that stands after it counts as one that nobody asked a visit for.",
            _ => throw new ArgumentOutOfRangeException(nameof(outcome), outcome, "An outcome without words."),
        };
    }

    /// <summary>What the unit's own records say against a repair.</summary>
    /// <param name="verdict">What is known of the repair.</param>
    /// <param name="saidFullWash">Whether the visit says that the full wash passed.</param>
    /// <param name="timeZone">IANA time zone of the site.</param>
    /// <returns>A sentence; null: nothing.</returns>
    public static string? Contradiction(RepairVerdict verdict, bool saidFullWash, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        string when = Text.Moment(verdict.ContradictedBy?.StartedAt.ToDateTimeOffset(), timeZone);
        const string FullWash = "A full wash is said to have completed, but the unit";
        return verdict.Contradiction switch
        {
            RepairContradiction.None => null,
            RepairContradiction.WashOfVisitStopped => $"{FullWash}'s last wash of the visit, begun {when}, did not.",
            RepairContradiction.WashOfVisitTooLow =>
                $"{FullWash}'s last wash of the visit, begun {when}, was of a lower grade than its rule asks for.",
            RepairContradiction.DetergentLeft =>
                $"Detergent is said to have dissolved, but some was found left after the wash begun {when}.",
            RepairContradiction.FirstWashStopped when saidFullWash =>
                $"{FullWash} reported none, and a fault stopped the next one, begun {when}.",
            RepairContradiction.FirstWashStopped => $"A fault stopped the first wash after the repair, begun {when}.",
            RepairContradiction.FirstWashRefused when saidFullWash => $"{FullWash} reported none, and it refused the next one, {when}.",
            RepairContradiction.FirstWashRefused => $"The unit refused the first wash after the repair, {when}.",
            RepairContradiction.SameFaultAgain =>
                $"The same fault was there again {Text.Moment(verdict.SettledAt?.ToDateTimeOffset(), timeZone)}, within seven days of the repair.",
            _ => throw new ArgumentOutOfRangeException(nameof(verdict), verdict.Contradiction, "A contradiction without words."),
        };
    }

    /// <summary>That another visit was made at the same time.</summary>
    /// <param name="technician">Who made it; null: not told.</param>
    /// <param name="arrivedAt">When it began.</param>
    /// <param name="timeZone">IANA time zone of the site.</param>
    /// <returns>A sentence.</returns>
    public static string Overlaps(string? technician, DateTimeOffset? arrivedAt, string timeZone) =>
        $"Another visit to this unit{(technician is null ? null : " by " + technician)}, begun {Text.Moment(arrivedAt, timeZone)}, covers the same time: "
        + "both are kept and both count, so one of the two may have been reported twice.";

    /// <summary>A part that was taken out and one that was put in.</summary>
    /// <param name="position">Name of the position.</param>
    /// <param name="removedReason">Why a part was taken out, as the API spells it; null: none was.</param>
    /// <param name="failureMode">How it failed.</param>
    /// <param name="seenGood">Day on which it was last seen good, in words; null: not told.</param>
    /// <param name="fitted">Whether a part was put in.</param>
    /// <param name="partNumber">Its part number.</param>
    /// <param name="batch">Its batch.</param>
    /// <returns>A sentence.</returns>
    public static string PartChange(
        string position, string? removedReason, string? failureMode, string? seenGood, bool fitted, string? partNumber, string? batch)
    {
        string? removed = removedReason is null ? null
            : "old part out, " + Text.Words(removedReason).ToLowerInvariant()
                + (failureMode is null ? null : " (" + Text.Words(failureMode).ToLowerInvariant() + ")")
                + (seenGood is null ? null : ", last seen good " + seenGood);
        string? put = fitted ? "new part in" + (partNumber is null ? ", its number not known" : ", " + partNumber) + (batch is null ? null : ", batch " + batch) : null;
        return position + ": " + string.Join("; ", new[] { removed, put }.OfType<string>()) + ".";
    }

    /// <summary>What the change of a failed part does to the figures.</summary>
    /// <param name="position">Name of the position.</param>
    /// <returns>A sentence.</returns>
    public static string CountsAsFailure(string position) => position + ": its failure counts in part life from now on.";

    /// <summary>What a visit asked to have approved, and what came of it.</summary>
    /// <param name="what">What has to be approved.</param>
    /// <param name="amount">What it will cost.</param>
    /// <param name="granted">The decision; null: nobody has decided.</param>
    /// <param name="decided">By whom and when it was decided, in words.</param>
    /// <param name="withdrawn">Whether it was withdrawn.</param>
    /// <returns>A sentence.</returns>
    public static string Asked(string what, double? amount, bool? granted, string? decided, bool withdrawn) =>
        "Approval asked for: " + what + (amount is { } sum ? ", " + Text.Tick(Math.Round(sum, 2)) : null) + "; "
        + (withdrawn ? "withdrawn" : granted switch { true => "granted", false => "refused", null => "nobody has decided yet" })
        + (granted is null || withdrawn ? null : " " + decided) + ".";
}
