using System.Text.Json;
using Washwear.Analytics.Diagnosis;
using Washwear.Api.Http;
using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Api.VisitSheets;

/// <summary>
/// What closed visits of the fleet found, by the fault that they were for; kept in memory until visits change. Safe for concurrent use.
/// </summary>
/// <param name="queries">Reads visits.</param>
public sealed class CauseFindings(VisitSheetQueries queries) : IDisposable
{
    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Known? _known;

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
        ILookup<string, Told> all = await CurrentAsync(snapshot.Version, cancellationToken);
        return
        [
            .. all[Codes.Key(fault.Code)]
                .Where(visit => visit.LeftAt <= until && snapshot.UnitsById.TryGetValue(visit.UnitId, out UnitEntry? unit)
                    && unit.Model.Faults.TryGetValue(fault.Code, out FaultResource? same)
                    && string.Equals(same.Text.Trim(), fault.Text.Trim(), StringComparison.OrdinalIgnoreCase))
                .Select(visit => visit.Evidence),
        ];
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    // Units that came into the scope brought their visits along, and such a move is a change of the registry.
    private async Task<ILookup<string, Told>> CurrentAsync(long version, CancellationToken cancellationToken)
    {
        (long visits, long voids) = await queries.LastVisitsAsync(cancellationToken);
        (long Version, long Visits, long Voids) place = (version, visits, voids);
        if (_known is { } known && known.Place == place)
        {
            return known.ByFault;
        }

        await _reading.WaitAsync(cancellationToken);
        try
        {
            if (_known is { } other && other.Place == place)
            {
                return other.ByFault;
            }

            ILookup<string, Told> byFault = (await queries.ClosedVisitsAsync(cancellationToken))
                .SelectMany(visit => Faults(visit).Select(code =>
                    (Code: code, Visit: new Told(visit.UnitId, visit.LeftAt, Evidence(visit)))))
                .ToLookup(pair => pair.Code, pair => pair.Visit);
            _known = new Known(place, byFault);
            return byFault;
        }
        finally
        {
            _reading.Release();
        }
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

    private sealed record Known((long Version, long Visits, long Voids) Place, ILookup<string, Told> ByFault);
}
