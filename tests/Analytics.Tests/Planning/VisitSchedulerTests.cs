using CsCheck;
using Washwear.Analytics.Planning;

namespace Washwear.Analytics.Tests.Planning;

/// <summary>The dated plan against all plans there are, on small cases drawn at random, and against cases worked out by hand.</summary>
public sealed class VisitSchedulerTests
{
    private const double Tolerance = 1e-9;

    /// <summary>Costs that fall to one week and rise after it, and any crews: none is ever crowded.</summary>
    [Fact]
    public void Without_crowding_and_with_one_valley_a_job_no_plan_is_cheaper() => Drawn.Each(Cases(valley: true, crowded: false), 400, drawn =>
    {
        ScheduleResult plan = Plan(drawn);
        Assert.Equal(Cheapest(drawn), plan.Cost, Tolerance * (1 + plan.Cost));
        Assert.Equal(plan.Cost, plan.LowerBound, Tolerance * (1 + plan.Cost));
        Assert.Equal(plan.Cost, CostOf(drawn, [.. plan.Jobs.Select(j => j.Week ?? -1)]), Tolerance * (1 + plan.Cost));
    });

    [Fact]
    public void With_crowding_and_any_costs_the_best_plan_lies_between_the_bound_and_the_plan()
    {
        double[] shares = new double[400];
        int at = -1;
        Drawn.Each(Cases(valley: false, crowded: true), shares.Length, drawn =>
        {
            ScheduleResult plan = Plan(drawn);
            double best = Cheapest(drawn);
            Assert.InRange(best, plan.LowerBound - Tolerance, plan.Cost + Tolerance);
            Assert.Equal(plan.Cost, CostOf(drawn, [.. plan.Jobs.Select(j => j.Week ?? -1)]), Tolerance * (1 + plan.Cost));
            Assert.Equal(plan.Cost == 0 ? 0 : (plan.Cost - plan.LowerBound) / plan.Cost, plan.GapShare, 1e-12);
            shares[Interlocked.Increment(ref at)] = best == 0 ? 0 : (plan.Cost / best) - 1;
        });

        // How far the plans truly are above the best ones, so that a worse search is seen.
        Assert.InRange(shares.Average(), 0, 0.02);
    }

    [Fact]
    public void Two_jobs_share_a_visit_where_the_detour_costs_less_than_the_visit()
    {
        ScheduleResult plan = VisitScheduler.Plan(
            [Job(1, [0, 10, 20]), Job(2, [20, 10, 0])], [new PlanSite(7, 1, 25, [true, true, true])], [], 3);

        // Together in any week 25 + 20; apart 50.
        Assert.Equal(45, plan.Cost);
        Assert.Equal(1, plan.Visits);
        Assert.Equal(0, plan.GapShare);
        Assert.Single(plan.Jobs.Select(j => j.Week).Distinct());
    }

    [Fact]
    public void Two_jobs_go_apart_where_the_detour_costs_more()
    {
        ScheduleResult plan = VisitScheduler.Plan(
            [Job(1, [0, 10, 20]), Job(2, [20, 10, 0])], [new PlanSite(7, 1, 15, [true, true, true])], [], 3);
        Assert.Equal(30, plan.Cost);
        Assert.Equal([0, 2], plan.Jobs.Select(j => j.Week!.Value));
    }

    [Fact]
    public void A_full_week_sends_the_job_that_minds_least_to_another()
    {
        ScheduleResult plan = VisitScheduler.Plan(
            [Job(1, [0, 3, 9], site: 1), Job(2, [0, 5, 9], site: 2)],
            [new PlanSite(1, 4, 10, [true, true, true]), new PlanSite(2, 4, 10, [true, true, true])],
            [new PlanCrew(4, [60, 60, 60])],
            3);
        Assert.Equal([1, 0], plan.Jobs.Select(j => j.Week!.Value));
        Assert.Equal(23, plan.Cost);
        Assert.InRange(plan.LowerBound, 20, 23);
    }

