using Washwear.Api.Registry;

namespace Washwear.Api.Failures;

/// <summary>A unit's faults and visits that repaired, each in the order of time.</summary>
/// <param name="Faults">Faults by when they were raised.</param>
/// <param name="RepairsMs">Ends of visits that repaired, ms UTC.</param>
public sealed record UnitFaults(FaultRow[] Faults, long[] RepairsMs)
{
    /// <summary>No fault, no repair.</summary>
    public static UnitFaults None { get; } = new([], []);
}

/// <summary>
/// Keeps every unit's faults in memory and reads again only those of units with new records; a void makes it read all. Safe for concurrent
/// use.
/// </summary>
/// <param name="registry">The registry, whose models spell the codes.</param>
/// <param name="queries">Reads the database.</param>
public sealed class FleetFaults(RegistryCache registry, FailureQueries queries) : IDisposable
{
    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Known? _known;

    /// <summary>The faults by the unit's number, and the place that they were read at; units without any are absent.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task<(FailurePlace Place, IReadOnlyDictionary<int, UnitFaults> Units)> CurrentAsync(CancellationToken cancellationToken)
    {
        long version = (await registry.CurrentAsync(cancellationToken)).Version;
        FailurePlace place = await queries.PlaceAsync(cancellationToken);
        if (_known is { } known && known.Version == version && known.Place == place)
        {
            return (known.Place, known.Units);
        }

        await _reading.WaitAsync(cancellationToken);
        try
        {
            Known? before = _known is { } other && other.Version == version && other.Place.LastVoid == place.LastVoid ? _known : null;
            FaultReading reading = await queries.ReadAsync(before?.Place, cancellationToken);
            _known = new Known(version, reading.Place, With(before?.Units, reading));
            return (_known.Place, _known.Units);
        }
        finally
        {
            _reading.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    private static Dictionary<int, UnitFaults> With(IReadOnlyDictionary<int, UnitFaults>? before, FaultReading reading)
    {
        Dictionary<int, UnitFaults> units = before is null ? [] : new(before);
        foreach (int unitId in reading.Units ?? [])
        {
            units.Remove(unitId);
        }

        ILookup<int, long> repairs = reading.Repairs.ToLookup(row => row.UnitId, row => row.LeftMs);
        foreach (IGrouping<int, FaultRow> faults in reading.Faults.GroupBy(row => row.UnitId))
        {
            units[faults.Key] = new UnitFaults([.. faults.OrderBy(row => row.RaisedMs)], [.. repairs[faults.Key].Order()]);
        }

        foreach (IGrouping<int, long> only in repairs.Where(group => !units.ContainsKey(group.Key)))
        {
            units[only.Key] = new UnitFaults([], [.. only.Order()]);
        }

        return units;
    }

    private sealed record Known(long Version, FailurePlace Place, IReadOnlyDictionary<int, UnitFaults> Units);
}
