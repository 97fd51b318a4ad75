namespace Washwear.Analytics.Recurrence;

/// <summary>What events that recur show.</summary>
public enum TrendFinding
{
    /// <summary>Too few events for a verdict.</summary>
    TooLittleData,

    /// <summary>What is seen may be chance.</summary>
    NoTrendShown,

    /// <summary>Events come more often.</summary>
    GettingWorse,

    /// <summary>Events come less often.</summary>
    GettingBetter,
}

/// <summary>Why the verdict rests on the test that it does.</summary>
public enum TrendTestReason
{
    /// <summary>
    /// Times between events, or counts, vary about as those of a Poisson process: Laplace's test, or its form for counts.
    /// </summary>
    VariesAsPoisson,

    /// <summary>Too few times between events, or counts, to check that: the test supposes a Poisson process unchecked.</summary>
    TooFewToCheck,

    /// <summary>They vary more or less than Poisson, and there are enough units to take the spread from: Laplace between units.</summary>
    SpreadTakenFromUnits,

    /// <summary>They vary more than Poisson and units are few: Lewis and Robinson's test, or Mann and Kendall's for counts.</summary>
    VariesMoreThanPoisson,

    /// <summary>They vary less than Poisson and units are few: Lewis and Robinson's test.</summary>
    VariesLessThanPoisson,
}

/// <summary>What would change a verdict, the test staying the same. Events to come are spread evenly over time and units.</summary>
/// <param name="Ahead">The stretch ahead that is asked about, in the unit of the clock (counts: periods).</param>
/// <param name="UnitsWatchedOn">Units watched in it (counts: 0, as counts know no units).</param>
/// <param name="FewestToGettingWorse">
/// Smallest number of events in the stretch after which the verdict is 'getting worse'; 0: even without any. Null where no number up to
/// twenty times those seen would do.
/// </param>
/// <param name="MostToGettingBetter">Largest number after which it is 'getting better'; null where not even none would do.</param>
/// <param name="QuietUntilGettingBetter">
/// Shortest stretch without events after which it is 'getting better', in the unit of the clock, to a thousandth of the stretch asked
/// about (counts: whole periods); 0: it is so now. Null where none up to the longest looked for would do.
/// </param>
public sealed record TrendChange(
    double Ahead, int UnitsWatchedOn, int? FewestToGettingWorse, int? MostToGettingBetter, double? QuietUntilGettingBetter);

