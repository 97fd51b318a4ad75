using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Timeline;

/// <summary>What is known of a lockout and all that belongs to it.</summary>
/// <param name="Faults">Its faults in words, such as 'E21, no water circulates', first raised first.</param>
/// <param name="Hours">How long it lasted, or lasts so far.</param>
/// <param name="IsOver">Whether its faults were cleared.</param>
/// <param name="TriesRefused">Tries to wash that the unit refused or a fault stopped.</param>
/// <param name="VisitsMade">Visits at which somebody came.</param>
/// <param name="VisitAsked">Whether a visit was asked for.</param>
/// <param name="ApprovalsGranted">Approvals that were granted.</param>
/// <param name="ApprovalsRefused">Approvals that were refused.</param>
/// <param name="ApprovalsOpen">Approvals that nobody has decided.</param>
/// <param name="Parts">Names of the positions at which a part was changed.</param>
/// <param name="Proof">What came of the first wash after it: true counted, false not; null: there was none.</param>
/// <param name="ProofAfterHours">Hours from its end to that wash.</param>
/// <param name="SaidProven">Whether a visit called the repair proven.</param>
/// <param name="WashesKnown">Whether washes were looked at; if not, nothing is said of those after it.</param>
public sealed record StoryFacts(
    IReadOnlyList<string> Faults,
    double Hours,
    bool IsOver,
    int TriesRefused,
    int VisitsMade,
    bool VisitAsked,
    int ApprovalsGranted,
    int ApprovalsRefused,
    int ApprovalsOpen,
    IReadOnlyList<string> Parts,
    bool? Proof,
    double? ProofAfterHours,
    bool SaidProven,
    bool WashesKnown);

/// <summary>A lockout from its fault to its proof, in a few sentences.</summary>
public static class StorySentences
{
    private const double AtOnceHours = 1.0 / 60;

    private static StoryTexts Texts => TimelineTexts.Now.Story;

    /// <summary>The story.</summary>
    /// <param name="facts">What is known.</param>
    /// <returns>Two to four sentences: what and how long, who came and did what, how it ended.</returns>
    public static string Of(StoryFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        string?[] told =
        [
            Fill.In(
                facts.IsOver ? Texts.CouldNotWash : Texts.CouldNotWashSoFar, ("time", Text.Duration(facts.Hours)), ("faults", string.Join("; ", facts.Faults))),
            facts.TriesRefused == 0 ? null : Texts.Tries.For(facts.TriesRefused),
            Visits(facts),
            Approvals(facts),
            facts.Parts.Count == 0 ? null : Fill.In(Texts.Changed, ("parts", string.Join(", ", facts.Parts.Select(Text.Inside)))),
            Ended(facts),
        ];
        return string.Join(' ', told.OfType<string>());
    }

    private static string Visits(StoryFacts facts) => facts switch
    {
        { VisitsMade: > 0 } => Texts.Visits.For(facts.VisitsMade),
        { VisitAsked: true } => facts.IsOver ? Texts.VisitWasAsked : Texts.VisitIsAsked,
        _ => facts.IsOver ? Texts.NoVisit : Texts.NobodyAsked,
    };

    private static string? Approvals(StoryFacts facts) => facts switch
    {
        { ApprovalsOpen: > 0 } => Texts.ApprovalOpen,
        { ApprovalsRefused: > 0, ApprovalsGranted: 0 } => Texts.ApprovalRefused,
        { ApprovalsGranted: > 0 } => Texts.ApprovalGranted,
        _ => null,
    };

    private static string? Ended(StoryFacts facts) => (facts.IsOver, facts.Proof) switch
    {
        (false, _) => null,
        (true, true) => Washed(facts.ProofAfterHours, facts.SaidProven),
        (true, false) => Texts.WashNotCompleted,
        (true, null) when !facts.WashesKnown && !facts.SaidProven => null,
        (true, null) => facts.SaidProven ? Texts.Proven : Texts.NoWashSince,
    };

    private static string Washed(double? hours, bool saidProven) => hours is null or < AtOnceHours
        ? saidProven ? Texts.WashedAtOnceProven : Texts.WashedAtOnce
        : Fill.In(saidProven ? Texts.WashedLaterProven : Texts.WashedLater, ("time", Text.Duration(hours)));
}
