using Washwear.Analytics.Cleaning;
using Washwear.Api.Cleaning;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Api.Repairs;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Today;

namespace Washwear.Api.Today;

/// <summary>Assembles what needs somebody today.</summary>
/// <param name="registry">The registry.</param>
/// <param name="cleaning">How units stand.</param>
/// <param name="compliance">How washes were kept.</param>
/// <param name="wear">Fitted parts.</param>
/// <param name="repairs">Judges repairs.</param>
/// <param name="lines">What needs whom.</param>
/// <param name="queries">Reads what only this page asks for.</param>
internal sealed class TodayReports(
    RegistryCache registry, CleaningReports cleaning, ComplianceReports compliance, FleetWear wear, FleetRepairs repairs, TodayLines lines,
    TodayQueries queries)
{
    private const double HorizonDays = 90;
    private const int WindowDays = 28;
    private const int MostUnits = 20;
    private const int MostWearingParts = 10;
    private const double LeastChanceShown = 0.10;

    // By the fleet's wear alone: its sentences are written for whoever reads.
    private volatile Worn? _wearing;

    /// <summary>The report.</summary>
    /// <param name="role">Whose; null: everybody's.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<TodayReport> AssembleAsync(TodayRole? role, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        CleaningStatusReport status = await cleaning.AssembleWorstAsync(asOf, int.MaxValue, cancellationToken);
        DateTimeOffset hour = ComplianceReports.LastFullHour(asOf);
        ComplianceReport kept = await compliance.AssembleAsync(
            CleaningFilter.All, "operator", hour.AddDays(-WindowDays), hour, asOf, cancellationToken, remember: true);
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        WearingPart[] wearing = Wearing(await wear.CurrentAsync(asOf, cancellationToken));
        IReadOnlyDictionary<string, int> refused = await queries.RefusedRowsAsync(cancellationToken);
        UnitCleaning[] once = [.. status.Rows.OrderBy(row => CleaningReports.UrgencyOf(row.State)).ThenBy(row => row.Grade == ProgrammeGrade.Descale).DistinctBy(row => row.Unit)];
        IReadOnlyList<TodayLine> found = await lines.AssembleAsync(role, once, wearing, refused, asOf, cancellationToken);
        int units = CleaningReports.Select(snapshot, CleaningFilter.All, asOf, asOf).Count;
        return new TodayReport(
            status.Basis,
            units == 0 ? TodaySentences.NoUnit : role is { } only ? TodaySentences.Finding(only, found.Count) : status.Sentence,
            units,
            status.UnitsByState,
            In(status, CleaningState.LockedOut),
            In(status, CleaningState.Overdue),
            In(status, CleaningState.Silent),
            wearing,
            refused,
            kept.Total)
        {
            Unproven = await repairs.UnprovenAsync(asOf, cancellationToken),
            For = role,
            Lines = found,
        };
    }

    private static UnitCleaning[] In(CleaningStatusReport status, CleaningState state) => [.. status.Rows.Where(row => row.State == state).Take(MostUnits)];

    // Every fitted part of the fleet is asked for its chance: once for each look at the fleet's wear.
    private WearingPart[] Wearing(Wear wear)
    {
        if (_wearing is not { } known || !ReferenceEquals(known.Of, wear))
        {
            known = new Worn(wear,
            [
                .. wear.Fitted
                    .Select(life => (Life: life, wear.Models.Of(life, HorizonDays, withBounds: false).Chance))
                    .Where(pair => pair.Chance?.Value >= LeastChanceShown)
                    .OrderByDescending(pair => pair.Chance!.Value)
                    .Take(MostWearingParts)
                    .Select(pair => Part(pair.Life, pair.Chance!.Value)),
            ]);
            _wearing = known;
        }

        return [.. known.Parts.Select(part => part with { Sentence = TodaySentences.Wearing(part.ChanceToFail90Days) })];
    }

    private static WearingPart Part(FleetLife life, double chance)
    {
        PositionResource? position = life.Unit.Model.Positions.GetValueOrDefault(life.Position);
        string name = position?.Name ?? life.Position;
        double age = life.Ages[LifeClock.Days].End;
        return new WearingPart(
            life.Unit.Resource.Unit,
            life.Unit.Site.Resource.Site,
            life.Unit.Site.Resource.Name,
            life.Position,
            name,
            age,
            chance,
            string.Empty);
    }

    private sealed record Worn(Wear Of, WearingPart[] Parts);
}
