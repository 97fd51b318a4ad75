using Washwear.Api.Failures;
using Washwear.Api.Operation;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;

namespace Washwear.Api.Planning;

/// <summary>
/// Keeps the book of fitted parts in memory: it changes with part changes, voids and the registry, and hardly within an hour. Safe for
/// concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="lives">Reads the lives.</param>
/// <param name="places">Says when part changes came in last.</param>
/// <param name="failures">Reads washes by month.</param>
/// <param name="faults">The fleet's faults.</param>
/// <param name="decisions">Reads what was decided.</param>
internal sealed class FleetPlan(RegistryCache registry, FleetLives lives, PartLifeQueries places, FailureQueries failures, FleetFaults faults,
    PlanDecisionQueries decisions) : IDisposable
{
    private static readonly TimeSpan Fresh = TimeSpan.FromHours(1);
    private static readonly TimeSpan LockoutsLooked = TimeSpan.FromDays(730);

    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Known? _known;
    private volatile PlanNow? _plan;

    /// <summary>The plan as of an instant, or as of less than an hour before it.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlanNow> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanBook book = await BookAsync(asOf, cancellationToken);
        long lastId = await decisions.LastIdAsync(cancellationToken);
        if (_plan is { } known && known.Is(book, lastId))
        {
            return known;
        }

        return _plan = new PlanNow(book, DecisionsInForce.Of(book, await decisions.AllAsync(cancellationToken)));
    }

    private async Task<PlanBook> BookAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        (long, long, long) place = await PlaceAsync(cancellationToken);
        if (_known is { } known && known.Holds(place, asOf))
        {
            return known.Book;
        }

        await _reading.WaitAsync(cancellationToken);
        try
        {
            if (_known is { } other && other.Holds(place, asOf))
            {
                return other.Book;
            }

            using Telemetry.Derivation derived = Telemetry.Deriving("plan");
            PlanBook book = await ReadAsync(asOf, afterwards: false, cancellationToken);
            _known = new Known(place, book);
            return book;
        }
        finally
        {
            _reading.Release();
        }
    }

    /// <summary>A book made anew, not kept.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="afterwards">Whether it lies in the past.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlanBook> ReadAsync(DateTimeOffset asOf, bool afterwards, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        IReadOnlyList<FleetLife> all = await lives.LoadAsync(null, asOf, cancellationToken);
        WashRates rates = await WashRates.ReadAsync(failures, asOf, afterwards, cancellationToken);
        return PlanBook.Of(asOf, snapshot, all, rates, await LockoutHoursAsync(snapshot, asOf, cancellationToken));
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    private async Task<double?> LockoutHoursAsync(RegistrySnapshot snapshot, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        long to = asOf.ToUnixTimeMilliseconds();
        long from = (asOf - LockoutsLooked).ToUnixTimeMilliseconds();
        double[] hours =
        [
            .. (await faults.CurrentAsync(cancellationToken)).Units
                .SelectMany(unit => unit.Value.Faults.Where(fault => FailureNames.LocksOut(snapshot.UnitsById[unit.Key], fault.Code)))
                .Where(fault => fault.RaisedMs >= from && fault.ClearedMs is { } cleared && cleared <= to && cleared > fault.RaisedMs)
                .Select(fault => TimeSpan.FromMilliseconds(fault.ClearedMs!.Value - fault.RaisedMs).TotalHours),
        ];
        return hours.Length == 0 ? null : hours.Average();
    }

    private async Task<(long Version, long Parts, long Voids)> PlaceAsync(CancellationToken cancellationToken)
    {
        long version = (await registry.CurrentAsync(cancellationToken)).Version;
        (long parts, long voids) = await places.LastChangesAsync(cancellationToken);
        return (version, parts, voids);
    }

    private sealed record Known((long, long, long) Place, PlanBook Book)
    {
        public bool Holds((long, long, long) place, DateTimeOffset asOf) => Place == place && asOf >= Book.AsOf && asOf - Book.AsOf < Fresh;
    }
}
