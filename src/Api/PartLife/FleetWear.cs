using Washwear.Api.Memories;
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
/// <param name="renewals">Makes them anew.</param>
public sealed class FleetWear(RegistryCache registry, FleetLives lives, PartLifeQueries queries, Renewals renewals)
{
    private readonly Remembered<(long Parts, long Voids), Wear> _wear = new(renewals, new(
        "part_life",
        TimeSpan.FromHours(1),
        async token => Place.Of(await registry.CurrentAsync(token), await queries.LastChangesAsync(token)),
        async (asOf, token) =>
        {
            IReadOnlyList<FleetLife> all = await lives.LoadFleetAsync(asOf, token);
            return new Wear(asOf, new FittedParts(all), all);
        }));

    /// <summary>The fits as of an instant, or as of less than an hour before it.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public Task<Wear> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken) => _wear.CurrentAsync(asOf, cancellationToken);
}
