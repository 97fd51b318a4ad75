using NodaTime;
using NodaTime.Text;
using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Repairs;

namespace Washwear.Analytics.Tests.Repairs;

public sealed class RepairQualityTests
{
    private static readonly Instant AsOf = At("2026-06-01");
    private static readonly Interval Window = new(At("2026-01-01"), At("2026-06-01"));

    [Fact]
    public void Episodes_end_as_their_visits_and_the_next_fault_say()
    {
        WashFault[] faults =
        [
            Fault("E1", "2026-01-01", "2026-01-03"), Fault("E1", "2026-02-10", "2026-02-12"), Fault("E1", "2026-03-13", "2026-03-15"),
            Fault("E2", "2026-04-01", "2026-04-02"), Fault("E2", "2026-05-10", "2026-05-12"), Fault("E9", "2026-02-01", "2026-02-02") with { LocksOutWashing = false },
        ];
        RepairVisit[] visits =
        [
            Visit(1, "2026-01-02", "ann", "E1"), Visit(2, "2026-02-11", "bob", "e1"), Visit(3, "2026-03-14", null), Visit(4, "2026-03-14", "ann"),
            Visit(5, "2026-05-11", "ann"), Visit(6, "2026-04-01", "ann", "E7"),
        ];
        IReadOnlyList<EpisodeOutcome> episodes = EpisodeOutcomes.Of(faults, visits, [], Window, Duration.FromDays(30), AsOf);
        Assert.Equal(
            [
                EpisodeResult.FixedAtFirstVisit, EpisodeResult.CameBack, EpisodeResult.FixedLater, EpisodeResult.NoVisit, EpisodeResult.TooRecent,
            ],
            episodes.Select(episode => episode.Result));
        Assert.Equal(At("2026-03-13"), episodes[1].CameBackAt);
        Assert.Equal("ann", episodes[0].FirstTechnician);
        Assert.Null(episodes[2].FirstTechnician);
    }

    // Two raisings a day apart, nothing repaired between: one trouble, ended by the visit of its second day. The third comes after the repair.
    [Fact]
    public void What_follows_without_a_repair_is_the_same_trouble_and_what_follows_a_repair_has_come_back()
    {
        WashFault[] faults = [Fault("E1", "2026-01-01", "2026-01-02"), Fault("e1", "2026-01-03", "2026-01-05"), Fault("E1", "2026-01-06", "2026-01-07")];
        RepairVisit[] visits = [Visit(1, "2026-01-04", "ann", "E1")];
        IReadOnlyList<EpisodeOutcome> episodes = EpisodeOutcomes.Of(faults, visits, [], Window, Duration.FromDays(30), AsOf);
        Assert.Equal([EpisodeResult.CameBack, EpisodeResult.NoVisit], episodes.Select(episode => episode.Result));
        Assert.Equal((At("2026-01-01"), At("2026-01-05"), At("2026-01-06")), (episodes[0].RaisedAt, episodes[0].ClearedAt, episodes[0].CameBackAt));

        Assert.Equal(3, EpisodeOutcomes.Of(faults, visits, [At("2026-01-02") + Duration.FromHours(12)], Window, Duration.FromDays(30), AsOf).Count);
        RepairVisit[] waiting = [visits[0] with { Outcome = VisitOutcome.WaitingPart }];
        EpisodeOutcome whole = Assert.Single(EpisodeOutcomes.Of(faults, waiting, [], Window, Duration.FromDays(30), AsOf));
        Assert.Equal((At("2026-01-07"), EpisodeResult.FixedAtFirstVisit), (whole.ClearedAt, whole.Result));
    }

    // Clopper and Pearson's bounds of 1 in 3, from R 4.2.2 binom.test(1, 3): 0.008403759 to 0.905700676.
    [Fact]
    public void Shares_have_exact_bounds_and_leave_out_what_says_nothing()
    {
        EpisodeOutcome[] episodes = [Episode(EpisodeResult.FixedAtFirstVisit), Episode(EpisodeResult.FixedLater), Episode(EpisodeResult.CameBack), Episode(EpisodeResult.NoVisit), Episode(EpisodeResult.TooRecent)];
        QualityGroup group = RepairQuality.Of("all", episodes, []);
        Assert.Equal((1, 3), (group.FirstVisitFix.Count, group.FirstVisitFix.Cases));
        Assert.Equal((1, 3), (group.Repeat.Count, group.Repeat.Cases));
        Assert.Equal(0.008403759, group.FirstVisitFix.Share!.Lower!.Value, 1e-8);
        Assert.Equal(0.905700676, group.FirstVisitFix.Share.Upper!.Value, 1e-8);
        Assert.Null(group.Proven.Share);
    }

    [Fact]
    public void Technicians_are_named_only_with_twenty_faults_each_and_at_least_two_of_them()
    {
        Assert.Empty(TeamShares.Of([.. Of("ann", 15, 20), .. Of("bob", 5, 19)]));
        IReadOnlyList<TeamShare> rows = TeamShares.Of([.. Of("cid", 0, 3), .. Of("bob", 15, 20), .. Of("Ann", 20, 30), .. Of("ann", 2, 3), .. Of("dee", 1, 4)]);
        Assert.Equal(["Ann", "bob", null], rows.Select(row => row.Name));
        Assert.Equal((22, 33), (rows[0].Count, rows[0].Cases));
        Assert.Equal((2, 1, 7), (rows[2].Members, rows[2].Count, rows[2].Cases));
        Assert.Null(rows[2].Share);
        Assert.InRange(rows[1].Share!.Value, 38.0 / 60, 0.75);
    }

    [Fact]
    public void A_technician_stands_apart_only_when_the_bounds_leave_the_mean_out()
    {
        IReadOnlyList<TeamShare> rows = TeamShares.Of([.. Of("ann", 95, 100), .. Of("bob", 50, 100), .. Of("cid", 73, 100)]);
        Assert.Equal([true, true, false], rows.Select(row => row.Apart));
    }

    private static IEnumerable<EpisodeOutcome> Of(string technician, int fixedFirst, int all) =>
        Enumerable.Range(0, all).Select(i => Episode(i < fixedFirst ? EpisodeResult.FixedAtFirstVisit : EpisodeResult.FixedLater, technician));

    private static EpisodeOutcome Episode(EpisodeResult result, string? technician = null) =>
        new("E1", At("2026-01-01"), At("2026-01-03"), [Visit(1, "2026-01-02", technician)], null, result);

    private static WashFault Fault(string code, string raised, string cleared) => new(code, At(raised), At(cleared), true);

    private static RepairVisit Visit(long number, string at, string? technician, params string[] faults) =>
        new(number, At(at), At(at) + Duration.FromHours(2), VisitOutcome.RepairedNotProven, technician, faults, null);

    private static Instant At(string date) => LocalDatePattern.Iso.Parse(date).Value.AtMidnight().InUtc().ToInstant();
}
