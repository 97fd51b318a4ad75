using Washwear.Api.Operation;
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
internal sealed class FailureSources(RegistryCache registry, FleetFaults faults, FleetWear wear, FailureQueries queries) : IDisposable
{
    private static readonly TimeSpan Fresh = TimeSpan.FromHours(1);

    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Known? _known;

    /// <summary>What failures are read from as of an instant, or as of less than an hour before it.</summary>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task<FailureSource> CurrentAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        if (await KnownAsync(asOf, cancellationToken) is { } source)
        {
            return source;
        }

        await _reading.WaitAsync(cancellationToken);
        try
        {
            if (await KnownAsync(asOf, cancellationToken) is { } other)
            {
                return other;
            }

            using Telemetry.Derivation derived = Telemetry.Deriving("failures");
            FailurePlace place = await queries.PlaceAsync(cancellationToken);
            FailureSource read = await ReadAsync(asOf, cancellationToken);
            _known = new Known(place, read);
            return read;
        }
        finally
        {
            _reading.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    private async Task<FailureSource?> KnownAsync(DateTimeOffset asOf, CancellationToken cancellationToken) =>
        _known is { } known
        && asOf >= known.Source.AsOf && asOf - known.Source.AsOf < Fresh
        && known.Place == await queries.PlaceAsync(cancellationToken)
        && known.Source.Registry.Version == (await registry.CurrentAsync(cancellationToken)).Version
            ? known.Source
            : null;

    private async Task<FailureSource> ReadAsync(DateTimeOffset asOf, CancellationToken cancellationToken)
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

    private sealed record Known(FailurePlace Place, FailureSource Source);
}
