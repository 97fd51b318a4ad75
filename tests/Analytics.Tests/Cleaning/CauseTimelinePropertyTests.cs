using CsCheck;
using NodaTime;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>What must hold for any history, checked on random ones against the slow second computation.</summary>
public sealed class CauseTimelinePropertyTests
{
    private const int Histories = 200;

    [Fact]
    public void Causes_partition_the_window() => CleaningScenario.Any.Sample(
        scenario =>
        {
            CleaningTimeline result = Compute(scenario);
            Instant at = scenario.Window.Start;
            foreach (CauseSpan span in result.Spans)
            {
                Assert.Equal(at, span.From);
                Assert.True(span.To > span.From);
                at = span.To;
            }

            Assert.Equal(scenario.Window.End, at);
            Assert.All(result.Spans.Zip(result.Spans.Skip(1)), pair => Assert.NotEqual(pair.First.Cause, pair.Second.Cause));
            Assert.Equal(
                scenario.Window.Duration, result.Summary.ByCause.Values.Aggregate(Duration.Zero, (sum, time) => sum + time));
        },
        iter: Histories * 5);

    [Fact]
    public void Every_minute_has_the_cause_that_the_slow_computation_gives() => CleaningScenario.Any.Sample(
        scenario =>
        {
            CleaningByMinute slow = new(scenario);
            foreach (CauseSpan span in Compute(scenario).Spans)
            {
                for (long t = CleaningByMinute.Min(span.From); t < CleaningByMinute.Min(span.To); t++)
                {
                    Cause expected = slow.CauseOf(t);
                    Instant at = NodaConstants.UnixEpoch + Duration.FromMinutes(t);
                    Assert.True(expected == span.Cause, $"{at}: {expected} expected, {span.Cause} given");
                }
            }
        },
        iter: Histories);

    [Fact]
    public void Every_due_wash_has_the_result_that_the_slow_computation_gives() => CleaningScenario.Any.Sample(
        scenario =>
        {
            (long from, long to) = (CleaningByMinute.Min(scenario.Window.Start), CleaningByMinute.Min(scenario.Window.End));
            var expected = new CleaningByMinute(scenario).Owed.Where(o => o.Deadline > from && o.Deadline <= to)
                .Select(o => (o.Day, o.Start, o.DueAt, o.Deadline, o.Result, o.Credited, o.Closed));
            var given = Compute(scenario).Obligations.Select(o => (
                o.Day, CleaningByMinute.Min(o.Start), CleaningByMinute.Min(o.Due), CleaningByMinute.Min(o.Deadline), o.Result,
                Minute(o.CreditedWashEnd), Minute(o.ClosedAt)));
            Assert.Equal(expected, given);
        },
        iter: Histories * 5);

    [Fact]
    public void Records_after_the_window_change_nothing() => CleaningScenario.Any.Sample(
        scenario =>
        {
            UnitHistory h = scenario.History;
            Instant end = scenario.Window.End;
            CleaningScenario cut = scenario with
            {
                History = h with { Washes = [.. h.Washes.Where(w => w.StartedAt <= end)], HeardAt = [.. h.HeardAt.Where(t => t <= end)] },
            };
            Assert.Equal(Compute(scenario).Spans, Compute(cut).Spans);
            Assert.Equal(Compute(scenario).Obligations, Compute(cut).Obligations);
        },
        iter: Histories);

    private static long? Minute(Instant? at) => at is { } instant ? CleaningByMinute.Min(instant) : null;

    private static CleaningTimeline Compute(CleaningScenario s) => CauseTimeline.Compute(s.Rule, s.Site.Calendar, s.History, s.Window);
}
