using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Operation;
using Washwear.Api.Registry;

namespace Washwear.Api.Cleaning;

/// <summary>
/// Keeps in memory where every unit stands and reads what has changed since: a question about now reads no records, one about a window the
/// periods that it touches. Safe for concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads the database.</param>
public sealed class FleetRuns(RegistryCache registry, CleaningQueries queries) : IDisposable
{
    private const int Tries = 20;

    private readonly SemaphoreSlim _reading = new(1, 1);
    private volatile Fleet? _current;

    /// <summary>Where every unit stands now.</summary>
    /// <param name="cancellationToken">Stops waiting.</param>
    public async Task<Fleet> CurrentAsync(CancellationToken cancellationToken)
    {
        (ReadView view, Fleet fleet) = await BeginAsync(cancellationToken);
        await view.DisposeAsync();
        return fleet;
    }

    /// <summary>Counts windows of units under all their rules.</summary>
    /// <param name="select">The units to count.</param>
    /// <param name="windows">Windows [from, to) in order, the first of which begins first and the last of which ends last.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <param name="remember">Whether the same windows will be asked for again soon: then only units that change are counted again.</param>
    /// <returns>For each unit and each of its rules, in their order, the figures of each window.</returns>
    public async Task<IReadOnlyList<UnitTallies>> CountAsync(
        Func<RegistrySnapshot, IReadOnlyList<UnitTerms>> select, IReadOnlyList<Interval> windows, CancellationToken cancellationToken,
        bool remember = false)
    {
        (ReadView view, Fleet fleet) = await BeginAsync(cancellationToken);
        await using (view)
        {
            IReadOnlyList<UnitTerms> units = select(fleet.Registry);
            UnitTallies?[] counted = [.. units.Select(unit => fleet.Units[unit.Unit.Id].TalliesOf(windows))];
            int[] missing = [.. Enumerable.Range(0, counted.Length).Where(i => counted[i] is null)];
            UnitStanding[] standing = [.. missing.Select(i => fleet.Units[units[i].Unit.Id])];

            (long first, long last) = PeriodsOf(windows);
            byte[]?[][] closed = Closed(view, standing, fleet.Units.Count, first, last);
            Parallel.For(0, standing.Length, i =>
            {
                UnitTallies tallies = Count(standing[i], closed[i], first, windows);
                counted[missing[i]] = tallies;
                if (remember)
                {
                    standing[i].Remember(windows, tallies);
                }
            });
            return counted!;
        }
    }

