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
    /// <summary>The story.</summary>
    /// <param name="facts">What is known.</param>
    /// <returns>Two to four sentences: what and how long, who came and did what, how it ended.</returns>
    public static string Of(StoryFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        string first = "Could not wash for " + Text.Duration(facts.Hours) + (facts.IsOver ? string.Empty : " so far") + ": " + string.Join("; ", facts.Faults) + "."
            + (facts.TriesRefused == 0 ? string.Empty : " " + Text.Capital(Text.Counted(facts.TriesRefused, "try to wash", "tries to wash")) + " came to nothing.");
        return first + Came(facts) + Ended(facts);
    }

    private static string Came(StoryFacts facts)
    {
        string approvals = facts switch
        {
            { ApprovalsOpen: > 0 } => " An approval is asked for and not decided.",
            { ApprovalsRefused: > 0, ApprovalsGranted: 0 } => " An approval was refused.",
            { ApprovalsGranted: > 0 } => " An approval was granted.",
            _ => string.Empty,
        };
        string parts = facts.Parts.Count == 0 ? string.Empty : " Changed: " + string.Join(", ", facts.Parts.Select(part => part.ToLowerInvariant())) + ".";
        string visits = facts switch
        {
            { VisitsMade: > 0 } => " " + Text.Counted(facts.VisitsMade, "visit") + ".",
            { VisitAsked: true } => facts.IsOver ? " A visit was asked for; none is on record as made." : " A visit is asked for; nobody has come yet.",
            _ => facts.IsOver ? " No visit is on record." : " Nobody has asked for a visit.",
        };
        return visits + approvals + parts;
    }

    private static string Ended(StoryFacts facts) => (facts.IsOver, facts.Proof) switch
    {
        (false, _) => string.Empty,
        (true, true) => " It washed again " + Later(facts.ProofAfterHours) + (facts.SaidProven ? ", and the visit proved the repair." : "."),
        (true, false) => " The first wash after it did not come to its end.",
        (true, null) when !facts.WashesKnown && !facts.SaidProven => string.Empty,
        (true, null) => facts.SaidProven ? " The visit proved the repair." : " No wash since is on this page.",
    };

    private static string Later(double? hours) => hours is null or < 1.0 / 60 ? "at once" : Text.Duration(hours) + " later";
}
