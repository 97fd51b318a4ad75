using System.Text.Json;
using Washwear.Api.Http;
using Washwear.Api.Ingest;

namespace Washwear.Api.Failures;

/// <summary>What a visit found to be wrong.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="AtMs">When the visit ended, ms UTC.</param>
/// <param name="Finding">The finding.</param>
internal readonly record struct FoundCause(WatchedUnit Unit, long AtMs, VisitFinding Finding);

/// <summary>
/// Reads what visits found, once a fault episode: a visit that left to wait tells its finding, and the one that repairs tells it again, or
/// finds it was another. Of an episode the last visit that found something holds, with all it found. A visit belongs to the last episode
/// that
/// had begun when it ended and had not been over for more than a day: of the faults that it names where one of them has such an episode,
/// else of any. A visit that belongs to none counts by itself.
/// </summary>
/// <param name="queries">Reads findings.</param>
internal sealed class FoundCauses(FailureQueries queries)
{
    private const long MsPerDay = 86_400_000;

    /// <summary>The findings that hold, of visits that ended in a window.</summary>
    /// <param name="view">Units and episodes.</param>
    /// <param name="fromMs">Start, ms UTC, inclusive.</param>
    /// <param name="toMs">End, ms UTC, exclusive.</param>
    /// <param name="cancellationToken">Stops reading.</param>
    public async Task<IReadOnlyList<FoundCause>> OfAsync(FailureView view, long fromMs, long toMs, CancellationToken cancellationToken)
    {
        Dictionary<int, WatchedUnit> units = view.Units.ToDictionary(unit => unit.Terms.Unit.Id);
        FindingRow[] rows =
        [
            .. (await queries.FindingsAsync(fromMs, toMs, cancellationToken))
                .Where(row => units.ContainsKey(row.UnitId) && List<VisitFinding>(row.Findings).Length > 0),
        ];
        return
        [
            .. rows.GroupBy(row => EpisodeOf(view, row) ?? (object)row).Select(trouble => trouble.MaxBy(row => (row.AtMs, row.Seq)))
                .OrderBy(row => row.AtMs).ThenBy(row => row.Seq)
                .SelectMany(row => List<VisitFinding>(row.Findings)
                    .Select(finding => new FoundCause(units[row.UnitId], row.AtMs, finding))),
        ];
    }

    private static Failure? EpisodeOf(FailureView view, FindingRow row)
    {
        string[] named = List<string>(row.Faults);
        Failure[] during =
        [
            .. view.Episodes[row.UnitId]
                .Where(episode => episode.AtMs <= row.AtMs && (episode.UntilMs ?? long.MaxValue) >= row.AtMs - MsPerDay),
        ];
        return Array.FindLast(during, episode => named.Contains(episode.What, StringComparer.OrdinalIgnoreCase)) ?? during.LastOrDefault();
    }

    private static T[] List<T>(string? json) => json is null ? [] : JsonSerializer.Deserialize<T[]>(json, Json.Options) ?? [];
}
