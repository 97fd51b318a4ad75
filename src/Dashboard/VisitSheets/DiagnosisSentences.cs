using Washwear.Analytics.Diagnosis;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>Why a cause is likely and what comes next, in sentences that a technician can check; page and API say the same.</summary>
public static class DiagnosisSentences
{
    /// <summary>What the catalogue does not name.</summary>
    public const string SomethingElse = "Something else";

    // Within these the age of a part hardly changes the picture.
    private const double Raised = 1.25;
    private const double Lowered = 0.8;
    private const int FewVisits = 10;

    /// <summary>A cause in a few words, such as 'Wash pump, weak flow'.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="failureMode">How it fails; null: the catalogue does not say.</param>
    /// <returns>The words.</returns>
    public static string CauseName(string name, string? failureMode) =>
        name + (failureMode is null ? string.Empty : ", " + Text.Words(failureMode).ToLowerInvariant());

    /// <summary>Why a cause is that likely before any check.</summary>
    /// <param name="cause">The cause, its sentence left empty.</param>
    /// <param name="visits">Visits that told what they found.</param>
    /// <param name="part">The fitted part, where its age bears on the cause; null: it does not.</param>
    /// <returns>One sentence.</returns>
    public static string Why(SheetCause cause, int visits, SheetPart? part)
    {
        ArgumentNullException.ThrowIfNull(cause);
        string found = visits == 0
            ? "no earlier visit for this fault has told what it found; the catalogue gives it " + Text.Share(cause.CatalogueShare)
            : Text.Count(cause.VisitsThatFoundIt) + " of " + Text.Counted(visits, "earlier visit") + " for this fault found it"
                + (visits < FewVisits ? ", the catalogue gives it " + Text.Share(cause.CatalogueShare) : string.Empty);
        return Text.Capital(found) + Age(cause, part) + ".";
    }

    /// <summary>Why something else may be the cause.</summary>
    /// <param name="outside">Visits that found what the catalogue does not name.</param>
    /// <param name="visits">Visits that told what they found.</param>
    /// <returns>One sentence.</returns>
    public static string OfSomethingElse(int outside, int visits) => visits == 0
        ? "No catalogue is complete."
        : Text.Count(outside) + " of " + Text.Counted(visits, "earlier visit") + " found what the catalogue does not list.";

