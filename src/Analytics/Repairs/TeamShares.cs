using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Repairs;

/// <summary>One technician's jobs.</summary>
/// <param name="Name">Name as the visits report it; null for all that have too few visits to be told apart.</param>
/// <param name="Members">How many technicians it stands for.</param>
/// <param name="Count">Faults fixed at the first visit.</param>
/// <param name="Cases">Faults whose first visit was theirs.</param>
/// <param name="Share">The share, drawn towards the mean of all; null where it cannot be told.</param>
/// <param name="Apart">Whether the bounds leave the share of all outside.</param>
public sealed record TeamShare(string? Name, int Members, int Count, int Cases, Estimate? Share, bool Apart);

/// <summary>
/// First-visit fixes by technician. Names are personal data and small counts lie: a technician is named only with so many faults, and only
/// where
/// at least two have them; the others stand together. Shares are drawn towards the mean, and the rows stand by name, never by rank.
/// </summary>
public static class TeamShares
{
    /// <summary>Fewest faults of a technician who is named.</summary>
    public const int LeastCases = 20;

    /// <summary>The rows; empty where the counts do not support any.</summary>
    /// <param name="episodes">Faults; those that say nothing, or of whose first technician nobody knows, are left out.</param>
    /// <param name="level">Level of the bounds.</param>
    public static IReadOnlyList<TeamShare> Of(IEnumerable<EpisodeOutcome> episodes, double level = 0.95)
    {
        (string Name, int Count, int Cases)[] all =
        [
            .. episodes.Where(episode => episode is { IsJudged: true, FirstTechnician: not null })
                .GroupBy(episode => episode.FirstTechnician!.Trim(), StringComparer.OrdinalIgnoreCase)
                .Select(group => (group.Key, group.Count(one => one.Result == EpisodeResult.FixedAtFirstVisit), group.Count()))
                .OrderBy(row => row.Key, StringComparer.OrdinalIgnoreCase),
        ];
        (string Name, int Count, int Cases)[] told = [.. all.Where(row => row.Cases >= LeastCases)];
        if (told.Length < 2)
        {
            return [];
        }

        IReadOnlyList<Estimate?> shares = ShrunkenShares.Of([.. all.Select(row => (row.Count, row.Cases))], level);
        double mean = (double)all.Sum(row => row.Count) / all.Sum(row => row.Cases);
        TeamShare[] named = [.. told.Select(row => Named(row, shares[Array.IndexOf(all, row)], mean))];
        (string Name, int Count, int Cases)[] others = [.. all.Where(row => row.Cases < LeastCases)];
        return others.Length == 0
            ? named
            : [.. named, new TeamShare(null, others.Length, others.Sum(row => row.Count), others.Sum(row => row.Cases), null, false)];
    }

    private static TeamShare Named((string Name, int Count, int Cases) row, Estimate? share, double mean) =>
        new(row.Name, 1, row.Count, row.Cases, share, share is not null && (share.Lower > mean || share.Upper < mean));
}
