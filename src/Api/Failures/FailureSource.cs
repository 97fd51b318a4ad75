using System.Collections.Concurrent;
using Washwear.Api.PartLife;
using Washwear.Api.Registry;
using Washwear.Dashboard.Failures;

namespace Washwear.Api.Failures;

/// <summary>All that failures are read from, as of one instant.</summary>
/// <param name="AsOf">The instant.</param>
/// <param name="Registry">The registry.</param>
/// <param name="Faults">Faults by the unit's number.</param>
/// <param name="Wear">Parts and their life models.</param>
/// <param name="Heard">When units were heard, by the unit's number.</param>
/// <param name="Washes">Washes of the year that ends at the instant, by unit and month.</param>
internal sealed record FailureSource(
    DateTimeOffset AsOf,
    RegistrySnapshot Registry,
    IReadOnlyDictionary<int, UnitFaults> Faults,
    Wear Wear,
    IReadOnlyDictionary<int, HeardRow> Heard,
    WashCounts Washes)
{
    private const int MostGapsKept = 8;
    private const string NotWatched = "unit never watched in this time";
    private const string OutsideWatch = "failure outside the time for which its unit is on record";

    private readonly ConcurrentDictionary<double, Lazy<FleetEpisodes>> _episodes = [];

    /// <summary>The failures of one kind that a choice asks for.</summary>
    /// <param name="choice">The choice, its window filled in.</param>
    /// <param name="kind">Kind of failure.</param>
    /// <param name="washes">Washes of the months of the window.</param>
    public FailureView View(FailureChoice choice, FailureKind kind, WashCounts washes)
    {
        // Whoever asks with ever new gaps must not fill the memory with episodes.
        if (_episodes.Count >= MostGapsKept && !_episodes.ContainsKey(choice.GapHours))
        {
            _episodes.Clear();
        }

        FleetEpisodes episodes = _episodes.GetOrAdd(
            choice.GapHours, hours => new Lazy<FleetEpisodes>(() => FleetEpisodes.Of(Faults, Wear, hours))).Value;
        UnitTerms[] terms = [.. Registry.Cleaning.Units.Where(unit => FailureView.Asks(choice, unit.Unit))];
        var seen = new UnitFailures?[terms.Length];
        Parallel.For(0, terms.Length, i => seen[i] = Of(terms[i], choice, kind, washes, episodes));
        UnitFailures[] watched = [.. seen.OfType<UnitFailures>()];
        return new FailureView(
            choice,
            AsOf,
            kind,
            [.. watched.Select(one => one.Unit)],
            [.. watched.SelectMany(one => one.Asked)],
            watched.ToDictionary(one => one.Unit.Terms.Unit.Id, one => one.Episodes),
            Excluded(terms.Length - watched.Length, watched.Sum(one => one.Outside)));
    }

    private UnitFailures? Of(UnitTerms terms, FailureChoice choice, FailureKind kind, WashCounts washes, FleetEpisodes known)
    {
        if (Watched(terms, kind, washes) is not { } unit)
        {
            return null;
        }

        long toMs = choice.To!.Value.ToUnixTimeMilliseconds();
        Failure[] episodes = known.Of(unit);
        Failure[] asked = [.. (kind == FailureKind.Faults ? episodes.Where(one => FailureView.Names(choice.Code, one.What)) : PartsOf(unit, choice))
            .Where(failure => failure.AtMs < toMs)];
        Failure[] watched = Array.FindAll(asked, failure => unit.At(failure.AtMs));
        return new UnitFailures(unit, episodes, watched, asked.Length - watched.Length);
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

    private IEnumerable<Failure> PartsOf(WatchedUnit unit, FailureChoice choice) => Wear.ByUnit[unit.Terms.Unit.Id]
        .Where(life => life.Failed && FailureView.Names(choice.Position, life.Position))
        .OrderBy(life => life.EndedAt)
        .Select(life => new Failure(
            FailureKind.Parts, unit, life.EndedAt!.Value.ToUnixTimeMilliseconds(), life.Position, FailureNames.Position(unit.Terms.Unit, life.Position))
        {
            Life = life,
        });

    private sealed record UnitFailures(WatchedUnit Unit, Failure[] Episodes, Failure[] Asked, int Outside);
}
