using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Api.Repairs;
using Washwear.Api.Visits;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Units;

namespace Washwear.Api.Units;

/// <summary>Assembles the reports on units.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">Reads records on cleaning.</param>
/// <param name="fleet">Reads part lives.</param>
/// <param name="wear">The fleet's fits.</param>
/// <param name="queries">Reads timelines.</param>
/// <param name="signs">Reads early signs.</param>
/// <param name="visits">Reads visits.</param>
/// <param name="repairs">Judges repairs.</param>
public sealed class UnitReports(
    RegistryCache registry, CleaningQueries cleaning, FleetLives fleet, FleetWear wear, UnitQueries queries, EarlySignReports signs, VisitReports visits,
    FleetRepairs repairs)
{
    private const int CalendarDays = 364;
    private const int HistoryShown = 25;
    private const double HorizonDays = 90;

    /// <summary>One unit.</summary>
    /// <param name="code">Asset tag.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The report; null when there is no such unit.</returns>
    public async Task<UnitReport?> AssembleAsync(string code, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Units.TryGetValue(code, out UnitEntry? unit))
        {
            return null;
        }

        UnitTerms terms = snapshot.Cleaning.ById[unit.Id];
        UnitHistory history = (await cleaning.HistoriesAsync([terms], asOf, cancellationToken))[unit.Id];
        UnitCleaning[] rows = [.. CleaningReports.Status(terms, history, asOf)];
        IReadOnlyList<FleetLife> lives = await fleet.LoadAsync(null, asOf, cancellationToken, unit.Id);
        FittedParts models = (await wear.CurrentAsync(asOf, cancellationToken)).Models;
        UnitHistoryReport timeline = await queries.HistoryAsync(unit, new PageRequest(HistoryShown, null), cancellationToken);
        SiteEntry site = unit.Site;
        return new UnitReport(
            new Basis(asOf, null, null, UnitSentences.Method, "days", lives.Count, null, new Dictionary<string, int>(), []),
            unit.Resource.Unit,
            unit.Resource.Serial,
            site.Resource.Site,
            site.Resource.Name,
            site.Operator.Resource.Operator,
            site.Operator.Resource.Name,
            unit.Model.Resource.Model,
            unit.Model.Resource.Name,
            site.Resource.TimeZone,
            unit.Resource.CommissionedOn,
            (await queries.LastHeardAsync(cancellationToken)).TryGetValue(unit.Id, out DateTimeOffset heard) ? heard : null,
            rows.Length == 0 ? UnitSentences.NoRule : rows.MinBy(row => (CleaningReports.UrgencyOf(row.State), row.Grade == ProgrammeGrade.Descale))!.Sentence,
            rows,
            OpenFaults(unit, history, await queries.FaultSourcesAsync(unit.Id, cancellationToken)),
            Parts(unit, lives, models),
            WashDays.Of(terms, history, Instant.FromDateTimeOffset(asOf), CalendarDays),
            timeline.Items,
            await signs.ChartsAsync(unit, asOf, cancellationToken))
        {
            Visits = await visits.RecentAsync(terms, asOf, cancellationToken),
            LastRepair = await repairs.LastOfAsync(terms, asOf, cancellationToken),
        };
    }

    /// <summary>A unit's year of trading days, for the calendar's picture.</summary>
    /// <param name="code">Asset tag.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The asset tag as registered and its days; null when there is no such unit.</returns>
    public async Task<(string Unit, IReadOnlyList<WashDay> Days)?> AssembleCalendarAsync(
        string code, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        if (!snapshot.Units.TryGetValue(code, out UnitEntry? unit))
        {
            return null;
        }

        UnitTerms terms = snapshot.Cleaning.ById[unit.Id];
        UnitHistory history = (await cleaning.HistoriesAsync([terms], asOf, cancellationToken))[unit.Id];
        return (unit.Resource.Unit, WashDays.Of(terms, history, Instant.FromDateTimeOffset(asOf), CalendarDays));
    }

    /// <summary>A unit's timeline, newest first.</summary>
    /// <param name="code">Asset tag.</param>
    /// <param name="page">The page asked for.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    /// <returns>The timeline; null when there is no such unit.</returns>
    public async Task<UnitHistoryReport?> AssembleHistoryAsync(string code, PageRequest page, CancellationToken cancellationToken) =>
        (await registry.CurrentAsync(cancellationToken)).Units.TryGetValue(code, out UnitEntry? unit)
            ? await queries.HistoryAsync(unit, page, cancellationToken)
            : null;

    // One a code: a clearing closes all that stand of it, so two senders that tell one fault have told it once.
    private static OpenFault[] OpenFaults(UnitEntry unit, UnitHistory history, ILookup<string, string> sources) =>
    [
        .. history.Faults.Where(fault => fault.ClearedAt is null).OrderBy(fault => fault.RaisedAt).DistinctBy(fault => Codes.Key(fault.Code)).Select(fault =>
        {
            FaultResource? known = unit.Model.Faults.GetValueOrDefault(fault.Code);
            return new OpenFault(
                fault.Code, known?.Text ?? fault.Code, fault.RaisedAt.ToDateTimeOffset(), fault.LocksOutWashing, known?.LocksOutCooking ?? false)
            {
                Sources = [.. sources[Codes.Key(fault.Code)].Distinct()],
            };
        }),
    ];

    private static FittedPart[] Parts(UnitEntry unit, IReadOnlyList<FleetLife> lives, FittedParts models)
    {
        Dictionary<string, FleetLife> fitted = lives.Where(life => life.StillFitted)
            .GroupBy(life => life.Position, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(group => group.Key, group => group.MaxBy(life => life.Ordinal)!, StringComparer.OrdinalIgnoreCase);
        return
        [
            .. unit.Model.Resource.Positions.Select(position =>
                fitted.TryGetValue(position.Position, out FleetLife? life)
                    ? Part(position, life, models.Of(life, HorizonDays, withBounds: true))
                    : new FittedPart(position.Position, position.Name, null, null, null, null, null, UnitSentences.NoPartChange)),
        ];
    }

    private static FittedPart Part(PositionResource position, FleetLife life, FailureChance chance)
    {
        double? Age(LifeClock clock) => life.Ages.TryGetValue(clock, out LifeAges ages) ? ages.End : null;
        return new FittedPart(
            position.Position,
            position.Name,
            life.PartNumber,
            life.FittedAt,
            Age(LifeClock.Days),
            Age(LifeClock.Washes),
            chance.Chance,
            chance.Basis);
    }
}
