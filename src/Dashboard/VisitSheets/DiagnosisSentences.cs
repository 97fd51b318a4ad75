using Washwear.Analytics.Diagnosis;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.VisitSheets;

/// <summary>Why a cause is likely and what comes next, in sentences that a technician can check; page and API say the same.</summary>
public static class DiagnosisSentences
{
    // Within these the age of a part hardly changes the picture.
    private const double Raised = 1.25;
    private const double Lowered = 0.8;
    private const int FewVisits = 10;

    /// <summary>What the catalogue does not name.</summary>
    public static string SomethingElse => Texts.SomethingElse;

    private static DiagnosisTexts Texts => DiagnosisTexts.Now;

    /// <summary>A cause in a few words, such as 'Wash pump, weak flow'.</summary>
    /// <param name="name">Name of the position.</param>
    /// <param name="failureMode">How it fails; null: the catalogue does not say.</param>
    /// <returns>The words.</returns>
    public static string CauseName(string name, string? failureMode) =>
        name + (failureMode is null ? string.Empty : ", " + Text.CodeInside(failureMode));

    /// <summary>Why a cause is that likely before any check.</summary>
    /// <param name="cause">The cause, its sentence left empty.</param>
    /// <param name="visits">Visits that told what they found.</param>
    /// <param name="part">The fitted part, where its age bears on the cause; null: it does not.</param>
    /// <returns>One sentence.</returns>
    public static string Why(SheetCause cause, int visits, SheetPart? part)
    {
        ArgumentNullException.ThrowIfNull(cause);
        (string, string) found = ("found", Text.Count(cause.VisitsThatFoundIt));
        (string, string) catalogue = ("catalogue", Text.Share(cause.CatalogueShare));
        string told = visits == 0 ? Fill.In(Texts.WhyNoVisits, catalogue)
            : visits < FewVisits ? Texts.WhyFewVisits.For(visits, found, catalogue)
            : Fill.In(Texts.WhyVisits, found, ("count", Text.Count(visits)));
        return told + Age(cause, part) + ".";
    }

