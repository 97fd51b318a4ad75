using CsCheck;
using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;
using Washwear.Analytics.Tests.Reference;

namespace Washwear.Analytics.Tests.Repairs;

public sealed class RepairDelaysTests
{
    private static readonly Dictionary<Cause, DelayKind> Kinds = new()
    {
        [Cause.LockoutNoVisitAsked] = DelayKind.NobodyAsked,
        [Cause.LockoutWaitingApproval] = DelayKind.WaitingApproval,
        [Cause.LockoutWaitingTechnician] = DelayKind.WaitingTechnician,
        [Cause.LockoutWaitingPart] = DelayKind.WaitingPart,
        [Cause.BeingWorkedOn] = DelayKind.BeingWorkedOn,
    };

    // Worked by hand: 3 h until somebody asked, 21 h until the technician came, 1 h of looking, 47 h for the approval, 24 h for the part,
    // 2 h of repair up to the clearing: 98 h.
    [Fact]
    public void A_lockout_is_split_as_by_hand()
    {
        UnitHistory history = new(
            UnitService.Always, [], [new WashFault("E1", At("2026-03-01T06:00"), At("2026-03-05T08:00"), true)], [],
            [
                new Visit(At("2026-03-01T09:00"), At("2026-03-02T06:00"), At("2026-03-02T07:00"), VisitOutcome.WaitingApproval),
                new Visit(null, At("2026-03-05T06:00"), At("2026-03-05T09:00"), VisitOutcome.Proven),
            ],
            [new Approval(At("2026-03-02T07:00"), At("2026-03-04T06:00"), true)]);
        LockoutDelays lockout = Assert.Single(RepairDelays.Of(history, new Interval(At("2026-03-01T00:00"), At("2026-04-01T00:00"))));
        Assert.Equal([3, 47, 21, 24, 3], Enum.GetValues<DelayKind>().Select(kind => lockout.Of(kind).TotalHours));
        Assert.Equal([50, 45, 3], Enum.GetValues<DelaySort>().Select(sort => lockout.Of(sort).TotalHours));
        Assert.Equal((At("2026-03-01T06:00"), At("2026-03-05T08:00")), (lockout.RaisedAt, lockout.ClearedAt));
        Assert.Equal(["E1"], lockout.Codes);
    }

    [Fact]
    public void A_refused_approval_is_nobodys_move_again()
    {
        UnitHistory history = new(
            UnitService.Always, [], [new WashFault("E1", At("2026-03-01T00:00"), null, true)], [], [],
            [new Approval(At("2026-03-01T00:00"), At("2026-03-03T00:00"), false)]);
        LockoutDelays lockout = Assert.Single(RepairDelays.Of(history, new Interval(At("2026-03-01T00:00"), At("2026-03-04T00:00"))));
        Assert.Equal((48, 24), (lockout.Of(DelayKind.WaitingApproval).TotalHours, lockout.Of(DelayKind.NobodyAsked).TotalHours));
        Assert.Null(lockout.ClearedAt);
    }

    [Fact]
    public void Spans_fill_each_lockout_without_gap_or_overlap_and_add_up_exactly() => Drawn.Each(CleaningScenario.Any, 2000, scenario =>
    {
        foreach (LockoutDelays lockout in RepairDelays.Of(scenario.History, scenario.Window))
        {
            Instant from = Instant.Max(lockout.RaisedAt, scenario.Window.Start);
            Instant to = Instant.Min(lockout.ClearedAt ?? scenario.Window.End, scenario.Window.End);
            Assert.Equal(from, lockout.Spans[0].From);
            Assert.Equal(to, lockout.Spans[^1].To);
            Assert.All(lockout.Spans.Zip(lockout.Spans.Skip(1)), pair => Assert.Equal(pair.First.To, pair.Second.From));
            Assert.Equal(to - from, Enum.GetValues<DelaySort>().Aggregate(Duration.Zero, (sum, sort) => sum + lockout.Of(sort)));
            Assert.Equal(to - from, Enum.GetValues<DelayKind>().Aggregate(Duration.Zero, (sum, kind) => sum + lockout.Of(kind)));
        }
    });

    [Fact]
    public void Lockouts_do_not_overlap() => Drawn.Each(CleaningScenario.Any, 1000, scenario =>
    {
        IReadOnlyList<LockoutDelays> lockouts = RepairDelays.Of(scenario.History, scenario.Window);
        Assert.All(lockouts.Zip(lockouts.Skip(1)), pair => Assert.True(pair.First.ClearedAt < pair.Second.RaisedAt));
    });

    // The cleaning timeline is the other way round to the same answer: overdue time inside a lockout must wait for the same thing.
    [Fact]
    public void Overdue_time_in_a_lockout_waits_for_what_the_cleaning_timeline_says() => Drawn.Each(CleaningScenario.Any, 2000, scenario =>
    {
        DelaySpan[] spans = [.. RepairDelays.Of(scenario.History, scenario.Window).SelectMany(lockout => lockout.Spans)];
        CleaningTimeline timeline = CauseTimeline.Compute(scenario.Rule, scenario.Site.Calendar, scenario.History, scenario.Window);
        foreach (CauseSpan told in timeline.Spans.Where(span => span.Cause.IsOverdue()))
        {
            foreach (DelaySpan span in spans.Where(span => span.From < told.To && span.To > told.From))
            {
                Assert.True(Kinds.TryGetValue(told.Cause, out DelayKind kind), $"{told} in a lockout");
                Assert.Equal(kind, span.Kind);
            }
        }
    });

    [Fact]
    public void Every_kind_belongs_to_a_sort() =>
        Assert.Equal(
            [DelaySort.Administrative, DelaySort.Administrative, DelaySort.Logistic, DelaySort.Logistic, DelaySort.Technical],
            Enum.GetValues<DelayKind>().Select(RepairDelays.SortOf));

    private static Instant At(string text) => InstantPattern.ExtendedIso.Parse(text + ":00Z").Value;
}