    /// <summary>What is most likely and what to do next.</summary>
    /// <param name="state">Where the diagnosis stands.</param>
    /// <param name="causes">The causes in the diagnosis's order.</param>
    /// <param name="nextText">What the next check is; null: there is none.</param>
    /// <param name="certainty">Probability at which checking ends.</param>
    /// <param name="started">Whether a result was entered.</param>
    /// <returns>Two or three sentences.</returns>
    public static string Finding(DiagnosisState state, IReadOnlyList<SheetCause> causes, string? nextText, double certainty, bool started)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(causes);
        string most = Together(state.Groups[0], causes) + " (" + Text.Share(state.Groups[0].Probability) + ")";
        return (state.Stage switch
        {
            DiagnosisStage.Certain when causes[state.MostLikely].Position is null =>
                "None of the causes that the catalogue lists is likely any more: "
                + "it is something else (" + Text.Share(state.Groups[0].Probability) + "). Stop checking and ask for help.",
            DiagnosisStage.Certain when !started => "Most likely " + most + ", at or above the " + Text.Share(certainty)
                + " asked for before any check: the checks below only confirm it.",
            DiagnosisStage.Certain => "Certain enough at " + Text.Share(certainty) + ": " + most + ". Stop checking; mend it and prove it.",
            DiagnosisStage.NotCertain => "Most likely " + most + ". No check that is left could tell more, and the " + Text.Share(certainty)
                + " asked for is not reached" + Try(state, causes) + ".",
            DiagnosisStage.CheckNext => "Most likely " + most + ". Check next: " + (nextText ?? string.Empty).TrimEnd('.') + ".",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state.Stage, "A stage without words."),
        }) + Contradiction(state);
    }

    /// <summary>What a result would say, such as 'Drain valve 93 %'.</summary>
    /// <param name="belief">The probabilities after it.</param>
    /// <param name="causes">The causes in the same order.</param>
    /// <param name="names">Names of positions by code.</param>
    /// <returns>The position that would then be most likely; a result that cannot come says so.</returns>
    public static string After(BeliefAfter belief, IReadOnlyList<SheetCause> causes, IReadOnlyDictionary<string, string> names)
    {
        ArgumentNullException.ThrowIfNull(belief);
        ArgumentNullException.ThrowIfNull(names);
        if (belief.Contradicts)
        {
            return "cannot come by what is known so far";
        }

        (string? position, double probability) = causes.Select((cause, i) => (cause.Position, Probability: belief.Probabilities[i]))
            .GroupBy(pair => pair.Position).Select(group => (group.Key, group.Sum(pair => pair.Probability))).MaxBy(pair => pair.Item2);
        string name = position is null ? SomethingElse : names.GetValueOrDefault(position) ?? position;
        return name.ToLowerInvariant() + " " + Text.Share(probability);
    }

    /// <summary>What a visit told that left the fault open.</summary>
    /// <param name="at">When it was.</param>
    /// <param name="found">What it found, in words; empty: nothing.</param>
    /// <param name="checks">What it checked, in words, and how that went.</param>
    /// <param name="timeZone">Time zone of the site.</param>
    /// <returns>One or two sentences.</returns>
    public static string Earlier(
        DateTimeOffset at, IReadOnlyList<string> found, IReadOnlyList<(string Text, SheetResult Result)> checks, string timeZone)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(checks);
        string visit = "The visit of " + Text.Date(at, timeZone) + " found "
            + (found.Count == 0 ? "no cause yet" : string.Join(" and ", found.Select(Lower))) + " and left the fault open.";
        return checks.Count == 0 ? visit : visit + " Its checks: "
            + string.Join("; ", checks.Select(check =>
                Lower(check.Text.TrimEnd('.')) + (check.Result == SheetResult.Pass ? " (passed)" : " (failed)")))
            + ".";
    }

    /// <summary>Why the first check of a form comes first.</summary>
    /// <param name="fault">Code of the fault.</param>
    /// <param name="diagnosis">The diagnosis; null: the catalogue names no cause.</param>
    /// <param name="next">The check to do next; null: none.</param>
    /// <returns>One sentence.</returns>
    public static string WhyFirst(string fault, SheetDiagnosis? diagnosis, ProposedCheck? next) => diagnosis is null
        ? "In the catalogue's order: it names no cause of " + fault + "."
        : next is null ? diagnosis.Sentence
        : "First the one after which " + fault + " is mended soonest: in " + Text.Duration(next.Check.Minutes / 60) + " it speaks of "
            + Text.Share(next.SpeaksOf) + " of what it can be.";

    /// <summary>What the parts to bring cover.</summary>
    /// <param name="parts">The parts.</param>
    /// <param name="covered">Chance that they, or none, are all that is needed.</param>
    /// <param name="level">Chance that was asked for.</param>
    /// <param name="withoutPart">Chance that no part is needed.</param>
    /// <returns>One or two sentences.</returns>
    public static string Bring(IReadOnlyList<PartToBring> parts, double covered, double level, double withoutPart)
    {
        ArgumentNullException.ThrowIfNull(parts);
        string cases = Text.Share(covered) + " of such cases";
        string enough = parts.Count == 0
            ? "In " + cases + " no part is needed"
            : "With " + (parts.Count == 1 ? "this" : "these") + " along nothing is missing in " + cases;
        return enough
            + (covered < level ? ", less than the " + Text.Share(level)
                + " wished for: the rest is something that the catalogue does not name" : string.Empty) + "."
            + (parts.Count > 0 && withoutPart >= 0.05 ? " In " + Text.Share(withoutPart) + " it is cleared without a part." : string.Empty);
    }

    private static string Age(SheetCause cause, SheetPart? part)
    {
        if (part?.AgeDays is not { } age)
        {
            return part is null || part.FittedAt is not null ? string.Empty : "; the age of the fitted part is not known";
        }

        string half = part.HalfFailedByDays is { } median ? " (half have failed by " + Whole(median) + ")" : string.Empty;
        string days = Whole(age) + (Math.Round(age) == 1 ? " day old" : " days old");
        string name = part.Name.ToLowerInvariant();
        return cause.HazardFactor > Raised ? ", and this " + name + " is already " + days + half
            : cause.HazardFactor < Lowered ? ", but this " + name + " is only " + days + half
            : ", and this " + name + " is " + days + half;
    }

    private static string Together(CauseGroup group, IReadOnlyList<SheetCause> causes)
    {
        SheetCause[] those = [.. group.Causes.Select(index => causes[index]).Where(cause => cause.Probability > 0.01)];
        string first = those.Length == 0 ? causes[group.Causes[0]].Name : those[0].Name;
        return those.Length < 2 ? Lower(first)
            : Lower(first) + string.Concat(those.Skip(1).Select(cause => " or "
                + (cause.Position == those[0].Position && cause.FailureMode is { } mode
                ? Text.Words(mode).ToLowerInvariant() : Lower(cause.Name))));
    }

    private static string Try(DiagnosisState state, IReadOnlyList<SheetCause> causes) => state.Repairs.Count == 0
        ? string.Empty
        : ": mend first " + Lower(causes[state.Repairs[0]].Name) + " and prove it";

    private static string Contradiction(DiagnosisState state) => state.Contradicting.Count == 0 ? string.Empty
        : " Mind: the result of " + string.Join(", ", state.Contradicting)
            + " fits no cause after the others and was left aside; do it again.";

    private static string Whole(double days) => Text.Count((int)Math.Clamp(Math.Round(days), 0, int.MaxValue));

    private static string Lower(string name) => name.Length == 0 ? name : char.ToLowerInvariant(name[0]) + name[1..];
}