    /// <summary>Why something else may be the cause.</summary>
    /// <param name="outside">Visits that found what the catalogue does not name.</param>
    /// <param name="visits">Visits that told what they found.</param>
    /// <returns>One sentence.</returns>
    public static string OfSomethingElse(int outside, int visits) => visits == 0
        ? Texts.SomethingElseNoVisits
        : Texts.SomethingElseVisits.For(visits, ("found", Text.Count(outside)));

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
        FindingTexts texts = Texts.Finding;
        string text = state.Stage switch
        {
            DiagnosisStage.Certain when causes[state.MostLikely].Position is null => texts.SomethingElse,
            DiagnosisStage.Certain when !started => texts.CertainBeforeChecks,
            DiagnosisStage.Certain => texts.Certain,
            DiagnosisStage.NotCertain when state.Repairs.Count == 0 => texts.NotCertain,
            DiagnosisStage.NotCertain => Fill.In(texts.NotCertainBut, ("repair", Inside(causes[state.Repairs[0]]))),
            DiagnosisStage.CheckNext => Fill.In(texts.CheckNext, ("check", (nextText ?? string.Empty).TrimEnd('.'))),
            _ => throw new ArgumentOutOfRangeException(nameof(state)),
        };
        string finding = Fill.In(
            text, ("share", Text.Share(state.Groups[0].Probability)), ("certainty", Text.Share(certainty)), ("cause", Together(state.Groups[0], causes)));
        return state.Contradicting.Count == 0 ? finding
            : finding + " " + Fill.In(texts.Contradiction, ("checks", string.Join(", ", state.Contradicting)));
    }

    /// <summary>What a result would say, such as 'drain valve 93 %'.</summary>
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
            return Texts.CannotCome;
        }

        (string? position, double probability) = causes.Select((cause, i) => (cause.Position, Probability: belief.Probabilities[i]))
            .GroupBy(pair => pair.Position).Select(group => (group.Key, group.Sum(pair => pair.Probability))).MaxBy(pair => pair.Item2);
        string name = position is null ? Texts.SomethingElseInside : Text.Inside(names.GetValueOrDefault(position) ?? position);
        return name + " " + Text.Share(probability);
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
        EarlierTexts texts = Texts.Earlier;
        (string, string) date = ("date", Text.Date(at, timeZone));
        string visit = found.Count == 0 ? Fill.In(texts.NothingFound, date)
            : Fill.In(texts.Found, date, ("found", Joined(texts.OneAndOther, found.Select(Text.Uncapital))));
        IEnumerable<string> told = checks.Select(check => Fill.In(
            check.Result == SheetResult.Pass ? texts.Passed : texts.Failed, ("check", Text.Uncapital(check.Text.TrimEnd('.')))));
        return checks.Count == 0 ? visit : visit + " " + Fill.In(texts.Checks, ("checks", string.Join("; ", told)));
    }

    /// <summary>Why the first check of a form comes first.</summary>
    /// <param name="fault">Code of the fault.</param>
    /// <param name="diagnosis">The diagnosis; null: the catalogue names no cause.</param>
    /// <param name="next">The check to do next; null: none.</param>
    /// <returns>One sentence.</returns>
    public static string WhyFirst(string fault, SheetDiagnosis? diagnosis, ProposedCheck? next) => diagnosis is null
        ? Fill.In(Texts.First.NoCause, ("fault", fault))
        : next is null ? diagnosis.Sentence
        : Fill.In(
            Texts.First.Soonest, ("time", Text.Duration(next.Check.Minutes / 60)), ("share", Text.Share(next.SpeaksOf)), ("fault", fault));

    /// <summary>What the parts to bring cover.</summary>
    /// <param name="parts">The parts.</param>
    /// <param name="covered">Chance that they, or none, are all that is needed.</param>
    /// <param name="level">Chance that was asked for.</param>
    /// <param name="withoutPart">Chance that no part is needed.</param>
    /// <returns>One or two sentences.</returns>
    public static string Bring(IReadOnlyList<PartToBring> parts, double covered, double level, double withoutPart)
    {
        ArgumentNullException.ThrowIfNull(parts);
        BringTexts texts = Texts.Bring;
        (string, string)[] shares = [("covered", Text.Share(covered)), ("level", Text.Share(level))];
        bool isBelow = covered < level;
        if (parts.Count == 0)
        {
            return Fill.In(isBelow ? texts.NoPartBelow : texts.NoPart, shares);
        }

        string enough = (isBelow ? texts.PartsBelow : texts.Parts).For(parts.Count, shares);
        return withoutPart >= 0.05 ? enough + " " + Fill.In(texts.ClearedWithout, ("share", Text.Share(withoutPart))) : enough;
    }

    private static string Age(SheetCause cause, SheetPart? part)
    {
        if (part?.AgeDays is not { } age)
        {
            return part is null || part.FittedAt is not null ? string.Empty : Texts.AgeNotKnown;
        }

        string half = part.HalfFailedByDays is { } median ? Fill.In(Texts.HalfFailed, ("days", Text.Count(Whole(median)))) : string.Empty;
        PluralText text = cause.HazardFactor > Raised ? Texts.AgeRaises : cause.HazardFactor < Lowered ? Texts.AgeLowers : Texts.Age;
        return text.For(Whole(age), ("part", Text.Inside(part.Name))) + half;
    }

    // Causes that no check tells apart, those at one position by how they fail.
    private static string Together(CauseGroup group, IReadOnlyList<SheetCause> causes)
    {
        SheetCause[] those = [.. group.Causes.Select(index => causes[index]).Where(cause => cause.Probability > 0.01)];
        SheetCause first = those.Length == 0 ? causes[group.Causes[0]] : those[0];
        return Joined(
            Texts.OneOrOther,
            those.Skip(1).Select(cause => cause.Position == first.Position && cause.FailureMode is { } mode ? Text.CodeInside(mode) : Inside(cause))
                .Prepend(Inside(first)));
    }

    private static string Joined(string text, IEnumerable<string> words) => words.Aggregate((one, other) => Fill.In(text, ("one", one), ("other", other)));

    private static int Whole(double days) => (int)Math.Clamp(Math.Round(days), 0, int.MaxValue);

    private static string Inside(SheetCause cause) => cause.Position is null ? Texts.SomethingElseInside : Text.Uncapital(cause.Name);
}