/// <summary>
/// Whether events that recur come more or less often, by the test that the records allow, and what would change that. Laplace's test where
/// times between events vary as those of a Poisson process (Greenwood's statistic, at 5 %); where they do not, Laplace's statistic with
/// its spread taken from the units (from <see cref="UnitsForSpread"/> units with events on), else Lewis and Robinson's over whole windows.
/// All are conditional on how many events each unit had, so that units may differ in rate: they see change within units, not that units
/// put in later are worse. Seasons and clusters that many units share are not allowed for.
/// </summary>
/// <param name="Finding">The verdict.</param>
/// <param name="Units">Units given (counts: 0).</param>
/// <param name="Events">Events seen.</param>
/// <param name="EventsNeeded">Events needed for a verdict.</param>
/// <param name="Level">Confidence level of the verdict.</param>
/// <param name="Test">The test that the verdict rests on; null with too little data.</param>
/// <param name="Reason">Why that one; null with too little data.</param>
/// <param name="Variation">
/// Coefficient of variation of the times between events, about 1 for Poisson (counts: root of their variance over the Poisson variance, the
/// trend taken out); null where it cannot be told.
/// </param>
/// <param name="VariationPValue">Two-sided chance of that in a Poisson process (counts: chance of so much); null likewise.</param>
/// <param name="Change">What would change the verdict; null where nothing is watched on.</param>
public sealed record TrendVerdict(
    TrendFinding Finding,
    int Units,
    int Events,
    int EventsNeeded,
    double Level,
    TrendTest? Test,
    TrendTestReason? Reason,
    double? Variation,
    double? VariationPValue,
    TrendChange? Change)
{
    /// <summary>Units with events from which on the spread is taken from the units themselves.</summary>
    public const int UnitsForSpread = 20;

    private const double VariesAtChance = 0.05;

    /// <summary>Judges histories.</summary>
    /// <param name="histories">The units, on one clock: age, or the calendar.</param>
    /// <param name="options">How; null for the defaults.</param>
    /// <exception cref="ArgumentException">An option does not fit.</exception>
    public static TrendVerdict Of(IReadOnlyList<EventHistory> histories, TrendOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(histories);
        options ??= new TrendOptions();
        options.Check(histories.Count);
        Recurrence.Variation variation = Recurrence.Variation.Of(histories);
        (TrendTestKind kind, TrendTestReason reason) = Choose(histories, variation);
        TrendTest Test(IReadOnlyList<EventHistory> of) => kind switch
        {
            TrendTestKind.Laplace => TrendTests.Laplace(of),
            TrendTestKind.LaplaceBetweenUnits => TrendTests.LaplaceBetweenUnits(of),
            _ => TrendTests.LewisRobinson(of, RecordEnd.ByTime),
        };
        TrendFinding Judge(IReadOnlyList<EventHistory> of) => Find(Test(of), of.Sum(h => h.Ages.Count), options);
        TrendFinding finding = Judge(histories);
        bool tooLittle = finding == TrendFinding.TooLittleData;
        return new TrendVerdict(
            finding, histories.Count, histories.Sum(h => h.Ages.Count), options.FewestEvents, options.Level,
            tooLittle ? null : Test(histories), tooLittle ? null : reason, variation.Coefficient, variation.PValue,
            ChangeOf(new NextEvents(histories, options), Judge, options));
    }

    /// <summary>Judges counts of successive periods, such as months, where events of units are not known one by one.</summary>
    /// <param name="periods">Periods of equal length in order of time; those without exposure are passed over but keep their place.</param>
    /// <param name="options">How; null for the defaults with one period ahead.</param>
    /// <exception cref="ArgumentException">An option does not fit.</exception>
    public static TrendVerdict OfCounts(IReadOnlyList<PeriodCount> periods, TrendOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(periods);
        options ??= new TrendOptions { Ahead = 1 };
        options.Check(0);
        CountTrend counts = CountTrend.Of(periods);
        TrendFinding Judge(IReadOnlyList<PeriodCount> of) => Find(CountTrend.Test(of, counts.Kind), of.Sum(p => p.Events), options);
        TrendFinding finding = Judge(periods);
        bool tooLittle = finding == TrendFinding.TooLittleData;
        return new TrendVerdict(
            finding, 0, periods.Sum(p => p.Events), options.FewestEvents, options.Level,
            tooLittle ? null : CountTrend.Test(periods, counts.Kind), tooLittle ? null : counts.Reason,
            counts.Variation, counts.VariationPValue, CountTrend.ChangeOf(periods, Judge, options));
    }

    internal static TrendFinding Find(TrendTest test, int events, TrendOptions options) =>
        events < options.FewestEvents || test.PTwoSided is not { } p ? TrendFinding.TooLittleData
        : p >= 1 - options.Level ? TrendFinding.NoTrendShown
        : test.Direction == TrendDirection.Worsening ? TrendFinding.GettingWorse : TrendFinding.GettingBetter;

    private static (TrendTestKind Kind, TrendTestReason Reason) Choose(IReadOnlyList<EventHistory> histories, Variation variation) =>
        variation.PValue is not { } p ? (TrendTestKind.Laplace, TrendTestReason.TooFewToCheck)
        : p >= VariesAtChance ? (TrendTestKind.Laplace, TrendTestReason.VariesAsPoisson)
        : histories.Count(h => h.Ages.Count > 0) >= UnitsForSpread
            ? (TrendTestKind.LaplaceBetweenUnits, TrendTestReason.SpreadTakenFromUnits)
        : (TrendTestKind.LewisRobinson, variation.Coefficient > 1
            ? TrendTestReason.VariesMoreThanPoisson : TrendTestReason.VariesLessThanPoisson);

    private static TrendChange? ChangeOf(
        NextEvents next, Func<IReadOnlyList<EventHistory>, TrendFinding> judge, TrendOptions options)
    {
        if (next.WatchedOn == 0)
        {
            return null;
        }

        int missing = Math.Max(0, options.FewestEvents - next.Events);
        (int? worse, int? better) = ChangeSearch.Counts(
            count => judge(next.With(options.Ahead, count)), missing, Math.Max(missing + 1, next.MostEvents));
        double? quiet = ChangeSearch.Shortest(
            stretch => judge(stretch == 0 ? next.Now : next.With(stretch, 0)) == TrendFinding.GettingBetter,
            options.LongestQuiet ?? next.LongestQuiet, options.Ahead / 1000);
        return new TrendChange(options.Ahead, next.WatchedOn, worse, better, quiet);
    }
}
