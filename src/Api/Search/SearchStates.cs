using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Search;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Search;

/// <summary>Says how what was found stands.</summary>
/// <param name="cleaning">How units stand.</param>
/// <param name="queries">Reads which faults are raised.</param>
public sealed class SearchStates(CleaningReports cleaning, SearchQueries queries)
{
    /// <summary>Hits with their state, in their order.</summary>
    /// <param name="fleet">Where every unit stands.</param>
    /// <param name="found">What was found.</param>
    /// <param name="query">What was searched for.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    internal async Task<IReadOnlyList<SearchHit>> HitsAsync(
        Fleet fleet, IReadOnlyList<Found> found, string query, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        UnitTerms[] units = UnitsOf(fleet, found);
        Dictionary<int, CleaningState> worst = (await cleaning.StatusesAsync(fleet, units, asOf, cancellationToken))
            .GroupBy(one => one.Unit.Unit.Id)
            .ToDictionary(unit => unit.Key, unit => unit.MinBy(one => CleaningReports.UrgencyOf(one.Status.State)).Status.State);
        IReadOnlyDictionary<string, int> raised = found.Any(one => one.Entry.Kind == SearchKind.Fault)
            ? await queries.RaisedAsync(cancellationToken)
            : new Dictionary<string, int>();
        return [.. found.Select(one => Hit(one, query) with { State = StateOf(one.Entry, fleet.Registry, units, worst, raised, asOf), Standing = Standing(one.Entry, worst) })];
    }

    /// <summary>A visit as a hit.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="fleet">Where every unit stands.</param>
    /// <param name="query">What was searched for.</param>
    internal static SearchHit Visit(FoundVisit visit, Fleet fleet, string query)
    {
        UnitEntry unit = fleet.Registry.UnitsById[visit.UnitId];
        return new SearchHit(
            SearchKind.Visit,
            visit.Key,
            SearchSentences.VisitAt(unit.Resource.Unit, unit.Site.Resource.Name),
            SearchSentences.Why(SearchBy.Key, visit.Key, visit.Key == query ? SearchMatch.Exact : SearchMatch.Begins, query),
            SearchSentences.Visit(visit.IsVoided, visit.Outcome, Text.Date(visit.At, unit.Site.Resource.TimeZone)),
            Urls.Visit(visit.Key, visit.Source));
    }

    private static SearchHit Hit(Found found, string query)
    {
        SearchEntry entry = found.Entry;
        string href = entry.Of switch
        {
            UnitEntry => Urls.Unit(entry.Code),
            SiteEntry => Urls.Site(entry.Code),
            OperatorEntry => Urls.Operator(entry.Code),
            FaultOfModel[] => Urls.FailureRecords(new FailureChoice { Code = entry.Code }),
            PositionOfModel[] => Urls.PartLife(entry.Code),
            PartThatFits part => PartPage(part),
            _ => throw new InvalidOperationException("Something was found that has no page: " + entry.Kind),
        };
        return new SearchHit(entry.Kind, entry.Code, entry.Name, SearchSentences.Why(found.Field.By, found.Field.Text, found.How, query), string.Empty, href);
    }

    // Where a part number fits stands its price, its interval and its cost curve; where it fits nowhere, what is in store of it.
    private static string PartPage(PartThatFits part) => part.Fits.Count == 0
        ? Urls.PlanStock()
        : Urls.PlanParts(new PlanFilter { Position = part.Fits[0].Position.Position }, part.Fits[0].Model.Resource.Model, part.Number);

    private static CleaningState? Standing(SearchEntry entry, Dictionary<int, CleaningState> worst) =>
        entry.Of is UnitEntry unit && worst.TryGetValue(unit.Id, out CleaningState state) ? state : null;

    private static UnitTerms[] UnitsOf(Fleet fleet, IReadOnlyList<Found> found)
    {
        HashSet<object> wanted = [.. found.Select(one => one.Entry.Of)];
        return wanted.Count == 0
            ? []
            : [.. fleet.Registry.Cleaning.Units.Where(unit => wanted.Contains(unit.Unit) || wanted.Contains(unit.Unit.Site) || wanted.Contains(unit.Unit.Site.Operator))];
    }

    private static string StateOf(
        SearchEntry entry, RegistrySnapshot registry, UnitTerms[] units, Dictionary<int, CleaningState> worst,
        IReadOnlyDictionary<string, int> raised, DateTimeOffset asOf) => entry.Of switch
        {
            UnitEntry unit => UnitState(unit, worst, asOf),
            SiteEntry site => Ovens(units.Where(unit => unit.Unit.Site == site), worst),
            OperatorEntry one => SearchSentences.Kitchens(
                registry.SiteList.Count(site => site.Operator == one), Ovens(units.Where(unit => unit.Unit.Site.Operator == one), worst)),
            FaultOfModel[] faults => SearchSentences.Raised(raised.GetValueOrDefault(entry.Code), faults.Any(one => one.Fault.LocksOutWashing)),
            PositionOfModel[] positions => SearchSentences.Position(
                positions.Length, positions.SelectMany(one => one.Position.PartNumbers ?? []).Distinct(StringComparer.OrdinalIgnoreCase).Count()),
            PartThatFits part => PartState(part, registry.Plan),
            _ => throw new InvalidOperationException("Something was found that has no state: " + entry.Kind),
        };

    private static string UnitState(UnitEntry unit, Dictionary<int, CleaningState> worst, DateTimeOffset asOf) =>
        unit.Resource.DecommissionedOn is { } left && left <= DateOnly.FromDateTime(asOf.UtcDateTime) ? SearchSentences.LeftService(left)
        : worst.TryGetValue(unit.Id, out CleaningState state) ? CleaningWords.Name(state)
        : SearchSentences.UnderNoRule();

    private static string Ovens(IEnumerable<UnitTerms> units, Dictionary<int, CleaningState> worst)
    {
        CleaningState[] states = [.. units.Where(unit => worst.ContainsKey(unit.Unit.Id)).Select(unit => worst[unit.Unit.Id])];
        return SearchSentences.Ovens([.. states.CountBy(state => state).OrderBy(state => CleaningReports.UrgencyOf(state.Key)).Select(state => (state.Key, state.Value))]);
    }

    private static string PartState(PartThatFits part, PlanResources plan)
    {
        int?[] onHand = [.. plan.StockPointList.Select(point => point.OnHand?.FirstOrDefault(one => Is(one.PartNumber, part.Number))?.Quantity)];
        return SearchSentences.Part(part.Fits.Count == 0 ? null : part.Fits[0].Position.Name, onHand.Any(quantity => quantity is not null) ? onHand.Sum() ?? 0 : null);
    }

    private static bool Is(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);
}
