using System.Globalization;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Approvals;

/// <summary>Assembles the list of approvals.</summary>
/// <param name="runs">Where every unit stands.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="costs">What waiting costs.</param>
/// <param name="queries">Reads approvals.</param>
public sealed class ApprovalReports(FleetRuns runs, CleaningReports cleaning, WaitingCosts costs, ApprovalQueries queries)
{
    /// <summary>Parts of a cursor: open or decided, then the place in the order of that half.</summary>
    public const int CursorParts = 3;

    private const string OpenHalf = "open";
    private const string DecidedHalf = "decided";

    /// <summary>A page of approvals: the open ones first, by what waiting costs, then the decided ones, newest first.</summary>
    /// <param name="filter">Which approvals.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<ApprovalsReport> AssembleAsync(
        ApprovalFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        UnitEntry[] units = [.. fleet.Registry.UnitList.Where(unit => Matches(unit, filter))];
        IReadOnlyList<ApprovalRow> open = await OpenAsync(fleet, [.. units.Select(unit => unit.Id)], asOf, cancellationToken);
        var rows = new List<ApprovalRow>();
        if (filter.State is null or ApprovalState.Open && page.After?[0] != DecidedHalf)
        {
            rows.AddRange(After(open, page));
        }

        if (filter.State != ApprovalState.Open && rows.Count <= page.Limit)
        {
            rows.AddRange(await DecidedAsync(fleet, units, filter, page with { Limit = page.Limit + 1 - rows.Count }, asOf, cancellationToken));
        }

