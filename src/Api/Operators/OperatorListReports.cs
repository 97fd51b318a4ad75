using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Operators;

/// <summary>Assembles the list of operators.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="compliance">How washes were kept.</param>
internal sealed class OperatorListReports(RegistryCache registry, CleaningReports cleaning, ComplianceReports compliance)
{
    /// <summary>The operators that match a search, by name.</summary>
    /// <param name="search">Part of a name or code; null: all.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<OperatorListReport> AssembleAsync(string? search, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        ILookup<int, UnitStatus> standing =
            (await cleaning.StandingAsync(CleaningFilter.All, asOf, cancellationToken)).ToLookup(one => one.Unit.Unit.Site.Operator.Id);
        DateTimeOffset hour = ComplianceReports.LastFullHour(asOf);
        ComplianceReport kept = await compliance.AssembleAsync(
            CleaningFilter.All, "operator", hour.AddDays(-OperatorReports.WindowDays), hour, asOf, cancellationToken, remember: true);
        Dictionary<string, ComplianceRow> shares = kept.Rows.ToDictionary(row => row.Group, StringComparer.OrdinalIgnoreCase);
        OperatorListRow[] found =
        [
            .. snapshot.OperatorList.Where(one => Matches(one.Resource, search))
                .Select(one => Row(one.Resource, standing[one.Id], shares.GetValueOrDefault(one.Resource.Operator))).OrderBy(Key, StringComparer.Ordinal),
        ];
        PageOf<OperatorListRow> shown = Paging.TakeSorted(found, Key, page);
        return new OperatorListReport(
            new Basis(asOf, null, null, OperatorSentences.ListMethod, null, found.Length, null, new Dictionary<string, int>(), []),
            OperatorSentences.List(found), search, shown.Items, shown.Next);
    }

    private static OperatorListRow Row(OperatorResource one, IEnumerable<UnitStatus> standing, ComplianceRow? kept)
    {
        UnitStatus[] all = [.. standing];
        Dictionary<CleaningState, int> states = CleaningReports.CountByState(all);
        return new OperatorListRow(
            one.Operator,
            one.Name,
            all.Select(one => one.Unit.Unit.Site.Id).Distinct().Count(),
            states.Values.Sum(),
            OperatorSentences.Waiting(states),
            states,
            kept?.OnTimeShare);
    }

    private static bool Matches(OperatorResource one, string? search) => search is null
        || one.Name.Contains(search, StringComparison.OrdinalIgnoreCase) || one.Operator.Contains(search, StringComparison.OrdinalIgnoreCase);

    // By name; the code tells namesakes apart.
    private static string Key(OperatorListRow row) => row.OperatorName.ToUpperInvariant() + "\u0001" + Codes.Key(row.Operator);
}