    [Fact]
    public void Decisions_and_closed_weeks_bind_and_what_is_not_done_says_why()
    {
        bool[] open = [true, false, true];
        PlanJob[] jobs =
        [
            Job(1, [0, 0, 50]) with { EarliestWeek = 1 },
            Job(2, [9, 9, 9]) with { FixedWeek = 0 },
            Job(3, [0, 0, 0]) with { FixedWeek = 1 },
            Job(4, [0, 0, 0]) with { EarliestWeek = 1, LatestWeek = 1 },
            Job(5, [70, 60, 50]) with { NotDoneCost = 2 },
            Job(6, [0, 0, 0]) with { Minutes = 500, NotDoneCost = 1000 },
        ];
        ScheduleResult plan = VisitScheduler.Plan(jobs, [new PlanSite(7, 1, 10, open)], [new PlanCrew(1, [100, 100, 100])], 3);
        Assert.Equal([2, 0, null, null, null, null], plan.Jobs.Select(j => j.Week));
        Assert.Equal([1, 2, 3, 4, 5, 6], plan.Jobs.Select(j => j.Id));
        Assert.Null(plan.Jobs[0].WhyNot);
        Assert.Equal(NotPlacedReason.FixedWeekClosed, plan.Jobs[2].WhyNot);
        Assert.Equal(NotPlacedReason.NoWeekOpen, plan.Jobs[3].WhyNot);
        Assert.Equal(NotPlacedReason.CheaperLater, plan.Jobs[4].WhyNot);
        Assert.Equal(NotPlacedReason.CrewFull, plan.Jobs[5].WhyNot);
    }

    /// <summary>Two jobs of 40 minutes fill a week of 100 with one visit of 20, not with two.</summary>
    [Fact]
    public void The_way_to_a_site_takes_the_crews_minutes_once_a_visit()
    {
        PlanCrew[] crews = [new PlanCrew(1, [100, 100])];
        var options = new VisitScheduleOptions { TravelMinutes = 20 };
        PlanJob[] jobs = [Job(1, [0, 5]) with { Minutes = 40 }, Job(2, [0, 9]) with { Minutes = 40 }];
        PlanSite[] sites = [new(7, 1, 10, [true, true]), new(8, 1, 10, [true, true])];
        Assert.Equal([0, 0], VisitScheduler.Plan(jobs, sites, crews, 2, options).Jobs.Select(j => j.Week!.Value));
        ScheduleResult apart = VisitScheduler.Plan([jobs[0], jobs[1] with { Site = 8 }], sites, crews, 2, options);
        Assert.Equal([1, 0], apart.Jobs.Select(j => j.Week!.Value));
        Assert.Equal(25, apart.Cost);
        Assert.Throws<ArgumentOutOfRangeException>(() => VisitScheduler.Plan([], [], [], 2, options with { TravelMinutes = double.NaN }));
    }

    [Fact]
    public void A_crew_without_minutes_does_nothing_and_says_so()
    {
        ScheduleResult plan = VisitScheduler.Plan(
            [Job(1, [0, 5])], [new PlanSite(7, 1, 10, [true, true])], [new PlanCrew(1, [0, 0])], 2);
        Assert.Equal((1000, 0), (plan.Cost, plan.Visits));
        Assert.Equal(NotPlacedReason.CrewFull, plan.Jobs[0].WhyNot);
    }

    [Fact]
    public void No_job_is_no_visit()
    {
        ScheduleResult plan = VisitScheduler.Plan([], [], [], 10);
        Assert.Equal((0, 0, 0), (plan.Cost, plan.LowerBound, plan.Visits));
        Assert.Equal(0, plan.GapShare);
    }

