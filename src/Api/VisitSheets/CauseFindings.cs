using System.Text.Json;
using Washwear.Analytics.Diagnosis;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Memories;
using Washwear.Api.Registry;

namespace Washwear.Api.VisitSheets;

/// <summary>
/// What closed visits of the fleet found, by the fault that they were for; kept in memory until visits change. Safe for concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads visits.</param>
/// <param name="renewals">Reads them anew.</param>
public sealed class CauseFindings(RegistryCache registry, VisitSheetQueries queries, Renewals renewals)
{
    // Units that came into the scope brought their visits along, and such a move is a change of the registry.
    private readonly Remembered<(long Visits, long Voids), ILookup<string, Told>> _told = new(renewals, new(
        "cause_findings",
        TimeSpan.MaxValue,
        async token => Place.Of(await registry.CurrentAsync(token), await queries.LastVisitsAsync(token)),
        async (_, token) => (await queries.ClosedVisitsAsync(token))
            .SelectMany(visit => Faults(visit).Select(code => (Code: code, Visit: new Told(visit.UnitId, visit.LeftAt, Evidence(visit)))))
            .ToLookup(pair => pair.Code, pair => pair.Visit)));

    /// <summary>
    /// The visits for a fault. A code means what its model's catalogue says: visits to units of another model count where its catalogue
    /// gives the
    /// code the same meaning.
    /// </summary>
    /// <param name="snapshot">The registry.</param>
    /// <param name="fault">The fault.</param>
    /// <param name="until">Visits that ended later are left out.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<VisitEvidence>> OfAsync(
        RegistrySnapshot snapshot, FaultResource fault, DateTimeOffset until, CancellationToken cancellationToken)
    {
        ILookup<string, Told> all = await _told.CurrentAsync(until, cancellationToken);
        return
        [
            .. all[Codes.Key(fault.Code)]
                .Where(visit => visit.LeftAt <= until && snapshot.UnitsById.TryGetValue(visit.UnitId, out UnitEntry? unit)
                    && unit.Model.Faults.TryGetValue(fault.Code, out FaultResource? same)
                    && string.Equals(same.Text.Trim(), fault.Text.Trim(), StringComparison.OrdinalIgnoreCase))
                .Select(visit => visit.Evidence),
        ];
    }

    private static IEnumerable<string> Faults(ClosedVisit visit) =>
        (JsonSerializer.Deserialize<string[]>(visit.Faults, Json.Options) ?? []).Select(Codes.Key).Distinct();

    private static VisitEvidence Evidence(ClosedVisit visit) => new(
        visit.Outcome == "proven",
        visit.Findings is null ? [] :
        [
            .. (JsonSerializer.Deserialize<VisitFinding[]>(visit.Findings, Json.Options) ?? [])
                .Select(found => new CauseFinding(found.Position, found.FailureMode, found.Cause)),
        ]);

    private sealed record Told(int UnitId, DateTimeOffset LeftAt, VisitEvidence Evidence);
}
