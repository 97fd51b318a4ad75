using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Cleaning;

/// <summary>Where every unit stands at one commit. Safe for concurrent use.</summary>
/// <param name="Registry">The registry of that commit.</param>
/// <param name="LastSeq">Last record of the ledger by which a run changed.</param>
/// <param name="Units">The units, by the unit's number.</param>
public sealed record Fleet(RegistrySnapshot Registry, long LastSeq, IReadOnlyDictionary<int, UnitStanding> Units);

/// <summary>Where one unit stands. Remembers what it told, until that holds no more. Safe for concurrent use.</summary>
/// <param name="terms">The unit.</param>
/// <param name="run">The run after its last record.</param>
public sealed class UnitStanding(UnitTerms terms, UnitCleaningRun run)
{
    // Those that pages ask for again and again: the last weeks, the weeks of the trend, two stretches side by side, a month and the one before it.
    private const int MostWindows = 6;

    private volatile Told? _told;
    private volatile Counted[] _counted = [];

    /// <summary>The unit.</summary>
    public UnitTerms Terms => terms;

    /// <summary>The run after its last record.</summary>
    public UnitCleaningRun Run => run;

    /// <summary>How the unit stands under the rules that hold at an instant.</summary>
    /// <param name="asOf">The instant.</param>
    /// <returns>One status a rule, as of the instant or of an earlier one since which only what is overdue has grown; null when records after the instant are folded in, so that nobody can tell from here.</returns>
    public IReadOnlyList<(RuleTerms Rule, CleaningStatus Status)>? At(Instant asOf)
    {
        if (asOf < run.FoldedTo)
        {
            return null;
        }

        if (_told is not { } told || asOf < told.From || asOf >= told.Until)
        {
            told = Tell(asOf);
            _told = told;
        }

        return told.Statuses;
    }

    /// <summary>What the unit came to in windows that were counted lately; null: they were not.</summary>
    /// <param name="windows">The windows.</param>
    public UnitTallies? TalliesOf(IReadOnlyList<Interval> windows)
    {
        foreach (Counted counted in _counted)
        {
            if (counted.Windows.SequenceEqual(windows))
            {
                return counted.Tallies;
            }
        }

        return null;
    }

    /// <summary>Remembers what the unit came to: as long as it stands here, nothing of it changes.</summary>
    /// <param name="windows">The windows.</param>
    /// <param name="tallies">What it came to.</param>
    public void Remember(IReadOnlyList<Interval> windows, UnitTallies tallies) => _counted =
        [new Counted(windows, tallies), .. _counted.Where(known => !known.Windows.SequenceEqual(windows)).Take(MostWindows - 1)];

    private Told Tell(Instant asOf)
    {
        var statuses = new List<(RuleTerms, CleaningStatus)>();
        Instant until = Instant.MaxValue;
        for (int i = 0; i < run.Rules.Count; i++)
        {
            CleaningRun rule = run.Rules[i];
            if (rule.Validity.Contains(asOf))
            {
                (CleaningStatus status, Instant holdsUntil) = rule.At(asOf);
                statuses.Add((terms.Rules[i], status));
                until = Instant.Min(until, holdsUntil);
            }
            else if (rule.Validity.HasStart && rule.Validity.Start > asOf)
            {
                until = Instant.Min(until, rule.Validity.Start);
            }
        }

        return new Told(asOf, until, statuses);
    }

    private sealed record Counted(IReadOnlyList<Interval> Windows, UnitTallies Tallies);

    private sealed record Told(Instant From, Instant Until, IReadOnlyList<(RuleTerms Rule, CleaningStatus Status)> Statuses);
}
