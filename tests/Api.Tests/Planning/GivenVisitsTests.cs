using Washwear.Api.Planning;

namespace Washwear.Api.Tests.Planning;

/// <summary>What the calendar gave out is known again in a new plan.</summary>
public sealed class GivenVisitsTests
{
    private const long Monday = 1_772_438_400_000;
    private const long Tuesday = Monday + 86_400_000;

    private static TellableVisit Visit(string day, params string[] jobs) => new(7, day, jobs, "Visit: " + string.Join(", ", jobs), "details");

    private static GivenVisitRow[] FirstGiven(params TellableVisit[] visits) => [.. GivenVisits.Reconcile([], visits, Monday).All];

    [Fact]
    public void A_visit_given_out_first_is_number_nought_and_has_a_uid_of_its_own()
    {
        GivenVisitRow[] given = FirstGiven(Visit("2026-03-10", "a"), Visit("2026-03-17", "b"));
        Assert.All(given, row => Assert.True(row is { Sequence: 0, Cancelled: false, ChangedMs: Monday }));
        Assert.Equal(2, given.Select(row => row.Uid).Distinct().Count());
    }

    [Fact]
    public void What_did_not_change_is_not_written_again()
    {
        TellableVisit visit = Visit("2026-03-10", "a", "b");
        GivenVisitRow[] given = FirstGiven(visit);
        (IReadOnlyList<GivenVisitRow> all, IReadOnlyList<GivenVisitRow> changed) = GivenVisits.Reconcile(given, [visit with { Jobs = ["a", "b"] }], Tuesday);
        Assert.Same(given[0], Assert.Single(all));
        Assert.Empty(changed);
    }

    [Fact]
    public void A_visit_that_moves_and_changes_its_jobs_keeps_its_uid_and_counts_on()
    {
        GivenVisitRow[] given = FirstGiven(Visit("2026-03-10", "a", "b"), Visit("2026-03-17", "c"));
        (IReadOnlyList<GivenVisitRow> all, IReadOnlyList<GivenVisitRow> changed) =
            GivenVisits.Reconcile(given, [Visit("2026-03-24", "b", "d"), Visit("2026-03-17", "c")], Tuesday);
        GivenVisitRow moved = Assert.Single(changed);
        Assert.Equal((given[0].Uid, 1, "2026-03-24", Tuesday), (moved.Uid, moved.Sequence, moved.Day, moved.ChangedMs));
        Assert.Equal(2, all.Count);
    }

    [Fact]
    public void The_visit_with_most_jobs_in_common_is_the_same_one()
    {
        GivenVisitRow[] given = FirstGiven(Visit("2026-03-10", "a", "b", "c"), Visit("2026-03-17", "d"));
        IReadOnlyList<GivenVisitRow> all = GivenVisits.Reconcile(given, [Visit("2026-03-10", "a", "d"), Visit("2026-03-12", "b", "c")], Tuesday).All;
        Assert.Equal(given[0].Uid, Assert.Single(all, row => row.Day == "2026-03-12").Uid);
        Assert.Equal(given[1].Uid, Assert.Single(all, row => row.Day == "2026-03-10").Uid);
    }

    [Fact]
    public void A_dropped_visit_is_cancelled_once_and_comes_back_under_its_uid()
    {
        GivenVisitRow[] given = FirstGiven(Visit("2026-03-10", "a"));
        GivenVisitRow cancelled = Assert.Single(GivenVisits.Reconcile(given, [], Tuesday).Changed);
        Assert.True(cancelled is { Cancelled: true, Sequence: 1, Day: "2026-03-10" });
        (IReadOnlyList<GivenVisitRow> all, IReadOnlyList<GivenVisitRow> changed) = GivenVisits.Reconcile([cancelled], [], Tuesday + 1);
        Assert.Empty(changed);
        Assert.Single(all);
        GivenVisitRow back = Assert.Single(GivenVisits.Reconcile([cancelled], [Visit("2026-03-10", "a")], Tuesday + 2).Changed);
        Assert.True(back is { Cancelled: false, Sequence: 2 } && back.Uid == cancelled.Uid);
    }

    [Fact]
    public void Sites_do_not_lend_each_other_their_visits()
    {
        GivenVisitRow[] given = FirstGiven(Visit("2026-03-10", "a"));
        IReadOnlyList<GivenVisitRow> all = GivenVisits.Reconcile(given, [Visit("2026-03-10", "a") with { SiteId = 8 }], Tuesday).All;
        Assert.Equal(2, all.Count);
        Assert.Single(all, row => row.Cancelled && row.SiteId == 7);
    }
}
