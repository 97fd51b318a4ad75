using Washwear.Analytics.Repeats;
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

    private IEnumerable<Failure> FaultEpisodesOf(WatchedUnit unit, FailureChoice choice)
    {
        if (Faults.GetValueOrDefault(unit.Terms.Unit.Id) is not { } faults)
        {
            return [];
        }

        // Codes get numbers within the unit: episodes are of one code.
        string[] codes = [.. faults.Faults.Select(fault => fault.Code).Distinct()];
        UnitRepair[] repairs =
        [
            .. faults.RepairsMs.Select(ms => new UnitRepair(0, ms)),
            .. Lives[unit.Terms.Unit.Id].Where(life => life.Failed).Select(life => new UnitRepair(0, life.EndedAt!.Value.ToUnixTimeMilliseconds())),
        ];
        RaisedFault[] raised =
            [.. faults.Faults.Select(fault => new RaisedFault(0, Array.IndexOf(codes, fault.Code), fault.RaisedMs, fault.ClearedMs, false))];
        return FaultEpisodes.Group(raised, repairs, new EpisodeOptions(choice.GapHours)).Select(episode =>
        {
            string code = codes[episode.Codes[0]];
            return new Failure(FailureKind.Faults, unit, episode.FirstRaisedAtMs, code, FailureNames.Fault(unit.Terms.Unit, code))
            {
                UntilMs = episode.NeverCleared > 0 ? null : episode.LastEndAtMs,
                Faults = episode.Faults,
                LocksOut = FailureNames.LocksOut(unit.Terms.Unit, code),
            };
        });
    }
}
