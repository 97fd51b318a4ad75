using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Visits;

/// <summary>What follows from a visit and what speaks against it, in sentences; page and API say the same.</summary>
public static class VisitSentences
{
    /// <summary>What a report of a visit rests on.</summary>
    public static string Method => Texts.Method;

    /// <summary>That a visit was reported as proven and is not believed.</summary>
    public static string ProvenBut => Texts.ProvenBut;

    /// <summary>What follows from a visit that was asked for only.</summary>
    public static string NobodyCameYet => Texts.NobodyCameYet;

    private static VisitTexts Texts => VisitTexts.Now;

    /// <summary>What an outcome means for what comes next.</summary>
    /// <param name="outcome">How the visit ended.</param>
    /// <param name="missing">Names of proofs that were not done or failed.</param>
    /// <returns>A sentence; null: nothing follows.</returns>
    public static string? Next(VisitOutcome? outcome, IReadOnlyList<string> missing)
    {
        ArgumentNullException.ThrowIfNull(missing);
        return outcome is not { } told ? Texts.NextNotTold
            : told == VisitOutcome.RepairedNotProven && missing.Count > 0
                ? Fill.In(Texts.NextMissing, ("proofs", string.Join("; ", missing.Select(Text.Inside))))
            : Texts.Next[told];
    }

    /// <summary>What follows from a visit that calls a repair proven without what shows it.</summary>
    /// <param name="lacking">Names of the proofs that it lacks, at least one.</param>
    public static string ProvenWithout(IReadOnlyList<string> lacking)
    {
        ArgumentNullException.ThrowIfNull(lacking);
        return Fill.In(Texts.ProvenWithout, ("proofs", string.Join("; ", lacking.Select(Text.Inside))));
    }

    /// <summary>What the unit's own records say against a repair.</summary>
    /// <param name="verdict">What is known of the repair.</param>
    /// <param name="saidFullWash">Whether the visit says that the full wash passed.</param>
    /// <param name="timeZone">IANA time zone of the site.</param>
    /// <returns>A sentence; null: nothing.</returns>
    public static string? Contradiction(RepairVerdict verdict, bool saidFullWash, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ContradictionTexts texts = Texts.Contradictions;
        Instant? at = verdict.Contradiction == RepairContradiction.SameFaultAgain ? verdict.SettledAt : verdict.ContradictedBy?.StartedAt;
        string? text = verdict.Contradiction switch
        {
            RepairContradiction.None => null,
            RepairContradiction.WashOfVisitStopped => texts.WashOfVisitStopped,
            RepairContradiction.WashOfVisitTooLow => texts.WashOfVisitTooLow,
            RepairContradiction.DetergentLeft => texts.DetergentLeft,
            RepairContradiction.FirstWashStopped => saidFullWash ? texts.NoneReportedNextStopped : texts.FirstWashStopped,
            RepairContradiction.FirstWashRefused => saidFullWash ? texts.NoneReportedNextRefused : texts.FirstWashRefused,
            RepairContradiction.SameFaultAgain => texts.SameFaultAgain,
            _ => throw new ArgumentOutOfRangeException(nameof(verdict)),
        };
        return text is null ? null : Fill.In(text, ("time", Text.Moment(at?.ToDateTimeOffset(), timeZone)));
    }

