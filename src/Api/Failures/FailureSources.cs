using Washwear.Api.Memories;
using Washwear.Api.PartLife;
using Washwear.Api.Projections;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>
/// Reads what failures are counted from, and keeps it for an hour unless faults, visits, part changes, voids or the registry change. Safe for
/// concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="faults">The faults.</param>
/// <param name="wear">The parts.</param>
/// <param name="queries">Reads the rest.</param>
/// <param name="renewals">Makes it anew.</param>
internal sealed class FailureSources(RegistryCache registry, FleetFaults faults, FleetWear wear, FailureQueries queries, Renewals renewals)
{
    private readonly Remembered<FailurePlace, FailureSource> _source = new(renewals, new(
        "failures",
        TimeSpan.FromHours(1),
        async token => Place.Of(await registry.CurrentAsync(token), await queries.PlaceAsync(token)),
        (asOf, token) => ReadAsync(registry, faults, wear, queries, asOf, token)));

    /// <summary>What failures are read from as of an instant, or as of less than an hour before it.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public Task<FailureSource> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _source.CurrentAsync(asOf, cancellationToken);

    private static async Task<FailureSource> ReadAsync(
        RegistryCache registry, FleetFaults faults, FleetWear wear, FailureQueries queries, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        (int first, int last) = UsualMonths(asOf);

        // Reading holds its thread: side by side where there are cores.
        Task<Wear> parts = Task.Run(() => wear.CurrentAsync(asOf, cancellationToken), cancellationToken);
        Task<WashCounts> washes = Task.Run(() => queries.WashMonthsAsync(first, last, cancellationToken), cancellationToken);
        Task<IReadOnlyDictionary<int, HeardRow>> heard = Task.Run(() => queries.HeardAsync(cancellationToken), cancellationToken);
        IReadOnlyDictionary<int, UnitFaults> known = (await faults.CurrentAsync(cancellationToken)).Units;
        return new FailureSource(asOf, snapshot, known, await parts, await heard, await washes);
    }

    // The window that nobody has to ask for.
    private static (int First, int Last) UsualMonths(DateTimeOffset asOf)
    {
        FailureChoice usual = FailureQuestions.Filled(new FailureChoice(), asOf);
        return (WashMonth.Of(usual.From!.Value.ToUnixTimeMilliseconds()), WashMonth.Of(usual.To!.Value.ToUnixTimeMilliseconds()));
    }
}
