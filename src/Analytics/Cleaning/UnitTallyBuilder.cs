using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>Counts windows of one unit under all its rules. Not safe for concurrent use.</summary>
public sealed class UnitTallyBuilder
{
    private readonly PeriodBuffer _buffer = new();
    private readonly UnitCleaningRun _run;
    private readonly IReadOnlyList<Interval> _windows;
    private readonly TallyBuilder[] _rules;
    private Instant? _from;

    /// <summary>Begins.</summary>
    /// <param name="run">Where the unit stands.</param>
    /// <param name="windows">Windows [from, to), each with both ends and longer than nothing, in order.</param>
    public UnitTallyBuilder(UnitCleaningRun run, IReadOnlyList<Interval> windows)
    {
        (_run, _windows) = (run, windows);
        _rules = [.. run.Rules.Select(rule => new TallyBuilder(windows, rule.Commissioned))];
    }

    /// <summary>Adds the next closed period.</summary>
    /// <param name="from">Its begin.</param>
    /// <param name="closed">The bytes of <see cref="ClosedUnitPeriod.ToBytes"/>.</param>
    public void Add(Instant from, ReadOnlySpan<byte> closed)
    {
        Begin(from);
        var reader = new CompactReader(closed);
        foreach (TallyBuilder rule in _rules)
        {
            rule.Add(_buffer.Read(ref reader));
        }
    }

    /// <summary>Adds the period in course and counts.</summary>
    /// <returns>For each rule, in the order of the run, the figures of each window.</returns>
    public IReadOnlyList<IReadOnlyList<CleaningTally>> Build()
    {
        Instant end = _windows[^1].End;
        for (int i = 0; i < _rules.Length; i++)
        {
            CleaningRun rule = _run.Rules[i];
            if (!(rule.PeriodFrom >= end))
            {
                foreach (CleaningPeriod open in rule.PeriodTo(end))
                {
                    Begin(open.From);
                    _rules[i].Add(open);
                }
            }
        }

        Begin(end);
        return [.. _rules.Select(rule => rule.Build())];
    }

    /// <summary>What came before the first period, in which nothing was owed.</summary>
    private void Begin(Instant firstPeriod)
    {
        if (_from is not null)
        {
            return;
        }

        _from = firstPeriod;
        for (int i = 0; i < _rules.Length && firstPeriod > _windows[0].Start; i++)
        {
            _rules[i].Add(_run.Rules[i].Before(_windows[0].Start, Instant.Min(firstPeriod, _windows[^1].End)));
        }
    }
}