    /// <summary>That another visit was made at the same time.</summary>
    /// <param name="technician">Who made it; null: not told.</param>
    /// <param name="arrivedAt">When it began.</param>
    /// <param name="timeZone">IANA time zone of the site.</param>
    /// <returns>A sentence.</returns>
    public static string Overlaps(string? technician, DateTimeOffset? arrivedAt, string timeZone) => Fill.In(
        technician is null ? Texts.Overlaps : Texts.OverlapsBy, ("time", Text.Moment(arrivedAt, timeZone)), ("technician", technician ?? string.Empty));

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
        PartChangeTexts texts = Texts.Part;
        string? removed = removedReason is null ? null
            : texts.Out[removedReason] + (failureMode is null ? null : " (" + Text.CodeInside(failureMode) + ")")
                + (seenGood is null ? null : ", " + Fill.In(texts.LastSeenGood, ("date", seenGood)));
        string? put = !fitted ? null
            : (partNumber is null ? texts.InNumberNotKnown : Fill.In(texts.In, ("number", partNumber)))
                + (batch is null ? null : ", " + Fill.In(texts.Batch, ("batch", batch)));
        return position + ": " + string.Join("; ", new[] { removed, put }.OfType<string>()) + ".";
    }

    /// <summary>What the change of a failed part does to the figures.</summary>
    /// <param name="position">Name of the position.</param>
    /// <returns>A sentence.</returns>
    public static string CountsAsFailure(string position) => Fill.In(Texts.Part.CountsAsFailure, ("position", position));

    /// <summary>A part that was looked at and left in.</summary>
    /// <param name="position">Name of the position.</param>
    /// <param name="grade">good, worn or poor.</param>
    /// <returns>A few words.</returns>
    public static string LookedAt(string position, string grade) => position + ": " + Texts.GradesInside[grade];

    /// <summary>What was found.</summary>
    /// <param name="position">Name of the position.</param>
    /// <param name="failureMode">How it failed; null: not told.</param>
    /// <param name="cause">Why; null: not told.</param>
    /// <param name="note">Words of the person who looked; null: none.</param>
    /// <returns>A few words.</returns>
    public static string Found(string position, string? failureMode, string? cause, string? note) => position
        + (failureMode is null ? null : ": " + Text.CodeInside(failureMode))
        + (cause is null ? null : " (" + Text.CodeInside(cause) + ")")
        + (note is null ? null : "; " + note);

    /// <summary>What a visit asked to have approved, and what came of it.</summary>
    /// <param name="what">What has to be approved.</param>
    /// <param name="amount">What it will cost.</param>
    /// <param name="granted">The decision; null: nobody has decided.</param>
    /// <param name="decidedBy">Who decided; null: not told.</param>
    /// <param name="decidedAt">When it was decided.</param>
    /// <param name="timeZone">IANA time zone of the site.</param>
    /// <param name="withdrawn">Whether it was withdrawn.</param>
    /// <returns>A sentence.</returns>
    public static string Asked(
        string what, double? amount, bool? granted, string? decidedBy, DateTimeOffset? decidedAt, string timeZone, bool withdrawn) => Fill.In(
        withdrawn ? Texts.Asked.Withdrawn : granted switch { true => Texts.Asked.Granted, false => Texts.Asked.Refused, null => Texts.Asked.Undecided },
        ("time", Text.Moment(decidedAt, timeZone)),
        ("by", decidedBy ?? Texts.Asked.NobodyNamed),
        ("what", what + (amount is { } sum ? ", " + Text.Tick(Math.Round(sum, 2)) : null)));

    /// <summary>What has just been done.</summary>
    /// <param name="done">saved, already_saved or photos; null, or another: nothing.</param>
    /// <returns>A sentence or two; null: nothing.</returns>
    public static string? Done(string? done) => done is not null && Texts.Done.TryGetValue(done, out string? told) ? told : null;

    /// <summary>What to tell of files that were left out.</summary>
    /// <param name="rules">The rule that each breaks; others are not told of.</param>
    /// <returns>A sentence or two for each rule.</returns>
    public static IReadOnlyList<string> LeftOut(IEnumerable<string> rules) =>
    [
        .. rules.GroupBy(rule => rule).Where(group => Texts.LeftOut.ContainsKey(group.Key)).Select(group => Texts.LeftOut[group.Key].For(
            group.Count(), ("size", Text.Count(VisitPhoto.MostMebibytes)), ("most", Text.Count(VisitPhoto.Most)))),
    ];
}