        PageOf<ApprovalRow> shown = Paging.Trim([.. rows.Take(page.Limit + 1)], Key, page);
        return new ApprovalsReport(
            new Basis(asOf, null, null, ApprovalSentences.Method, null, shown.Items.Count, null, new Dictionary<string, int>(), []),
            filter.State is null or ApprovalState.Open ? ApprovalSentences.Finding(open) : ApprovalSentences.Decided(shown.Items),
            open.Count,
            shown.Items,
            shown.Next);
    }

    /// <summary>The approvals decided last.</summary>
    /// <param name="filter">Whose; the state is not looked at.</param>
    /// <param name="most">Most rows.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<ApprovalsReport> AssembleDecidedAsync(
        ApprovalFilter filter, int most, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        UnitEntry[] units = [.. fleet.Registry.UnitList.Where(unit => Matches(unit, filter))];
        IReadOnlyList<ApprovalRow> rows =
            await DecidedAsync(fleet, units, filter with { State = null }, new PageRequest(most, null), asOf, cancellationToken);
        return new ApprovalsReport(
            new Basis(asOf, null, null, ApprovalSentences.Method, null, rows.Count, null, new Dictionary<string, int>(), []),
            ApprovalSentences.Decided(rows), 0, rows, null);
    }

    /// <summary>One approval that counts, open or decided; null: there is none.</summary>
    /// <param name="id">Number of its record.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<ApprovalRow?> AssembleOneAsync(long id, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        if (await queries.OneAsync(id, cancellationToken) is not { } stored)
        {
            return null;
        }

        Fleet fleet = await runs.CurrentAsync(cancellationToken);
        return stored.Decision is not null
            ? (await DecidedRowsAsync(fleet, [stored], asOf, cancellationToken))[0]
            : (await OpenAsync(fleet, [stored.UnitId], asOf, cancellationToken)).FirstOrDefault(row => row.Id == id);
    }

    private static IEnumerable<ApprovalRow> After(IReadOnlyList<ApprovalRow> open, PageRequest page) =>
        page.After is { } after ? open.Where(row => string.CompareOrdinal(OpenKey(row), after[1]) > 0) : open;

    private async Task<IReadOnlyList<ApprovalRow>> OpenAsync(
        Fleet fleet, HashSet<int> units, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        StoredApproval[] stored = [.. (await queries.OpenAsync(cancellationToken)).Where(one => units.Contains(one.UnitId))];
        if (stored.Length == 0)
        {
            return [];
        }

        IReadOnlyDictionary<long, string> found = await queries.FoundPositionsAsync(stored.Select(one => one.Seq), cancellationToken);
        SiteStanding sites = await SiteStanding.ReadAsync(
            fleet, cleaning, stored.Select(one => fleet.Registry.UnitsById[one.UnitId].Site), asOf, cancellationToken);
        UnitEntry[] entries = [.. stored.Select(one => fleet.Registry.UnitsById[one.UnitId])];
        (string? Position, PositionSource? From)[] positions = [.. stored.Select((one, i) => ApprovalRows.PositionOf(entries[i].Model, one, found))];
        IReadOnlyList<WaitingCost> cost = await costs.OfAsync(
            [
                .. stored.Select((one, i) => new OpenWait(
                    entries[i], one.AskedAt, positions[i].Position, sites.IsSilent(entries[i]) ? null : sites.WaitsForApproval(entries[i]))),
            ],
            asOf,
            cancellationToken);
        ApprovalRow[] rows = [.. stored.Select((one, i) => ApprovalRows.Open(entries[i], one, positions[i], cost[i], sites, asOf))];
        return [.. rows.Select(row => row with { Doubts = ApprovalRows.Doubts(row, rows, fleet.Registry.Units[row.Unit], sites) }).OrderBy(OpenKey, StringComparer.Ordinal)];
    }

    private async Task<IReadOnlyList<ApprovalRow>> DecidedAsync(
        Fleet fleet, UnitEntry[] units, ApprovalFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        ApprovalDecision? decision = filter.State switch
        {
            ApprovalState.Granted => ApprovalDecision.Granted,
            ApprovalState.Refused => ApprovalDecision.Refused,
            _ => null,
        };
        (long Ms, long Seq)? before = page.After is [DecidedHalf, { } ms, { } seq]
            && long.TryParse(ms, NumberStyles.None, CultureInfo.InvariantCulture, out long at)
            && long.TryParse(seq, NumberStyles.None, CultureInfo.InvariantCulture, out long number)
                ? (at, number)
                : null;
        return await DecidedRowsAsync(
            fleet, [.. await queries.DecidedAsync(units.Select(unit => unit.Id), decision, before, page.Limit, cancellationToken)], asOf, cancellationToken);
    }

    private async Task<IReadOnlyList<ApprovalRow>> DecidedRowsAsync(
        Fleet fleet, StoredApproval[] stored, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        UnitEntry[] units = [.. stored.Select(one => fleet.Registry.UnitsById[one.UnitId])];
        IReadOnlyList<double> unwashed = await costs.UnwashedDaysAsync(
            [.. stored.Select((one, i) => (units[i], one.AskedAt, one.DecidedAt < asOf ? one.DecidedAt.Value : asOf))], cancellationToken);
        Dictionary<int, int> unitsAtSite =
            CleaningReports.Select(fleet.Registry, CleaningFilter.All, asOf, asOf).CountBy(unit => unit.Unit.Site.Id).ToDictionary();
        return [.. stored.Select((one, i) => ApprovalRows.Decided(units[i], one, unwashed[i], unitsAtSite.GetValueOrDefault(units[i].Site.Id)))];
    }

    private static string[] Key(ApprovalRow row) => row.State == ApprovalState.Open
        ? [OpenHalf, OpenKey(row), string.Empty]
        :
        [
            DecidedHalf,
            row.DecidedAt!.Value.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture),
            row.Id.ToString(CultureInfo.InvariantCulture),
        ];

    // Dearest wait first; figures are turned round so that text sorts them.
    private static string OpenKey(ApprovalRow row)
    {
        int tier = row.UnwashedDaysNextWeek switch
        {
            > 0 => row.OtherUnitsThatWash == 0 ? 0 : 1,
            null => 2,
            _ => 3,
        };
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{tier} {10 - (row.UnwashedDaysNextWeek ?? 0):00.0} {100000 - row.UnwashedDays:000000.0} {1 - (row.CompanionChance30Days ?? 0):0.000} {row.Id:D12}");
    }

    private static bool Matches(UnitEntry unit, ApprovalFilter filter) =>
        Names(filter.Operator, unit.Site.Operator.Resource.Operator) && Names(filter.Site, unit.Site.Resource.Site)
        && Names(filter.Unit, unit.Resource.Unit);

    private static bool Names(string? asked, string actual) =>
        string.IsNullOrEmpty(asked) || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);
}
