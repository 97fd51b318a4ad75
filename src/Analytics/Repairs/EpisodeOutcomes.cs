using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Faults;

namespace Washwear.Analytics.Repairs;

/// <summary>A visit as the quality of repairs looks at it.</summary>
/// <param name="Number">Number of its record.</param>
/// <param name="ArrivedAt">When work began; null when nobody said.</param>
/// <param name="LeftAt">When work ended; null while it goes on.</param>
/// <param name="Outcome">How it ended; null when nobody said.</param>
/// <param name="Technician">Who came; null when nobody said.</param>
/// <param name="Faults">Codes of the faults that it was for, compared without case; empty when none were named.</param>
/// <param name="Position">Position that was found at fault or whose part failed; null when nobody said.</param>
public sealed record RepairVisit(
    long Number, Instant? ArrivedAt, Instant? LeftAt, VisitOutcome? Outcome, string? Technician, IReadOnlyList<string> Faults, string? Position)
{
    /// <summary>Whether it ended with a repair.</summary>
    public bool Repaired => Outcome is VisitOutcome.Proven or VisitOutcome.RepairedNotProven && LeftAt is not null;

    /// <summary>Whether it was for a fault: it names it, or none.</summary>
    /// <param name="code">Code of the fault.</param>
    public bool IsFor(string code) => Faults.Count == 0 || Faults.Contains(code, StringComparer.OrdinalIgnoreCase);
}

/// <summary>How a fault ended.</summary>
public enum EpisodeResult
{
    /// <summary>One visit ended it, and it did not come back within the window.</summary>
    FixedAtFirstVisit,

    /// <summary>It took several visits, and it did not come back within the window.</summary>
    FixedLater,

    /// <summary>It was cleared and came back within the window.</summary>
    CameBack,

    /// <summary>It was cleared without a visit: nobody repaired anything.</summary>
    NoVisit,

    /// <summary>The window after its end is not over, so nobody can tell yet.</summary>
    TooRecent,
}

/// <summary>A fault episode that is over, with the visits that it took.</summary>
/// <param name="Code">Code of the fault.</param>
/// <param name="RaisedAt">When it was first raised.</param>
/// <param name="ClearedAt">When it was last cleared.</param>
/// <param name="Visits">The visits that began during it, in order.</param>
/// <param name="CameBackAt">When the same fault was raised again within the window; null: it was not.</param>
/// <param name="Result">How it ended.</param>
public sealed record EpisodeOutcome(
    string Code, Instant RaisedAt, Instant ClearedAt, IReadOnlyList<RepairVisit> Visits, Instant? CameBackAt, EpisodeResult Result)
{
    /// <summary>Whether it says something about the quality of repairs.</summary>
    public bool IsJudged => Result is EpisodeResult.FixedAtFirstVisit or EpisodeResult.FixedLater or EpisodeResult.CameBack;

    /// <summary>Position that the visit which ended it found at fault; null when no visit told.</summary>
    public string? Position => Visits.LastOrDefault(visit => visit.Position is not null)?.Position;

    /// <summary>Who came at the first visit; null when nobody said.</summary>
    public string? FirstTechnician => Visits.Count == 0 ? null : Visits[0].Technician;
}

/// <summary>
/// How a unit's fault episodes (<see cref="UnitEpisodes"/>) ended. A visit belongs to an episode when work began during it, and when it
/// names
/// that fault or none. What follows without a repair in between belongs to the same episode; what follows a repair has come back. The share
/// fixed at the first visit is the trade's first-time fix rate; the time within which a fault may not come back is a convention.
/// </summary>
public static class EpisodeOutcomes
{
    /// <summary>The episodes of one unit that ended in a window, in the order of their ends.</summary>
    /// <param name="faults">The unit's faults; those that do not lock out washing make no episode, and one that still stands has not
    /// ended.</param>
    /// <param name="visits">The unit's visits.</param>
    /// <param name="partsFailed">When parts of the unit were changed because they had failed.</param>
    /// <param name="window">Window [from, to) of the ends.</param>
    /// <param name="repeatWithin">Time after the end within which the same fault has come back.</param>
    /// <param name="asOf">Up to when records are known.</param>
    public static IReadOnlyList<EpisodeOutcome> Of(
        IReadOnlyList<WashFault> faults, IReadOnlyList<RepairVisit> visits, IReadOnlyList<Instant> partsFailed, Interval window,
        Duration repeatWithin, Instant asOf)
    {
        IReadOnlyList<UnitEpisode> episodes = UnitEpisodes.Of(
            faults.Where(fault => fault.LocksOutWashing && !(fault.ClearedAt <= fault.RaisedAt)),
            [.. partsFailed, .. visits.Where(visit => visit.Repaired).Select(visit => visit.LeftAt!.Value)]);
        return
        [
            .. episodes.Where(episode => !episode.IsOpen && window.Contains(episode.EndedAt))
                .OrderBy(episode => episode.EndedAt).ThenBy(episode => episode.RaisedAt)
                .ThenBy(episode => episode.Code, StringComparer.Ordinal)
                .Select(episode => Outcome(episode, episodes, visits, repeatWithin, asOf)),
        ];
    }

    private static EpisodeOutcome Outcome(
        UnitEpisode episode, IReadOnlyList<UnitEpisode> all, IReadOnlyList<RepairVisit> visits, Duration repeatWithin, Instant asOf)
    {
        Instant ended = episode.EndedAt;
        RepairVisit[] came =
        [
            .. visits.Where(visit => visit.ArrivedAt >= episode.RaisedAt && visit.ArrivedAt <= ended && visit.IsFor(episode.Code))
                .OrderBy(visit => visit.ArrivedAt).ThenBy(visit => visit.Number),
        ];
        Instant? again = all
            .Where(other => other.RaisedAt > ended && other.RaisedAt <= ended + repeatWithin && other.RaisedAt <= asOf
                && string.Equals(other.Code, episode.Code, StringComparison.OrdinalIgnoreCase))
            .Select(other => (Instant?)other.RaisedAt).Min();
        EpisodeResult result = came.Length == 0 ? EpisodeResult.NoVisit
            : ended + repeatWithin > asOf ? EpisodeResult.TooRecent
            : again is not null ? EpisodeResult.CameBack
            : came.Length == 1 ? EpisodeResult.FixedAtFirstVisit
            : EpisodeResult.FixedLater;
        return new EpisodeOutcome(episode.Code, episode.RaisedAt, ended, came, again, result);
    }
}
