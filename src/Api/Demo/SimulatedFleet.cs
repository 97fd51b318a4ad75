using Washwear.Api.Ingest;
using Washwear.Api.Registry;

namespace Washwear.Api.Demo;

/// <summary>An invented fleet: its registry, the records that reach the service, and what is true of it.</summary>
public sealed class SimulatedFleet
{
    private readonly int _seed;
    private readonly IReadOnlyList<UnitPlan> _units;
    private readonly SimulationWindow _window;

    internal SimulatedFleet(int seed, RegistryDocument registry, IReadOnlyList<UnitPlan> units, SimulationWindow window)
    {
        _seed = seed;
        _units = units;
        _window = window;
        Registry = registry;
    }

    /// <summary>Operators, sites, models, units and rules.</summary>
    public RegistryDocument Registry { get; }

    /// <summary>First instant of which there are records.</summary>
    public DateTimeOffset RecordsBegin => _window.RecordsBegin;

    /// <summary>The instant at which they end.</summary>
    public DateTimeOffset AsOf => _window.AsOf;

    /// <summary>
    /// The records in the order in which they arrive, late and double ones included. Each enumeration lives the fleet's life anew, side by
    /// side for all units, so that memory grows with the units and not with the records.
    /// </summary>
    public IEnumerable<IncomingRecord> Records()
    {
        PriorityQueue<IEnumerator<Delivery>, (DateTimeOffset, int)> next = new();
        for (int unit = 0; unit < _units.Count; unit++)
        {
            Advance(next, new UnitLife(_seed, _units[unit], _window).Run().GetEnumerator(), unit);
        }

        while (next.TryDequeue(out IEnumerator<Delivery>? life, out var place))
        {
            yield return life.Current.Record;
            Advance(next, life, place.Item2);
        }
    }

    /// <summary>What is true of each unit; lives one unit's life at a time.</summary>
    public IEnumerable<UnitTruth> Truth()
    {
        foreach (UnitPlan plan in _units)
        {
            UnitLife life = new(_seed, plan, _window);
            foreach (Delivery _ in life.Run())
            {
                // The records are for another reader.
            }

            yield return life.Truth();
        }
    }

    private static void Advance(PriorityQueue<IEnumerator<Delivery>, (DateTimeOffset, int)> next, IEnumerator<Delivery> life, int unit)
    {
        if (life.MoveNext())
        {
            next.Enqueue(life, (life.Current.DeliveredAt, unit));
        }
        else
        {
            life.Dispose();
        }
    }
}
