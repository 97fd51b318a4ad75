using System.Collections.Concurrent;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Cleaning;

/// <summary>Records of units from some instant on, with where each unit stood then.</summary>
/// <param name="Histories">Records by the unit's number.</param>
/// <param name="Checkpoints">Where a unit stood under a rule; none: its records are complete.</param>
public sealed record KnownRecords(
    IReadOnlyDictionary<int, UnitHistory> Histories, IReadOnlyDictionary<(int UnitId, string Rule), CleaningCheckpoint> Checkpoints)
{
    /// <summary>All records of one unit.</summary>
    /// <param name="unitId">The unit's number.</param>
    /// <param name="history">Its records.</param>
    public static KnownRecords Complete(int unitId, UnitHistory history) => new(
        new Dictionary<int, UnitHistory> { [unitId] = history }, new Dictionary<(int, string), CleaningCheckpoint>());

    /// <summary>Where to go on from.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="rule">The rule.</param>
    public CleaningCheckpoint? From(UnitTerms unit, RuleTerms rule) => Checkpoints.GetValueOrDefault((unit.Unit.Id, rule.Rule.Code));
}

/// <summary>
/// Gives the records that a question on cleaning needs. Where every unit stood at the begin of each of the last months is kept in memory, so that
/// a question about the last weeks reads weeks and not years; a record that comes late, or is withdrawn, forgets what it touches. Safe for
/// concurrent use.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="queries">Reads the records.</param>
public sealed class CleaningRecords(RegistryCache registry, CleaningQueries queries) : IDisposable
{
    private const int MonthsKept = 14;

    private readonly SemaphoreSlim _learning = new(1, 1);
    private readonly ConcurrentDictionary<(int UnitId, string Rule, Instant At), CleaningCheckpoint> _kept = new();
    private long _registryVersion;
    private long _seenSeq;

    /// <summary>Records that tell all from an instant on.</summary>
    /// <param name="units">Which units.</param>
    /// <param name="from">The instant.</param>
    /// <param name="until">Records after it are left out.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<KnownRecords> ReadAsync(
        IReadOnlyCollection<UnitTerms> units, DateTimeOffset from, DateTimeOffset until, CancellationToken cancellationToken)
    {
        DateTimeOffset month = new(from.UtcDateTime.Year, from.UtcDateTime.Month, 1, 0, 0, 0, TimeSpan.Zero);
        if (month < until.AddMonths(-MonthsKept))
        {
            return new KnownRecords(
                await queries.HistoriesAsync(units, null, until, cancellationToken), new Dictionary<(int, string), CleaningCheckpoint>());
        }

        var at = Instant.FromDateTimeOffset(month);
        await _learning.WaitAsync(cancellationToken);
        try
        {
            await ForgetAsync(cancellationToken);
            await LearnAsync(units, month, cancellationToken);
            return new KnownRecords(
                await queries.HistoriesAsync(units, month, until, cancellationToken),
                units.SelectMany(unit => unit.Rules, (unit, rule) => (unit.Unit.Id, rule.Rule.Code))
                    .ToDictionary(key => key, key => _kept[(key.Id, key.Code, at)]));
        }
        finally
        {
            _learning.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _learning.Dispose();

    private async Task ForgetAsync(CancellationToken cancellationToken)
    {
        long version = (await registry.CurrentAsync(cancellationToken)).Version;
        (long last, IReadOnlyDictionary<int, Instant> earliest) = await queries.ChangedSinceAsync(_seenSeq, cancellationToken);
        bool rebuilt = last < _seenSeq;
        foreach ((int UnitId, string Rule, Instant At) key in _kept.Keys)
        {
            if (rebuilt || version != _registryVersion || (earliest.TryGetValue(key.UnitId, out Instant changed) && key.At >= changed))
            {
                _kept.TryRemove(key, out _);
            }
        }

        (_registryVersion, _seenSeq) = (version, last);
    }

    private async Task LearnAsync(IEnumerable<UnitTerms> units, DateTimeOffset month, CancellationToken cancellationToken)
    {
        var at = Instant.FromDateTimeOffset(month);
        UnitTerms[] unknown = [.. units.Where(unit => unit.Rules.Any(rule => !_kept.ContainsKey((unit.Unit.Id, rule.Rule.Code, at))))];
        if (unknown.Length == 0)
        {
            return;
        }

        IReadOnlyDictionary<int, UnitHistory> histories = await queries.HistoriesAsync(unknown, null, month, cancellationToken);
        Parallel.ForEach(unknown, unit =>
        {
            foreach (RuleTerms rule in unit.Rules)
            {
                _kept[(unit.Unit.Id, rule.Rule.Code, at)] =
                    CauseTimeline.Checkpoint(rule.Rule, unit.Calendar, histories[unit.Unit.Id], at);
            }
        });
    }
}
