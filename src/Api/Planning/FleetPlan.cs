using Washwear.Api.Failures;
using Washwear.Api.Memories;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;

namespace Washwear.Api.Planning;

/// <summary>
/// Keeps the plan in memory: its book of parts changes with part changes, voids and the registry, and hardly within an hour; decisions are always
/// those made up to now. Safe for concurrent use.
/// </summary>
internal sealed class FleetPlan
{
    private static readonly TimeSpan LockoutsLooked = TimeSpan.FromDays(730);

    private readonly RegistryCache _registry;
    private readonly FleetLives _lives;
    private readonly AgedLives _aged;
    private readonly FailureQueries _failures;
    private readonly FleetFaults _faults;
    private readonly PlanDecisionQueries _decisions;
    private readonly Remembered<(long Parts, long Voids), PlanNow> _made;
    private volatile PlanNow? _given;

    /// <summary>Begins with nothing.</summary>
    /// <param name="registry">The registry.</param>
    /// <param name="lives">Reads the lives.</param>
    /// <param name="aged">The lives of a large fleet, as others ask for them too.</param>
    /// <param name="places">Says when part changes came in last.</param>
    /// <param name="failures">Reads washes by month.</param>
    /// <param name="faults">The fleet's faults.</param>
    /// <param name="decisions">Reads what was decided.</param>
    /// <param name="renewals">Makes the book anew.</param>
    public FleetPlan(RegistryCache registry, FleetLives lives, AgedLives aged, PartLifeQueries places, FailureQueries failures, FleetFaults faults,
        PlanDecisionQueries decisions, Renewals renewals)
    {
        (_registry, _lives, _aged, _failures, _faults, _decisions) = (registry, lives, aged, failures, faults, decisions);
        _made = new(renewals, new(
            "plan", TimeSpan.FromHours(1), async token => Place.Of(await registry.CurrentAsync(token), await places.LastChangesAsync(token)), MakeAsync)
        {
            AsOf = plan => plan.Book.AsOf,
        });
    }

    /// <summary>The plan as of an instant, or as of less than an hour before it; with every decision made up to now.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlanNow> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow made = await _made.CurrentAsync(asOf, cancellationToken);
        long lastId = await _decisions.LastIdAsync(cancellationToken);
        PlanNow? given = _given;
        if (!made.Is(made.Book, lastId))
        {
            made = given?.Is(made.Book, lastId) == true ? given : await WithDecisionsAsync(made.Book, cancellationToken);
        }

        return _given = made;
    }

    // What the plan before was asked for is worked out before this one is given, so that no reader waits for it.
    private async Task<PlanNow> MakeAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await WithDecisionsAsync(await ReadNowAsync(asOf, cancellationToken), cancellationToken);
        plan.PrepareLike(_given);
        return plan;
    }

    private async Task<PlanNow> WithDecisionsAsync(PlanBook book, CancellationToken cancellationToken) =>
        new(book, DecisionsInForce.Of(book, await _decisions.AllAsync(cancellationToken)));

    private async Task<PlanBook> ReadNowAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await _registry.CurrentAsync(cancellationToken);
        if (!_aged.Hold(snapshot))
        {
            return await ReadAsync(asOf, afterwards: false, cancellationToken);
        }

        // A plan does not ask how parts looked that were swapped.
        Aged aged = await _aged.CurrentAsync(asOf, cancellationToken);
        FleetLife[] all = [.. aged.All.Select(life => life.LookedPoor ? life with { LookedPoor = false } : life)];
        return await BookAsync(snapshot, all, aged.AsOf, afterwards: false, cancellationToken);
    }

    /// <summary>A book made anew, not kept.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="afterwards">Whether it lies in the past.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<PlanBook> ReadAsync(DateTimeOffset asOf, bool afterwards, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await _registry.CurrentAsync(cancellationToken);
        IReadOnlyList<FleetLife> all = await _lives.LoadAsync(null, asOf, cancellationToken);
        return await BookAsync(snapshot, all, asOf, afterwards, cancellationToken);
    }

    private async Task<PlanBook> BookAsync(
        RegistrySnapshot snapshot, IReadOnlyList<FleetLife> all, DateTimeOffset asOf, bool afterwards, CancellationToken cancellationToken)
    {
        WashRates rates = await WashRates.ReadAsync(_failures, asOf, afterwards, cancellationToken);
        return PlanBook.Of(asOf, snapshot, all, rates, await LockoutHoursAsync(snapshot, asOf, cancellationToken));
    }

    private async Task<double?> LockoutHoursAsync(RegistrySnapshot snapshot, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        long to = asOf.ToUnixTimeMilliseconds();
        long from = (asOf - LockoutsLooked).ToUnixTimeMilliseconds();
        double[] hours =
        [
            .. (await _faults.CurrentAsync(cancellationToken)).Units
                .SelectMany(unit => unit.Value.Faults.Where(fault => FailureNames.LocksOut(snapshot.UnitsById[unit.Key], fault.Code)))
                .Where(fault => fault.RaisedMs >= from && fault.ClearedMs is { } cleared && cleared <= to && cleared > fault.RaisedMs)
                .Select(fault => TimeSpan.FromMilliseconds(fault.ClearedMs!.Value - fault.RaisedMs).TotalHours),
        ];
        return hours.Length == 0 ? null : hours.Average();
    }
}