    [Fact]
    public void What_cannot_be_planned_is_refused()
    {
        PlanSite site = new(7, 1, 10, [true, true, true]);
        void Refused<T>(PlanJob job)
            where T : ArgumentException => Assert.Throws<T>(() => VisitScheduler.Plan([job], [site], [], 3));
        Refused<ArgumentException>(Job(1, [0, 0]));
        Refused<ArgumentException>(Job(1, [0, 0, 0], site: 8));
        Refused<ArgumentOutOfRangeException>(Job(1, [0, double.NaN, 0]));
        Refused<ArgumentOutOfRangeException>(Job(1, [0, -1, 0]));
        Refused<ArgumentOutOfRangeException>(Job(1, [0, 0, 0]) with { Minutes = double.NaN });
        Assert.Throws<ArgumentException>(() => VisitScheduler.Plan([], [site, site], [], 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => VisitScheduler.Plan([], [], [], 0));
    }

    private static PlanJob Job(int id, double[] cost, int site = 7) => new(id, site, 60, 0, null, null, cost, 1000);

    private static ScheduleResult Plan(Case drawn) => VisitScheduler.Plan(
        drawn.Jobs, drawn.Sites, drawn.Crews, drawn.Weeks, new VisitScheduleOptions { TravelMinutes = drawn.Travel });

    /// <summary>The least cost over all weeks, or none, for each job.</summary>
    private static double Cheapest(Case drawn)
    {
        int[] week = [.. Enumerable.Repeat(-1, drawn.Jobs.Length)];
        double best = double.PositiveInfinity;
        while (true)
        {
            best = Math.Min(best, CostOf(drawn, week));
            int at = 0;
            while (at < week.Length && ++week[at] == drawn.Weeks)
            {
                week[at++] = -1;
            }

            if (at == week.Length)
            {
                return best;
            }
        }
    }

    /// <summary>Cost of one choice of weeks, infinite where it breaks a rule; written from the rules alone.</summary>
    private static double CostOf(Case drawn, int[] week)
    {
        double cost = 0;
        for (int i = 0; i < week.Length; i++)
        {
            PlanJob job = drawn.Jobs[i];
            bool allowed = week[i] < 0 || (drawn.Sites.Single(s => s.Site == job.Site).OpenWeeks[week[i]]
                && (job.FixedWeek is { } only ? week[i] == only : week[i] >= job.EarliestWeek && week[i] <= (job.LatestWeek ?? 999)));
            cost += !allowed ? double.PositiveInfinity : week[i] < 0 ? job.NotDoneCost : job.ExtraCost[week[i]];
        }

        foreach (PlanSite site in drawn.Sites)
        {
            cost += site.VisitCost * Enumerable.Range(0, drawn.Weeks).Count(w => drawn.Jobs.Where((j, i) => j.Site == site.Site && week[i] == w).Any());
        }

        foreach (PlanCrew crew in drawn.Crews)
        {
            HashSet<int> own = [.. drawn.Sites.Where(s => s.Crew == crew.Crew).Select(s => s.Site)];
            for (int w = 0; w < drawn.Weeks; w++)
            {
                double load = drawn.Jobs.Where((j, i) => own.Contains(j.Site) && week[i] == w).Sum(j => j.Minutes)
                    + (drawn.Travel * own.Count(s => drawn.Jobs.Where((j, i) => j.Site == s && week[i] == w).Any()));
                cost += load > crew.MinutesPerWeek[w] + 1e-6 ? double.PositiveInfinity : 0;
            }
        }

        return cost;
    }

    private static Gen<Case> Cases(bool valley, bool crowded) =>
        from weeks in Gen.Int[2, 5]
        from count in Gen.Int[1, 5]
        from visits in Gen.Double[0, 30].Array[2]
        from open in Gen.Double[0, 1].Array[2 * weeks]
        from room in Gen.Int[30, 150].Array[weeks]
        from costs in Gen.Double[0, 40].Array[weeks * count]
        from best in Gen.Int[0, weeks - 1].Array[count]
        from site in Gen.Int[1, 2].Array[count]
        from minutes in Gen.Int[10, 90].Array[count]
        from rules in Gen.Int[0, 9].Array[count]
        from left in Gen.Double[0, 120].Array[count]
        from travel in Gen.Int[-20, 30]
        select new Case(
            weeks,
            [.. Enumerable.Range(0, count).Select(i => new PlanJob(
                i,
                site[i],
                minutes[i],
                rules[i] == 1 ? 1 : 0,
                rules[i] == 2 ? weeks - 2 : null,
                rules[i] == 3 ? best[i] : null,
                Shaped(costs[(i * weeks)..((i + 1) * weeks)], best[i], valley),
                left[i]))],
            [.. Enumerable.Range(1, 2).Select(s => new PlanSite(s, 1, visits[s - 1], [.. open[((s - 1) * weeks)..(s * weeks)].Select(o => o > 0.2)]))],
            [new PlanCrew(1, [.. room.Select(r => crowded ? (double)r : 1e6)])],
            Math.Max(0, travel));

    private static double[] Shaped(double[] costs, int best, bool valley)
    {
        if (valley)
        {
            Array.Sort(costs, 0, best);
            Array.Reverse(costs, 0, best);
            Array.Sort(costs, best + 1, costs.Length - best - 1);
            costs[best] = Math.Min(best > 0 ? costs[best - 1] : 40, best + 1 < costs.Length ? costs[best + 1] : 40) / 2;
        }

        return costs;
    }

    private sealed record Case(int Weeks, PlanJob[] Jobs, PlanSite[] Sites, PlanCrew[] Crews, double Travel);
}
