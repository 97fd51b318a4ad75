using CsCheck;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Folding events in, in batches, kept as bytes in between, gives what all records give from scratch.</summary>
public sealed class CleaningRunTests
{
    private static readonly Duration ThreeDays = Duration.FromDays(3);

    [Fact]
    public void Status_is_that_of_a_computation_from_scratch_at_any_instant_after_the_last_event()
    {
        (int folds, int refolds) = (0, 0);
        Gen.Select(CleaningScenario.Any, Gen.Int[0, 3], Gen.Double[0, 1].Array[60]).Sample(
            (any, basis, random) =>
            {
                CleaningScenario scenario = WithBasis(any, basis);
                UnitCleaningRun run = Begin(scenario);
                foreach ((IReadOnlyList<UnitEvent> batch, UnitHistory known, Instant next, double share) in Reported(scenario.History, random))
                {
                    Interlocked.Increment(ref folds);
                    if (run.Fold(batch) is not { } folded)
                    {
                        Interlocked.Increment(ref refolds);
                        folded = Begin(scenario).Fold(UpTo(known, batch[^1].At))!.Value;
                    }

                    run = UnitCleaningRun.FromBytes(folded.Run.ToBytes(), Begin(scenario));
                    Instant asOf = batch[^1].At + Duration.FromMinutes((long)((next - batch[^1].At).TotalMinutes * share * 0.999));
                    (CleaningStatus status, Instant until) = run.Rules[0].At(asOf);
                    Assert.Equal(CauseTimeline.At(scenario.Rule, scenario.Site.Calendar, known, asOf), status);
                    Instant later = Instant.Min(until, next) - Duration.FromMilliseconds(1);
                    if (later > asOf)
                    {
                        Assert.Equal(
                            CauseTimeline.At(scenario.Rule, scenario.Site.Calendar, known, later),
                            status.Later(later));
                    }
                }
            },
            iter: 2000);

        // Beginning anew must stay the exception, or folding would save nothing.
        Assert.True(refolds < folds / 20, $"{refolds} of {folds} batches had to be computed afresh");
    }

    [Fact]
    public void Periods_count_any_window_as_a_computation_from_scratch_does() =>
        Gen.Select(CleaningScenario.Any, Gen.Int[0, 3], Gen.Double[0, 1].Array[60]).Sample(
            (any, basis, random) =>
            {
                CleaningScenario scenario = WithBasis(any, basis);
                (IReadOnlyList<ClosedUnitPeriod> closed, UnitCleaningRun run) = FoldAll(scenario, random);
                Interval window = scenario.Window;
                Interval[] windows = [window, new(window.Start + (window.Duration / 2), window.End)];
                UnitTallyBuilder builder = new(run, windows);
                foreach (CleaningPeriod period in closed.Select(one => one.Periods[0]).Where(p => p.To > window.Start && p.From < window.End))
                {
                    builder.Add(period.From, closed.Single(one => one.Periods[0] == period).ToBytes());
                }

                IReadOnlyList<CleaningTally> tallies = builder.Build()[1];
                for (int i = 0; i < windows.Length; i++)
                {
                    AssertSame(CauseTimeline.Compute(scenario.Rule, scenario.Site.Calendar, scenario.History, windows[i]).Summary, tallies[i]);
                }
            },
            iter: 3000);

    [Fact]
    public void A_run_at_the_end_of_a_period_goes_on_as_the_whole_does() =>
        Gen.Select(CleaningScenario.Any, Gen.Int[0, 3]).Sample(
            (any, basis) =>
            {
                CleaningScenario scenario = WithBasis(any, basis);
                IReadOnlyList<UnitEvent> events = UnitEvent.AllOf(scenario.History);
                if (Begin(scenario).Fold(events) is not { } whole || whole.Closed.Count == 0)
                {
                    return;
                }

                ClosedUnitPeriod half = whole.Closed[whole.Closed.Count / 2];
                UnitCleaningRun from = UnitCleaningRun.FromBytes(half.Next.ToBytes(), Begin(scenario));
                var goneOn = from.Fold([.. events.Where(e => e.At > from.PeriodFrom)])!.Value;
                Assert.Equal(whole.Run.ToBytes(), goneOn.Run.ToBytes());
                Assert.Equal(
                    whole.Closed.Skip((whole.Closed.Count / 2) + 1).Select(c => Convert.ToHexString(c.ToBytes())),
                    goneOn.Closed.Select(c => Convert.ToHexString(c.ToBytes())));
            },
            iter: 1000);

