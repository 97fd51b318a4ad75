using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Sites;

namespace Washwear.Api.Sites;

/// <summary>Assembles the list of kitchens.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
public sealed class SiteListReports(RegistryCache registry, CleaningReports cleaning)
{
    /// <summary>Columns that the list can be sorted by; 'waiting' is how many ovens are locked out, overdue or silent.</summary>
    public static IReadOnlyList<SortColumn<SiteListRow>> Columns { get; } =
    [
        new("site", row => row.SiteName), new("operator", row => row.OperatorName), new("region", row => row.Region), new("ovens", row => row.Units),
        new("waiting", row => row.UnitsByState.Where(pair => CleaningReports.UrgencyOf(pair.Key) <= CleaningReports.UrgencyOf(CleaningState.Silent)).Sum(pair => pair.Value)),
    ];

    /// <summary>The kitchens that match a search, by name.</summary>
    /// <param name="search">Part of a name or code; null: all sites.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<SiteListReport> AssembleAsync(string? search, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        SiteEntry[] found = [.. snapshot.SiteList.Where(site => Matches(site.Resource, search)).OrderBy(Key, StringComparer.Ordinal)];
        PageOf<SiteEntry> shown = page.SortBy is null ? Paging.Take(found, Key, page) : new PageOf<SiteEntry>(found, null);
        ILookup<int, UnitStatus> standing =
            (await cleaning.StandingAsync(CleaningFilter.All, asOf, cancellationToken)).ToLookup(one => one.Unit.Unit.Site.Id);
        SiteListRow[] all = [.. shown.Items.Select(site => Row(site, standing[site.Id]))];
        PageOf<SiteListRow> listed = page.SortBy is null ? new PageOf<SiteListRow>(all, shown.Next) : Sorting.Take(all, Columns, page);
        return new SiteListReport(
            new Basis(asOf, null, null, KitchenWords.ListMethod, null, found.Length, null, new Dictionary<string, int>(), []),
            search,
            page.SortBy is not null ? found.Length - Math.Min(found.Length, Sorting.From(page)) : page.After is { } after ? found.Count(site => string.CompareOrdinal(Key(site), after[0]) > 0) : found.Length,
            listed.Items,
            listed.Next);
    }

    private static SiteListRow Row(SiteEntry site, IEnumerable<UnitStatus> standing)
    {
        Dictionary<CleaningState, int> states = CleaningReports.CountByState(standing);
        return new SiteListRow(
            site.Resource.Site, site.Resource.Name, site.Operator.Resource.Operator, site.Operator.Resource.Name, site.Resource.Region, states.Values.Sum(), states);
    }

    private static bool Matches(SiteResource site, string? search) => search is null
        || site.Name.Contains(search, StringComparison.OrdinalIgnoreCase) || site.Site.Contains(search, StringComparison.OrdinalIgnoreCase);

    // By name; the code tells namesakes apart.
    private static string Key(SiteEntry site) => site.Resource.Name.ToUpperInvariant() + "\u0001" + Codes.Key(site.Resource.Site);
}
