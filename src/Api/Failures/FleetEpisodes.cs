using System.Collections.Concurrent;
using Washwear.Analytics.Faults;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>Every unit's faults as episodes: those of one code that come in a run are one. Safe for concurrent use.</summary>
internal sealed class FleetEpisodes
{
    private readonly Dictionary<int, Episode[]> _byUnit;
    private readonly ConcurrentDictionary<(int Model, string Code), (string Name, bool LocksOut)> _names = [];

    private FleetEpisodes(Dictionary<int, Episode[]> byUnit) => _byUnit = byUnit;

    /// <summary>Groups the faults of all units.</summary>
    /// <param name="faults">Faults by the unit's number.</param>
    /// <param name="wear">The parts: one that failed was changed, which ends a run.</param>
    /// <param name="gapHours">Most hours between two faults of one episode.</param>
    public static FleetEpisodes Of(IReadOnlyDictionary<int, UnitFaults> faults, Wear wear, double gapHours)
    {
        (int UnitId, UnitFaults Faults)[] units = [.. faults.Select(pair => (pair.Key, pair.Value))];

        // Codes get numbers; an episode is of one code. Of faults raised at one instant the lower number comes first.
        var codes = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (FaultRow fault in units.SelectMany(unit => unit.Faults.Faults))
        {
            codes.TryAdd(fault.Code, codes.Count);
        }

        string[] names = [.. codes.Keys];
        ILookup<int, FleetLife> parts = wear.ByUnit;
        var options = new EpisodeOptions(gapHours);
        var episodes = new Episode[units.Length][];
        Parallel.For(0, units.Length, i => episodes[i] = Of(units[i].UnitId, units[i].Faults, parts[units[i].UnitId], codes, names, options));
        return new FleetEpisodes(units.Zip(episodes).ToDictionary(pair => pair.First.UnitId, pair => pair.Second));
    }

    /// <summary>The episodes of a unit in the order of time, as failures.</summary>
    /// <param name="unit">The unit.</param>
    public Failure[] Of(WatchedUnit unit)
    {
        UnitEntry entry = unit.Terms.Unit;
        return Array.ConvertAll(_byUnit.GetValueOrDefault(entry.Id, []), episode =>
        {
            (string name, bool locksOut) = _names.GetOrAdd(
                (entry.Model.Id, episode.Code),
                static (key, entry) => (FailureNames.Fault(entry, key.Code), FailureNames.LocksOut(entry, key.Code)),
                entry);
            return new Failure(FailureKind.Faults, unit, episode.FromMs, episode.Code, name)
            {
                UntilMs = episode.UntilMs,
                Faults = episode.Faults,
                LocksOut = locksOut,
            };
        });
    }

    private static Episode[] Of(
        int unitId, UnitFaults faults, IEnumerable<FleetLife> parts, Dictionary<string, int> codes, string[] names, EpisodeOptions options)
    {
        RaisedFault[] raised = Array.ConvertAll(
            faults.Faults, fault => new RaisedFault(unitId, codes[fault.Code], fault.RaisedMs, fault.ClearedMs, false));
        UnitRepair[] repairs =
        [
            .. faults.RepairsMs.Select(ms => new UnitRepair(unitId, ms)),
            .. parts.Where(life => life.Failed).Select(life => new UnitRepair(unitId, life.EndedAt!.Value.ToUnixTimeMilliseconds())),
        ];
        return
        [
            .. FaultEpisodes.Group(raised, repairs, options).Select(episode => new Episode(
                names[episode.Codes[0]], episode.FirstRaisedAtMs, episode.NeverCleared > 0 ? null : episode.LastEndAtMs, episode.Faults)),
        ];
    }

    private readonly record struct Episode(string Code, long FromMs, long? UntilMs, int Faults);
}
