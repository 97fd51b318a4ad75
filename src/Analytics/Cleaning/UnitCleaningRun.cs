using NodaTime;

namespace Washwear.Analytics.Cleaning;

/// <summary>One unit under all its rules, event by event. Immutable; the rules stand in the order that it was begun with.</summary>
public sealed class UnitCleaningRun
{
    /// <summary>Length of a period: four weeks, so that a question about three months reads at most five.</summary>
    public static readonly Duration PeriodLength = Duration.FromDays(28);

    private UnitCleaningRun(IReadOnlyList<CleaningRun> rules) => Rules = rules;

    /// <summary>The run under each rule.</summary>
    public IReadOnlyList<CleaningRun> Rules { get; }

    /// <summary>Instant of the last event folded in; null before the first.</summary>
    public Instant? FoldedTo => Rules.Count == 0 ? null : Rules[0].FoldedTo;

    /// <summary>Begin of the period in course; null before the first event.</summary>
    public Instant? PeriodFrom => Rules.Count == 0 ? null : Rules[0].PeriodFrom;

    /// <summary>Before any event.</summary>
    /// <param name="rules">The unit's rules.</param>
    /// <param name="calendar">When the site trades.</param>
    /// <param name="service">Reporting time, commissioning, stretches out of service.</param>
    /// <param name="periodLength">Length of a period; null: <see cref="PeriodLength"/>.</param>
    public static UnitCleaningRun Begin(
        IEnumerable<CleaningRule> rules, SiteCalendar calendar, UnitService service, Duration? periodLength = null) =>
        new([.. rules.Select(rule => CleaningRun.Begin(rule, calendar, service, periodLength ?? PeriodLength))]);

    /// <summary>A run from the bytes of <see cref="ToBytes"/>.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="terms">A run begun with the same terms.</param>
    public static UnitCleaningRun FromBytes(ReadOnlySpan<byte> bytes, UnitCleaningRun terms)
    {
        var reader = new CompactReader(bytes);
        var rules = new CleaningRun[terms.Rules.Count];
        for (int i = 0; i < rules.Length; i++)
        {
            rules[i] = CleaningRun.Read(ref reader, terms.Rules[i]);
        }

        return new UnitCleaningRun(rules);
    }

    /// <summary>Number of the period that begins at an instant, counted in <see cref="PeriodLength"/> from Monday, 5 January 1970.</summary>
    /// <param name="begin">Its begin.</param>
    public static long NumberOf(Instant begin) => (begin - CleaningRun.FirstMonday).BclCompatibleTicks / PeriodLength.BclCompatibleTicks;

    /// <summary>Number of the period to which an instant belongs; a begin belongs to the period before it.</summary>
    /// <param name="at">The instant.</param>
    public static long PeriodOf(Instant at) => NumberOf(CleaningRun.PeriodBegin(at, PeriodLength));

    /// <summary>Begin of a period.</summary>
    /// <param name="number">Its number.</param>
    public static Instant BeginOf(long number) => CleaningRun.FirstMonday + (PeriodLength * number);

    /// <summary>The run in a compact form.</summary>
    public byte[] ToBytes()
    {
        var writer = new CompactWriter();
        foreach (CleaningRun rule in Rules)
        {
            rule.Write(writer);
        }

        return writer.ToArray();
    }

    /// <summary>Folds events in, as <see cref="CleaningRun.Fold"/> does for one rule.</summary>
    /// <param name="events">New events in the order of <see cref="UnitEvent.Compare"/>.</param>
    /// <returns>The run and the periods that ended on the way; null when it must begin anew from an earlier period.</returns>
    public (UnitCleaningRun Run, IReadOnlyList<ClosedUnitPeriod> Closed)? Fold(IReadOnlyList<UnitEvent> events)
    {
        var folded = new FoldedRun[Rules.Count];
        for (int i = 0; i < folded.Length; i++)
        {
            if (Rules[i].Fold(events) is not { } one)
            {
                return null;
            }

            folded[i] = one;
        }

        int closed = folded.Length == 0 ? 0 : folded[0].Closed.Count;
        return (
            new UnitCleaningRun([.. folded.Select(one => one.Run)]),
            [
                .. Enumerable.Range(0, closed).Select(i => new ClosedUnitPeriod(
                    [.. folded.Select(one => one.Closed[i].Period)], new UnitCleaningRun([.. folded.Select(one => one.Closed[i].Next)]))),
            ]);
    }
}

/// <summary>A period that came to its end, under all rules of a unit.</summary>
/// <param name="Periods">One a rule, in the order of the rules.</param>
/// <param name="Next">The run at the period's end.</param>
public sealed record ClosedUnitPeriod(IReadOnlyList<CleaningPeriod> Periods, UnitCleaningRun Next)
{
    /// <summary>Their begin.</summary>
    public Instant From => Periods[0].From;

    /// <summary>The periods in a compact form.</summary>
    public byte[] ToBytes()
    {
        var writer = new CompactWriter();
        foreach (CleaningPeriod period in Periods)
        {
            period.Data.Write(writer);
        }

        return writer.ToArray();
    }
}
