using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Assembles the list of units.</summary>
/// <param name="runs">Where every unit stands.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="queries">Reads when units were last heard.</param>
public sealed class UnitListReports(FleetRuns runs, CleaningReports cleaning, UnitQueries queries)
{
    /// <summary>Columns that the list can be sorted by.</summary>
    public static IReadOnlyList<SortColumn<UnitListRow>> Columns { get; } =
    [
        new("unit", row => row.Unit), new("site", row => row.SiteName), new("model", row => row.Model), new("heard", row => row.LastHeardAt),
        new("state", row => row.State is { } state ? CleaningReports.UrgencyOf(state) : null),
    ];

    /// <summary>The units that match a search.</summary>
    /// <param name="search">Part of an asset tag, serial number or site; null: all units.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<UnitListReport> AssembleAsync(string? search, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        UnitTerms[] found = [.. fleet.Registry.Cleaning.Units.Where(unit => Matches(unit.Unit, search)).OrderBy(Key, StringComparer.Ordinal)];
        PageOf<UnitTerms> shown = page.SortBy is null ? Paging.Take(found, Key, page) : new PageOf<UnitTerms>(found, null);
        ILookup<int, UnitStatus> statuses =
            (await cleaning.StatusesAsync(fleet, shown.Items, asOf, cancellationToken)).ToLookup(one => one.Unit.Unit.Id);
        IReadOnlyDictionary<int, DateTimeOffset> heard = await queries.LastHeardAsync(cancellationToken);
        UnitListRow[] all = [.. shown.Items.Select(unit => Row(unit, statuses[unit.Unit.Id], heard))];
        PageOf<UnitListRow> rows = page.SortBy is null ? new PageOf<UnitListRow>(all, shown.Next) : Sorting.Take(all, Columns, page);
        return new UnitListReport(
            new Basis(asOf, null, null, UnitSentences.ListMethod, null, found.Length, null, new Dictionary<string, int>(), []),
            search,
            page.SortBy is not null ? found.Length - Math.Min(found.Length, Sorting.From(page)) : page.After is { } after ? found.Count(unit => string.CompareOrdinal(Key(unit), after[0]) > 0) : found.Length,
            rows.Items,
            rows.Next);
    }

    private static UnitListRow Row(UnitTerms unit, IEnumerable<UnitStatus> statuses, IReadOnlyDictionary<int, DateTimeOffset> heard) => new(
        unit.Unit.Resource.Unit,
        unit.Unit.Resource.Serial,
        unit.Unit.Model.Resource.Model,
        unit.Unit.Site.Resource.Site,
        unit.Unit.Site.Resource.Name,
        unit.Unit.Site.Operator.Resource.Name,
        unit.Unit.Site.Resource.TimeZone,
        statuses.Select(one => one.Status.State).OrderBy(CleaningReports.UrgencyOf).Cast<CleaningState?>().FirstOrDefault(),
        heard.TryGetValue(unit.Unit.Id, out DateTimeOffset at) ? at : null);

    private static bool Matches(UnitEntry unit, string? search) => search is null
        || new[] { unit.Resource.Unit, unit.Resource.Serial, unit.Site.Resource.Site, unit.Site.Resource.Name }
            .Any(text => text?.Contains(search, StringComparison.OrdinalIgnoreCase) == true);

    private static string Key(UnitTerms unit) => Codes.Key(unit.Unit.Resource.Unit);
}
