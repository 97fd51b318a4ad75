using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>
/// Past which age a part is worth swapping while the unit is open for another. These ages rest on all lives of the fleet, which one more part
/// change hardly moves: they are kept for an hour, unless the registry changes, so that a technician's sheet does not wait for the plan after
/// every repair. Safe for concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="plans">The plan.</param>
internal sealed class CompanionAges(RegistryCache registry, FleetPlan plans) : IDisposable
{
    private static readonly TimeSpan Fresh = TimeSpan.FromHours(1);

    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Known? _known;

    /// <summary>The pairs of a model.</summary>
    /// <param name="model">The model.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<IReadOnlyList<CompanionRow>> OfAsync(ModelEntry model, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        long version = (await registry.CurrentAsync(cancellationToken)).Version;
        Known known = _known is { } now && now.Holds(version, asOf) ? now : await ReadAsync(version, asOf, cancellationToken);
        return [.. known.Rows[Codes.Key(model.Resource.Model)]];
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    private async Task<Known> ReadAsync(long version, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        await _reading.WaitAsync(cancellationToken);
        try
        {
            if (_known is { } other && other.Holds(version, asOf))
            {
                return other;
            }

            PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
            return _known = new Known(version, asOf, plan.Companions.ToLookup(row => Codes.Key(row.Model)));
        }
        finally
        {
            _reading.Release();
        }
    }

    private sealed record Known(long Version, DateTimeOffset AsOf, ILookup<string, CompanionRow> Rows)
    {
        public bool Holds(long version, DateTimeOffset asOf) => Version == version && asOf >= AsOf && asOf - AsOf < Fresh;
    }
}
