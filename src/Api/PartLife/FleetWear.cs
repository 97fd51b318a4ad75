using NodaTime;
using Washwear.Api.Operation;
using Washwear.Api.Registry;

namespace Washwear.Api.PartLife;

/// <summary>The fits of all positions and the parts still fitted.</summary>
/// <param name="AsOf">When the parts were looked at.</param>
/// <param name="Models">The fits.</param>
/// <param name="Lives">All parts on record, aged in days.</param>
public sealed record Wear(DateTimeOffset AsOf, FittedParts Models, IReadOnlyList<FleetLife> Lives)
{
    /// <summary>The parts still fitted, aged in days.</summary>
    public IReadOnlyList<FleetLife> Fitted => field ??= [.. Lives.Where(life => life.StillFitted)];

    /// <summary>All parts by the unit's number.</summary>
    public ILookup<int, FleetLife> ByUnit => field ??= Lives.ToLookup(life => life.Unit.Id);
}

/// <summary>
/// Keeps the fits of all positions in memory: they change with part changes and with the registry, and hardly within an hour. Safe for
/// concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="lives">Reads the lives.</param>
/// <param name="queries">Says when part changes came in last.</param>
public sealed class FleetWear(RegistryCache registry, FleetLives lives, PartLifeQueries queries) : IDisposable
{
    private static readonly Duration Fresh = Duration.FromHours(1);

    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Known? _known;

    /// <summary>The fits as of an instant, or as of less than an hour before it.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<Wear> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        (long Version, long Parts, long Voids) place = await PlaceAsync(cancellationToken);
        if (_known is { } known && known.Holds(place, asOf))
        {
            return known.Wear;
        }

        await _reading.WaitAsync(cancellationToken);
        try
        {
            if (_known is { } other && other.Holds(place, asOf))
            {
                return other.Wear;
            }

            using Telemetry.Derivation derived = Telemetry.Deriving("part_life");
            IReadOnlyList<FleetLife> all = await lives.LoadFleetAsync(asOf, cancellationToken);
            var wear = new Wear(asOf, new FittedParts(all), all);
            _known = new Known(place, wear);
            return wear;
        }
        finally
        {
            _reading.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    private async Task<(long Version, long Parts, long Voids)> PlaceAsync(CancellationToken cancellationToken)
    {
        long version = (await registry.CurrentAsync(cancellationToken)).Version;
        (long parts, long voids) = await queries.LastChangesAsync(cancellationToken);
        return (version, parts, voids);
    }

    private sealed record Known((long Version, long Parts, long Voids) Place, Wear Wear)
    {
        public bool Holds((long Version, long Parts, long Voids) place, DateTimeOffset asOf) =>
            Place == place && asOf >= Wear.AsOf && asOf - Wear.AsOf < Fresh.ToTimeSpan();
    }
}
