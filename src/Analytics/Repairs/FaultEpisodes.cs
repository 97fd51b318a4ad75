using NodaTime;
using Washwear.Analytics.Cleaning;

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
    long Number, Instant? ArrivedAt, Instant? LeftAt, VisitOutcome? Outcome, string? Technician, IReadOnlyList<string> Faults, string? Position);

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

/// <summary>One fault from raised to cleared, with the visits that it took.</summary>
/// <param name="Code">Code of the fault.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="ClearedAt">When it was cleared.</param>
/// <param name="Visits">The visits that began while it stood, in order.</param>
/// <param name="CameBackAt">When the same fault was raised again within the window; null: it was not.</param>
/// <param name="Result">How it ended.</param>
public sealed record FaultEpisode(
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
/// Cuts a unit's records into fault episodes. A visit belongs to a fault when work began while it stood, and when it names that fault or none.
/// The share fixed at the first visit is the trade's first-time fix rate; the time within which a fault may not come back is a convention.
/// </summary>
public static class FaultEpisodes
{
    /// <summary>The episodes of one unit that ended in a window, in the order of their ends.</summary>
    /// <param name="faults">The unit's faults; those that do not lock out washing, or still stand, are no episodes.</param>
    /// <param name="visits">The unit's visits.</param>
    /// <param name="window">Window [from, to) of the ends.</param>
    /// <param name="repeatWithin">Time after the end within which the same fault has come back.</param>
    /// <param name="asOf">Up to when records are known.</param>
    public static IReadOnlyList<FaultEpisode> Of(
        IReadOnlyList<WashFault> faults, IReadOnlyList<RepairVisit> visits, Interval window, Duration repeatWithin, Instant asOf) =>
    [
        .. faults.Where(fault => fault.LocksOutWashing && fault.ClearedAt > fault.RaisedAt && window.Contains(fault.ClearedAt.Value))
            .OrderBy(fault => fault.ClearedAt).ThenBy(fault => fault.RaisedAt).ThenBy(fault => fault.Code, StringComparer.Ordinal)
            .Select(fault => Episode(fault, faults, visits, repeatWithin, asOf)),
    ];

    private static FaultEpisode Episode(
        WashFault fault, IReadOnlyList<WashFault> faults, IReadOnlyList<RepairVisit> visits, Duration repeatWithin, Instant asOf)
    {
        Instant cleared = fault.ClearedAt!.Value;
        RepairVisit[] came =
        [
            .. visits.Where(visit => visit.ArrivedAt >= fault.RaisedAt && visit.ArrivedAt <= cleared && Names(visit, fault.Code))
                .OrderBy(visit => visit.ArrivedAt).ThenBy(visit => visit.Number),
        ];
        Instant? again = faults
            .Where(other => other.RaisedAt > cleared && other.RaisedAt <= cleared + repeatWithin && other.RaisedAt <= asOf
                && string.Equals(other.Code, fault.Code, StringComparison.OrdinalIgnoreCase))
            .Select(other => (Instant?)other.RaisedAt).Min();
        EpisodeResult result = came.Length == 0 ? EpisodeResult.NoVisit
            : cleared + repeatWithin > asOf ? EpisodeResult.TooRecent
            : again is not null ? EpisodeResult.CameBack
            : came.Length == 1 ? EpisodeResult.FixedAtFirstVisit
            : EpisodeResult.FixedLater;
        return new FaultEpisode(fault.Code, fault.RaisedAt, cleared, came, again, result);
    }

    private static bool Names(RepairVisit visit, string code) =>
        visit.Faults.Count == 0 || visit.Faults.Any(named => string.Equals(named, code, StringComparison.OrdinalIgnoreCase));
}