    /// <summary>Counts a window of its own for each of some units, all at one commit.</summary>
    /// <param name="asked">Numbers of units and their windows [from, to), each longer than nothing.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    /// <returns>For each its figures under all the unit's rules.</returns>
    public async Task<IReadOnlyList<UnitTallies>> CountEachAsync(
        IReadOnlyList<(int UnitId, Interval Window)> asked, CancellationToken cancellationToken)
    {
        if (asked.Count == 0)
        {
            return [];
        }

        (ReadView view, Fleet fleet) = await BeginAsync(cancellationToken);
        await using (view)
        {
            return
            [
                .. asked.Select(one =>
                {
                    UnitStanding standing = fleet.Units[one.UnitId];
                    (long first, long last) = PeriodsOf([one.Window]);
                    return Count(standing, Closed(view, [standing], fleet.Units.Count, first, last)[0], first, [one.Window]);
                }),
            ];
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _reading.Dispose();

    // A begin belongs to the period before it, the end of a window to the one that it closes.
    private static (long First, long Last) PeriodsOf(IReadOnlyList<Interval> windows) =>
        (UnitCleaningRun.PeriodOf(windows[0].Start + Duration.FromTicks(1)), UnitCleaningRun.PeriodOf(windows[^1].End));

    private static UnitTallies Count(UnitStanding unit, byte[]?[] closed, long first, IReadOnlyList<Interval> windows)
    {
        var builder = new UnitTallyBuilder(unit.Run, windows);
        for (int i = 0; i < closed.Length; i++)
        {
            if (closed[i] is { } period)
            {
                builder.Add(UnitCleaningRun.BeginOf(first + i), period);
            }
        }

        return new UnitTallies(unit.Terms, builder.Build());
    }

    /// <returns>For each unit its closed periods from the first to the last; null where it has none.</returns>
    private static byte[]?[][] Closed(ReadView view, UnitStanding[] units, int unitsInAll, long first, long last)
    {
        var places = new Dictionary<int, int>(units.Length);
        var closed = new byte[]?[units.Length][];
        for (int i = 0; i < closed.Length; i++)
        {
            places.Add(units[i].Terms.Unit.Id, i);
            closed[i] = new byte[]?[last - first + 1];
        }

        // Where most units are asked for, reading all of them in their order is faster than looking for each.
        IEnumerable<PeriodRow> rows = units.Length * 4 > unitsInAll
            ? CleaningQueries.PeriodsOfAll(view, first, last)
            : CleaningQueries.PeriodsOf(view, places.Keys, first, last);
        foreach (PeriodRow row in rows)
        {
            if (places.TryGetValue(row.UnitId, out int place))
            {
                closed[place][row.Period - first] = row.Closed;
            }
        }

        return closed;
    }

    /// <summary>A commit and the fleet at that very commit.</summary>
    private async Task<(ReadView View, Fleet Fleet)> BeginAsync(CancellationToken cancellationToken)
    {
        for (int i = 0; i < Tries; i++)
        {
            RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
            ReadView view = await queries.BeginAsync(cancellationToken);
            if (_current is { } current && Is(current, view))
            {
                return (view, current);
            }

            // Somebody wrote. Whoever reads it looks at the latest commit in their turn, so that nobody reads one that others are beyond.
            await view.DisposeAsync();
            if (await ReadAsync(snapshot, cancellationToken) is { } read)
            {
                return read;
            }
        }

        throw new TimeoutException("The registry changed at every look.");
    }

    /// <returns>The latest commit and the fleet at it; null when the registry has changed.</returns>
    private async Task<(ReadView View, Fleet Fleet)?> ReadAsync(RegistrySnapshot snapshot, CancellationToken cancellationToken)
    {
        await _reading.WaitAsync(cancellationToken);
        ReadView? view = null;
        try
        {
            view = await queries.BeginAsync(cancellationToken);
            if (view.RegistryVersion != snapshot.Version)
            {
                return null;
            }

            Fleet? known = _current;
            if (known is null || !Is(known, view))
            {
                using Telemetry.Derivation derived = Telemetry.Deriving("cleaning");
                _current = known = Read(view, snapshot, known?.Registry.Version == snapshot.Version ? known : null);
            }

            (ReadView View, Fleet Fleet) read = (view, known);
            view = null;
            return read;
        }
        finally
        {
            _reading.Release();
            if (view is not null)
            {
                await view.DisposeAsync();
            }
        }
    }

    private static bool Is(Fleet fleet, ReadView view) => fleet.LastSeq == view.LastSeq && fleet.Registry.Version == view.RegistryVersion;

    private static Fleet Read(ReadView view, RegistrySnapshot snapshot, Fleet? known)
    {
        // Few units change from one commit to the next: what did not change is shared. A plain dictionary, copied, since far more is looked up
        // than written, and looking a unit up in a tree takes ten times as long.
        var units = new Dictionary<int, UnitStanding>(
            known?.Units ?? snapshot.Cleaning.Units.ToDictionary(unit => unit.Unit.Id, unit => new UnitStanding(unit, unit.Begin)));
        foreach (RunRow row in CleaningQueries.RunsSince(view, known?.LastSeq ?? -1))
        {
            UnitTerms terms = snapshot.Cleaning.ById[row.UnitId];
            if (row.Terms != terms.Fingerprint)
            {
                throw new InvalidOperationException($"Where unit {terms.Unit.Resource.Unit} stands was derived with other terms: run 'rebuild'.");
            }

            units[terms.Unit.Id] = new UnitStanding(terms, UnitCleaningRun.FromBytes(row.Run, terms.Begin));
        }

        return new Fleet(snapshot, view.LastSeq, units);
    }
}

/// <summary>What a unit came to in some windows.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="ByRule">For each of its rules, in their order, the figures of each window.</param>
public sealed record UnitTallies(UnitTerms Unit, IReadOnlyList<IReadOnlyList<CleaningTally>> ByRule);
