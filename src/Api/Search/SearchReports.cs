using Washwear.Api.Cleaning;
using Washwear.Dashboard.Search;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Search;

/// <summary>Assembles what a search found. Safe for concurrent use.</summary>
/// <param name="runs">Where every unit stands.</param>
/// <param name="states">Says how what was found stands.</param>
/// <param name="queries">Reads what stands outside of the registry.</param>
public sealed class SearchReports(FleetRuns runs, SearchStates states, SearchQueries queries)
{
    /// <summary>Most characters of a query.</summary>
    public const int MostCharacters = 100;

    // The key of a visit that somebody looks for is known by more than its first letters.
    private const int LeastOfAVisitKey = 3;
    private const string Method = "prefix and substring search without case and accents; nearest by optimal string alignment";

    private volatile SearchIndex? _index;

    /// <summary>What a search found.</summary>
    /// <param name="query">What is searched for, without spaces around it; empty: nothing yet.</param>
    /// <param name="kind">Only this kind; null: all.</param>
    /// <param name="limit">Most hits of a kind.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<SearchReport> AssembleAsync(
        string query, SearchKind? kind, int limit, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        SearchIndex index = _index is { } known && ReferenceEquals(known.Registry, fleet.Registry) ? known : _index = new SearchIndex(fleet.Registry);
        SearchTerms asked = SearchTerms.Of(query);
        IReadOnlyList<Found> found = asked.Folded.Length == 0 ? [] : index.Find(asked);
        (int visits, IReadOnlyList<FoundVisit> shownVisits) = query.Length >= LeastOfAVisitKey && kind is null or SearchKind.Visit
            ? await queries.VisitsAsync(query, limit, cancellationToken)
            : (0, []);
        Found[] shown = [.. found.Where(one => kind is null || one.Entry.Kind == kind).GroupBy(one => one.Entry.Kind).SelectMany(group => group.Take(limit))];
        IReadOnlyList<Found> nearest = found.Count + visits == 0 && asked.Folded.Length > 0 ? index.Nearest(asked) : [];
        SearchHit[] hits = [.. await states.HitsAsync(fleet, [.. shown, .. nearest], query, asOf, cancellationToken)];
        SearchGroup[] groups =
        [
            .. hits.Take(shown.Length).GroupBy(hit => hit.Kind)
                .Select(group => new SearchGroup(group.Key, found.Count(one => one.Entry.Kind == group.Key), [.. group])),
            .. visits == 0 ? Array.Empty<SearchGroup>() : [new SearchGroup(SearchKind.Visit, visits, [.. shownVisits.Select(visit => SearchStates.Visit(visit, fleet, query))])],
        ];
        return new SearchReport(
            new Basis(asOf, null, null, Method, null, found.Count + visits, null, new Dictionary<string, int>(), []),
            query,
            SearchSentences.Finding(query, groups, nearest.Count > 0),
            groups.Sum(group => group.Total),
            Exact(hits.Take(shown.Length).Zip(shown), shownVisits, query),
            groups,
            [.. hits.Skip(shown.Length)]);
    }

    // Whoever types a whole code wants its page, unless several things have it.
    private static string? Exact(IEnumerable<(SearchHit Hit, Found Found)> shown, IReadOnlyList<FoundVisit> visits, string query)
    {
        string[] meant =
        [
            .. shown.Where(one => one.Found.How == SearchMatch.Exact && IsMeant(one.Found)).Select(one => one.Hit.Href),
            .. visits.Where(visit => visit.Key == query).Select(visit => Urls.Visit(visit.Key, visit.Source)),
        ];
        return meant is [string only] ? only : null;
    }

    private static bool IsMeant(Found found) => found.Entry.Kind switch
    {
        SearchKind.Unit or SearchKind.Site => true,
        SearchKind.Fault => found.Field.IsCode,
        _ => false,
    };
}
