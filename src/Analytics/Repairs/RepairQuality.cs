using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.Repairs;

/// <summary>A share of cases with its exact bounds.</summary>
/// <param name="Count">Cases with the property.</param>
/// <param name="Cases">All cases.</param>
/// <param name="Share">The share; null when there are no cases.</param>
public sealed record CountedShare(int Count, int Cases, Estimate? Share)
{
    /// <summary>A share of cases.</summary>
    /// <param name="count">Cases with the property, 0 to <paramref name="cases"/>.</param>
    /// <param name="cases">All cases.</param>
    public static CountedShare Of(int count, int cases) => new(count, cases, ProportionBounds.ClopperPearson(count, cases));
}

/// <summary>How well the repairs of a group went.</summary>
/// <param name="Name">What they have in common.</param>
/// <param name="FirstVisitFix">Faults that one visit ended and that did not come back within the window, of those that visits
/// ended.</param>
/// <param name="Repeat">Faults that came back within the window, of those that visits ended.</param>
/// <param name="Proven">Repairs that are proven, of those old enough to tell.</param>
public sealed record QualityGroup(string Name, CountedShare FirstVisitFix, CountedShare Repeat, CountedShare Proven);

/// <summary>Counts the quality of repairs, with bounds after Clopper and Pearson; faults of one unit count as independent.</summary>
public static class RepairQuality
{
    /// <summary>The figures of a group.</summary>
    /// <param name="name">What its members have in common.</param>
    /// <param name="episodes">Its faults; those that say nothing are left out.</param>
    /// <param name="repairs">Its repairs that are old enough to tell.</param>
    public static QualityGroup Of(string name, IEnumerable<EpisodeOutcome> episodes, IEnumerable<RepairVerdict> repairs)
    {
        EpisodeOutcome[] judged = [.. episodes.Where(episode => episode.IsJudged)];
        RepairVerdict[] old = [.. repairs];
        return new QualityGroup(
            name,
            CountedShare.Of(judged.Count(episode => episode.Result == EpisodeResult.FixedAtFirstVisit), judged.Length),
            CountedShare.Of(judged.Count(episode => episode.Result == EpisodeResult.CameBack), judged.Length),
            CountedShare.Of(old.Count(repair => repair.IsProven), old.Length));
    }
}