    [Fact]
    public void An_event_before_those_folded_in_is_left_to_a_fresh_computation()
    {
        var rule = new CleaningRule("r", ProgrammeGrade.Light, new EveryTradingDays(1), Duration.Zero);
        var calendar = new SiteCalendar(DateTimeZone.Utc, [IsoDayOfWeek.Monday], LocalTime.Midnight);
        Instant at = Instant.FromUtc(2025, 6, 2, 12, 0);
        CleaningRun run = CleaningRun.Begin(rule, calendar, UnitService.Always, ThreeDays).Fold([new Heard(at)])!.Run;

        Assert.Null(run.Fold([new FaultRaised(at - Duration.FromMinutes(1), "F", true)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => run.At(at - Duration.FromMinutes(1)));
        Assert.Equal(at, run.FoldedTo);
    }

    [Theory]
    [InlineData("2025-06-09T00:00:00Z", "2025-05-12T00:00:00Z")] // a begin belongs to the period that it ends
    [InlineData("2025-06-09T00:00:00.001Z", "2025-06-09T00:00:00Z")]
    [InlineData("1970-01-05T00:00:00Z", "1969-12-08T00:00:00Z")]
    public void A_period_of_four_weeks_begins_on_a_Monday(string at, string begin) => Assert.Equal(
        Instant.FromDateTimeOffset(DateTimeOffset.Parse(begin, System.Globalization.CultureInfo.InvariantCulture)),
        CleaningRun.PeriodBegin(
            Instant.FromDateTimeOffset(DateTimeOffset.Parse(at, System.Globalization.CultureInfo.InvariantCulture)), UnitCleaningRun.PeriodLength));

    private static void AssertSame(CleaningSummary expected, CleaningTally given)
    {
        Assert.Equal((expected.Due, expected.OnTime, expected.Unknown, expected.Excused), (given.Due, given.OnTime, given.Unknown, given.Excused));
        Assert.All(Enum.GetValues<Cause>(), cause => Assert.Equal(expected.Of(cause), given.Of(cause)));
        Assert.Equal(expected.Judged, given.Judged);
        Assert.Equal(
            (expected.LongestGap.Elapsed, expected.LongestGap.StartIsKnown), (given.LongestGap.Elapsed, given.LongestGap.StartIsKnown));
    }

    private static UnitCleaningRun Begin(CleaningScenario s) =>
        UnitCleaningRun.Begin([s.Rule, s.Rule], s.Site.Calendar, s.History.Service, ThreeDays);

    private static (IReadOnlyList<ClosedUnitPeriod> Closed, UnitCleaningRun Run) FoldAll(CleaningScenario scenario, double[] random)
    {
        UnitCleaningRun run = Begin(scenario);
        List<ClosedUnitPeriod> closed = [];
        foreach ((IReadOnlyList<UnitEvent> batch, UnitHistory known, _, _) in Reported(scenario.History, random))
        {
            if (run.Fold(batch) is not { } folded)
            {
                closed.Clear();
                folded = Begin(scenario).Fold(UpTo(known, batch[^1].At))!.Value;
            }

            closed.AddRange(folded.Closed);
            run = folded.Run;
        }

        return (closed, run);
    }

    /// <summary>The events in batches, in the order in which they become known: a wash once, at its end, with its start.</summary>
    private static IEnumerable<(IReadOnlyList<UnitEvent> Batch, UnitHistory Known, Instant Next, double Share)> Reported(
        UnitHistory history, double[] random)
    {
        // Faults that were cleared before they were raised leave nothing but signs of life.
        HashSet<Instant> heard = [.. history.HeardAt, .. history.Faults.SelectMany(f => new[] { f.RaisedAt, f.ClearedAt ?? f.RaisedAt })];
        UnitEvent[] events = [.. UnitEvent.AllOf(history).Where(e => e is not Heard || heard.Contains(e.At))];
        List<UnitEvent> batch = [];
        for (int i = 0; i < events.Length; i++)
        {
            batch.Add(events[i]);
            double share = random[i % random.Length];
            bool lastOfInstant = i + 1 == events.Length || events[i + 1].At > events[i].At;
            if (lastOfInstant && (i + 1 == events.Length || share > 0.3))
            {
                UnitHistory known = history with { Washes = [.. history.Washes.Where(w => w.DecidedAt <= events[i].At)] };
                Instant next = i + 1 < events.Length ? events[i + 1].At : events[i].At + Duration.FromDays(5);
                IEnumerable<UnitEvent> starts = batch.OfType<WashDecided>().Select(w => new Heard(w.Wash.StartedAt));
                yield return ([.. batch.Concat(starts).Order(Comparer<UnitEvent>.Create(UnitEvent.Compare))], known, next, share);
                batch = [];
            }
        }
    }

    private static IReadOnlyList<UnitEvent> UpTo(UnitHistory known, Instant last) =>
        [.. UnitEvent.AllOf(known).TakeWhile(e => e.At <= last)];

    private static CleaningScenario WithBasis(CleaningScenario any, int basis)
    {
        CleaningRule r = any.Rule;
        DueBasis other = basis == 2 ? new EveryWashes(2) : basis == 3 ? new EveryOperatingHours(30) : r.Basis;
        Duration grace = other is EveryHours ? r.Grace : Duration.Min(r.Grace, Duration.FromHours(20));
        Instant zero = any.Window.Start - Duration.FromDays(30);
        return any with
        {
            Rule = new CleaningRule(r.Code, r.Grade, other, grace, r.ValidFrom, r.ValidTo),
            History = any.History with { Meters = [.. any.History.HeardAt.Select(t => new MeterReading(t, (t - zero).TotalHours / 2))] },
        };
    }
}
