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
    /// <summary>The kitchens that match a search, by name.</summary>
    /// <param name="search">Part of a name or code; null: all sites.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<SiteListReport> AssembleAsync(string? search, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        SiteEntry[] found = [.. snapshot.SiteList.Where(site => Matches(site.Resource, search)).OrderBy(Key, StringComparer.Ordinal)];
        PageOf<SiteEntry> shown = Paging.Take(found, Key, page);
        CleaningStatusReport status = await cleaning.AssembleStatusAsync(CleaningFilter.All, asOf, cancellationToken);
        ILookup<string, UnitCleaning> rows = status.Rows.ToLookup(row => row.Site, StringComparer.OrdinalIgnoreCase);
        return new SiteListReport(
            new Basis(asOf, null, null, "registry search in name and code; states by the cleaning rules", null, found.Length, null, new Dictionary<string, int>(), []),
            search,
            page.After is { } after ? found.Count(site => string.CompareOrdinal(Key(site), after[0]) > 0) : found.Length,
            [.. shown.Items.Select(site => Row(site, rows[site.Resource.Site]))],
            shown.Next);
    }

    private static SiteListRow Row(SiteEntry site, IEnumerable<UnitCleaning> rows)
    {
        Dictionary<CleaningState, int> states = rows.GroupBy(row => row.Unit, StringComparer.OrdinalIgnoreCase)
            .CountBy(unit => unit.MinBy(row => CleaningReports.UrgencyOf(row.State))!.State).ToDictionary();
        return new SiteListRow(
            site.Resource.Site, site.Resource.Name, site.Operator.Resource.Name, site.Resource.Region, states.Values.Sum(), states);
    }

    private static bool Matches(SiteResource site, string? search) => search is null
        || site.Name.Contains(search, StringComparison.OrdinalIgnoreCase) || site.Site.Contains(search, StringComparison.OrdinalIgnoreCase);

    // By name; the code tells namesakes apart.
    private static string Key(SiteEntry site) => site.Resource.Name.ToUpperInvariant() + "\u0001" + Codes.Key(site.Resource.Site);
}
