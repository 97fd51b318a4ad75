using NodaTime;
using Washwear.Analytics.Cleaning;

namespace Washwear.Analytics.Tests.Cleaning;

/// <summary>Going on from a checkpoint, without the records before it, gives what all records give.</summary>
public sealed class CleaningCheckpointTests
{
    private static readonly Duration Step = Duration.FromMinutes((7 * 60) + 13);

    public static TheoryData<string> Cases =>
        ["compliance.simple", "compliance.clock_change", "compliance.lockout_and_silence"];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Status_and_timeline_are_the_same_from_every_checkpoint(string id)
    {
        ComplianceCase worked = new(id);
        foreach (CleaningRule rule in new[] { worked.Rule, Every(30), Every(50) })
        {
            for (Instant at = worked.Window.Start; at < worked.Window.End - Step; at += Step)
            {
                CleaningCheckpoint checkpoint = CauseTimeline.Checkpoint(rule, worked.Calendar, worked.History, at);
                UnitHistory later = After(worked.History, at);
                Interval window = new(at + (Step / 2), worked.Window.End);
                CleaningTimeline all = CauseTimeline.Compute(rule, worked.Calendar, worked.History, window);
                CleaningTimeline goneOn = CauseTimeline.Compute(rule, worked.Calendar, later, window, checkpoint);

                Assert.Equal(all.Spans, goneOn.Spans);
                Assert.Equal(all.Obligations, goneOn.Obligations);
                Assert.Equal(all.Gaps, goneOn.Gaps);
                Assert.Equal(
                    CauseTimeline.At(rule, worked.Calendar, worked.History, window.End),
                    CauseTimeline.At(rule, worked.Calendar, later, window.End, checkpoint));
            }
        }
    }

    [Fact]
    public void A_window_that_begins_before_the_checkpoint_is_refused()
    {
        ComplianceCase worked = new("compliance.simple");
        CleaningCheckpoint checkpoint = CauseTimeline.Checkpoint(worked.Rule, worked.Calendar, worked.History, worked.Window.Start + Step);

        Assert.Throws<ArgumentException>(() =>
            CauseTimeline.Compute(worked.Rule, worked.Calendar, worked.History, worked.Window, checkpoint));
        Assert.Throws<ArgumentException>(() =>
            CauseTimeline.At(worked.Rule, worked.Calendar, worked.History, worked.Window.Start, checkpoint));
    }

    private static CleaningRule Every(int hours) =>
        new($"every-{hours}-h", ProgrammeGrade.Standard, new EveryHours(Duration.FromHours(hours)), Duration.FromHours(3));

    // What a store would still read: records of which something happened after the checkpoint.
    private static UnitHistory After(UnitHistory history, Instant at) => history with
    {
        Washes = [.. history.Washes.Where(wash => wash.DecidedAt > at)],
        Faults = [.. history.Faults.Where(fault => fault.RaisedAt > at || fault.ClearedAt is null || fault.ClearedAt > at)],
        HeardAt = [.. history.HeardAt.Where(heard => heard > at)],
        Visits = [.. history.Visits.Where(visit => visit.LeftAt is null || visit.LeftAt > at)],
        Approvals = [.. history.Approvals.Where(approval => approval.DecidedAt is null || approval.DecidedAt > at)],
    };
}
