using Washwear.Api.Memories;
using Washwear.Api.Registry;

namespace Washwear.Api.PartLife;

/// <summary>All lives on record as of one instant, aged on every clock.</summary>
/// <param name="AsOf">The instant.</param>
/// <param name="All">The lives, looks included.</param>
/// <param name="Voided">Part changes that were voided, by position and the unit's number.</param>
internal sealed record Aged(DateTimeOffset AsOf, IReadOnlyList<FleetLife> All, ILookup<string, KeyValuePair<int, int>> Voided)
{
    private const int MostAnswers = 24;

    /// <summary>The lives by position.</summary>
    public ILookup<string, FleetLife> ByPosition => field ??= All.ToLookup(life => life.Position, StringComparer.OrdinalIgnoreCase);

    /// <summary>What was told of them.</summary>
    public KeptAnswers Answers { get; } = new(MostAnswers);
}

/// <summary>
/// Ages the parts of a large fleet for all who ask of them: whichever position is asked for, the washes and meters of all units have to be read.
/// Safe for concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="lives">Reads the lives.</param>
/// <param name="queries">Reads what was voided.</param>
/// <param name="renewals">Reads them anew.</param>
internal sealed class AgedLives(RegistryCache registry, FleetLives lives, PartLifeQueries queries, Renewals renewals)
{
    // Lives hold no sentences: they are the same for every reader. Records come to a large fleet all the time, so that no place is like another.
    private readonly Remembered<long, Aged> _aged = new(renewals, new(
        "aged_lives",
        renewals.Rule.Most,
        async token => Place.Of(await registry.CurrentAsync(token), renewals.Clock.GetTimestamp()),
        async (asOf, token) => new Aged(
            asOf,
            await lives.LoadAsync(null, asOf, token, withLooks: true),
            (await queries.VoidedChangesAsync(token)).ToLookup(
                one => one.Position, one => KeyValuePair.Create(one.UnitId, one.Changes), StringComparer.OrdinalIgnoreCase))));

    /// <summary>Whether the fleet is so large that its lives are aged for all at once.</summary>
    /// <param name="snapshot">The registry.</param>
    public bool Hold(RegistrySnapshot snapshot) => renewals.Rule.IsLarge(snapshot.UnitList.Count);

    /// <summary>The lives as of an instant, or as of a little before; to be asked where they are held.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public Task<Aged> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken) => _aged.CurrentAsync(asOf, cancellationToken);
}
