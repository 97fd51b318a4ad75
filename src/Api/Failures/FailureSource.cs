using System.Collections.Concurrent;
using Washwear.Analytics.Faults;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>All that failures are read from, as of one instant.</summary>
/// <param name="AsOf">The instant.</param>
/// <param name="Registry">The registry.</param>
/// <param name="Faults">Faults by the unit's number.</param>
/// <param name="Wear">Parts and their life models.</param>
/// <param name="Lives">Parts by the unit's number.</param>
/// <param name="Heard">When units were heard, by the unit's number.</param>
internal sealed record FailureSource(
    DateTimeOffset AsOf,
    RegistrySnapshot Registry,
    IReadOnlyDictionary<int, UnitFaults> Faults,
    Wear Wear,
    ILookup<int, FleetLife> Lives,
    IReadOnlyDictionary<int, HeardRow> Heard)
{
    private readonly ConcurrentDictionary<double, IReadOnlyDictionary<int, Episode[]>> _episodes = [];

    private const string NotWatched = "unit never watched in this time";
    private const string OutsideWatch = "failure outside the time for which its unit is on record";

    /// <summary>The failures of one kind that a choice asks for.</summary>
    /// <param name="choice">The choice, its window filled in.</param>
    /// <param name="kind">Kind of failure.</param>
    /// <param name="washes">Washes of the months of the window.</param>
    public FailureView View(FailureChoice choice, FailureKind kind, WashCounts washes)
    {
        var units = new List<WatchedUnit>();
        var failures = new List<Failure>();
        var all = new List<Failure>();
        (int notWatched, int outside) = (0, 0);
        long toMs = choice.To!.Value.ToUnixTimeMilliseconds();
        foreach (UnitTerms terms in Registry.Cleaning.Units.Where(unit => FailureView.Asks(choice, unit.Unit)))
        {
            if (Watched(terms, kind, washes) is not { } unit)
            {
                notWatched++;
                continue;
            }

            units.Add(unit);
            Failure[] episodes = [.. FaultEpisodesOf(unit, choice)];
            all.AddRange(episodes);
            Failure[] asked = [.. (kind == FailureKind.Faults ? episodes.Where(one => FailureView.Names(choice.Code, one.What)) : PartsOf(unit, choice))
                .Where(failure => failure.AtMs < toMs)];
            Failure[] watched = [.. asked.Where(failure => unit.At(failure.AtMs))];
            outside += asked.Length - watched.Length;
            failures.AddRange(watched);
        }

        return new FailureView(
            choice, AsOf, kind, units, failures, all.ToLookup(episode => episode.Unit.Terms.Unit.Id), Excluded(notWatched, outside));
    }

    private static Dictionary<string, int> Excluded(int notWatched, int outside)
    {
        var excluded = new Dictionary<string, int>();
        if (notWatched > 0)
        {
            excluded.Add(NotWatched, notWatched);
        }

        if (outside > 0)
        {
            excluded.Add(OutsideWatch, outside);
        }

        return excluded;
    }

    private WatchedUnit? Watched(UnitTerms terms, FailureKind kind, WashCounts washes) => WatchedUnit.Of(
        terms,
        Heard.TryGetValue(terms.Unit.Id, out HeardRow heard) ? heard : null,
        kind == FailureKind.Faults,
        AsOf.ToUnixTimeMilliseconds(),
        washes);

    private IEnumerable<Failure> PartsOf(WatchedUnit unit, FailureChoice choice) => Lives[unit.Terms.Unit.Id]
        .Where(life => life.Failed && FailureView.Names(choice.Position, life.Position))
        .OrderBy(life => life.EndedAt)
        .Select(life => new Failure(
            FailureKind.Parts, unit, life.EndedAt!.Value.ToUnixTimeMilliseconds(), life.Position, FailureNames.Position(unit.Terms.Unit, life.Position))
        {
            Life = life,
        });

    private IEnumerable<Failure> FaultEpisodesOf(WatchedUnit unit, FailureChoice choice) =>
        _episodes.GetOrAdd(choice.GapHours, EpisodesWithin).GetValueOrDefault(unit.Terms.Unit.Id, []).Select(episode =>
            new Failure(FailureKind.Faults, unit, episode.FromMs, episode.Code, FailureNames.Fault(unit.Terms.Unit, episode.Code))
            {
                UntilMs = episode.UntilMs,
                Faults = episode.Faults,
                LocksOut = FailureNames.LocksOut(unit.Terms.Unit, episode.Code),
            });

    private Dictionary<int, Episode[]> EpisodesWithin(double gapHours)
    {
        // Codes get numbers; an episode is of one code.
        var codes = new Dictionary<string, int>(StringComparer.Ordinal);
        var raised = new List<RaisedFault>();
        var repairs = new List<UnitRepair>();
        foreach ((int unitId, UnitFaults faults) in Faults)
        {
            foreach (FaultRow fault in faults.Faults)
            {
                if (!codes.TryGetValue(fault.Code, out int code))
                {
                    codes[fault.Code] = code = codes.Count;
                }

                raised.Add(new RaisedFault(unitId, code, fault.RaisedMs, fault.ClearedMs, false));
            }

            repairs.AddRange(faults.RepairsMs.Select(ms => new UnitRepair(unitId, ms)));
        }

        repairs.AddRange(Wear.Lives.Where(life => life.Failed)
            .Select(life => new UnitRepair(life.Unit.Id, life.EndedAt!.Value.ToUnixTimeMilliseconds())));
        string[] names = [.. codes.Keys];
        return FaultEpisodes.Group(raised, repairs, new EpisodeOptions(gapHours)).GroupBy(episode => episode.Unit).ToDictionary(
            unit => unit.Key,
            unit => unit.Select(episode => new Episode(
                names[episode.Codes[0]], episode.FirstRaisedAtMs, episode.NeverCleared > 0 ? null : episode.LastEndAtMs, episode.Faults)).ToArray());
    }

    private readonly record struct Episode(string Code, long FromMs, long? UntilMs, int Faults);
}
