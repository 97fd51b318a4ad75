using CsCheck;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Folding events one by one gives what all records give from scratch, at any instant, for every kind of rule.</summary>
public sealed class RunningStateTests
{
    [Fact]
    public void Folding_in_order_equals_computing_from_scratch_at_random_instants()
    {
        (int folds, int refolds) = (0, 0);
        Gen.Select(CleaningScenario.Any, Gen.Int[0, 3], Gen.Double[0, 1].Array[60]).Sample(
            (any, basis, instants) =>
            {
                CleaningScenario scenario = WithBasis(any, basis);
                (SiteCalendar calendar, UnitHistory history) = (scenario.Site.Calendar, scenario.History);
                RunningState state = RunningState.Begin(scenario.Rule, calendar, history.Service);
                UnitEvent[] events = [.. AsReported(history)];
                Instant? refoldedTo = null;
                for (int i = 0; i < events.Length; i++)
                {
                    // A fresh computation has taken the other events of its instant too.
                    RunningState? folded = events[i].At == refoldedTo ? state : state.Fold(events[i]);
                    UnitHistory known = KnownBy(history, events[i].At);
                    state = folded ?? RunningState.After(scenario.Rule, calendar, known, events[i].At);
                    refoldedTo = folded is null ? events[i].At : refoldedTo;
                    Interlocked.Increment(ref folded is null ? ref refolds : ref folds);
                    if (i + 1 < events.Length && events[i + 1].At == events[i].At)
                    {
                        continue; // the rest of this instant has not been folded yet
                    }

                    Duration gap = (i + 1 < events.Length ? events[i + 1].At : events[i].At + Duration.FromDays(5)) - events[i].At;
                    Instant asOf = events[i].At + Duration.FromMinutes((long)(gap.TotalMinutes * instants[i % instants.Length] * 0.999));
                    Assert.Equal(CauseTimeline.At(scenario.Rule, calendar, known, asOf), state.At(asOf));
                }
            },
            iter: 2000);

        // Computing afresh must stay the exception, or folding would save nothing.
        Assert.True(refolds < folds / 50, $"{refolds} of {folds + refolds} events had to be computed afresh");
    }

    [Fact]
    public void An_event_before_those_folded_in_is_not_folded_but_left_to_a_fresh_computation()
    {
        RunningState state = RunningState.Begin(
            new CleaningRule("r", ProgrammeGrade.Light, new EveryTradingDays(1), Duration.Zero),
            new SiteCalendar(DateTimeZone.Utc, [IsoDayOfWeek.Monday], LocalTime.Midnight),
            UnitService.Always);
        Instant at = Instant.FromUtc(2025, 6, 2, 12, 0);

        RunningState later = state.Fold(new Heard(at))!;

        Assert.Null(later.Fold(new Heard(at - Duration.FromMinutes(1))));
        Assert.Throws<ArgumentOutOfRangeException>(() => later.At(at - Duration.FromMinutes(1)));
        Assert.Equal(at, later.FoldedTo);
        Assert.Null(state.FoldedTo);
    }

    /// <summary>Events in the order in which they become known: a wash once, at its end.</summary>
    private static IEnumerable<UnitEvent> AsReported(UnitHistory history)
    {
        // Faults that were cleared before they were raised leave nothing but signs of life.
        HashSet<Instant> heard = [.. history.HeardAt, .. history.Faults.SelectMany(f => new[] { f.RaisedAt, f.ClearedAt ?? f.RaisedAt })];
        return UnitEvent.AllOf(history).Where(e => e is not Heard || heard.Contains(e.At));
    }

    /// <summary>What has been reported by an instant: a wash still running has not.</summary>
    private static UnitHistory KnownBy(UnitHistory history, Instant at) =>
        history with { Washes = [.. history.Washes.Where(w => w.DecidedAt <= at)] };

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
