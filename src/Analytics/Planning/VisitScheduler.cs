namespace Washwear.Analytics.Planning;

/// <summary>
/// The dated plan: a week for each job such that the cost of visits, of weeks other than the best ones and of what is not done is least, while
/// no crew works more minutes in a week than it has. Without crowded weeks, and with costs that fall to a job's best week and rise after
/// it, the plan is the best there is; otherwise the lower bound tells how far it may be from it. Visits of one site are grouped as in
/// Wildeman, Dekker and Smit (1997) European J. Operational Research 99, 530; the crews' minutes are priced as in Fisher (1981) Management
/// Science 27, 1. Travel is part of the visit's cost, and takes the same minutes for every visit.
/// </summary>
public static class VisitScheduler
{
    private const int MostWeeks = 520;

    /// <summary>Makes the plan; the same input gives the same plan.</summary>
    /// <param name="jobs">What is to be done.</param>
    /// <param name="sites">The sites of the jobs, each number once.</param>
    /// <param name="crews">The crews of the sites, each number once; a crew that is not listed has no limit.</param>
    /// <param name="weeks">Number of weeks, 1 to 520.</param>
    /// <param name="options">How hard to look; null for the defaults.</param>
    /// <exception cref="ArgumentException">A list has not one entry a week, a number is used twice, or a job's site is not listed.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static ScheduleResult Plan(
        IReadOnlyList<PlanJob> jobs,
        IReadOnlyList<PlanSite> sites,
        IReadOnlyList<PlanCrew> crews,
        int weeks,
        VisitScheduleOptions? options = null)
    {
        ScheduleArguments.Require(jobs, sites, crews, weeks, MostWeeks);
        VisitScheduleOptions asked = options ?? new VisitScheduleOptions();
        (int rounds, double travel) = (asked.Rounds, asked.TravelMinutes);
        ArgumentOutOfRangeException.ThrowIfLessThan(rounds, 1, nameof(options));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(rounds, 10_000, nameof(options));
        if (!double.IsFinite(travel) || travel < 0)
        {
            throw new ArgumentOutOfRangeException(nameof(options), travel, "The minutes of a visit must be finite, 0 or more.");
        }

        Dictionary<int, PlanSite> siteOf = sites.ToDictionary(s => s.Site);
        Dictionary<int, PlanCrew> crewOf = crews.ToDictionary(c => c.Crew);
        var placed = new PlacedJob[jobs.Count];
        double cost = 0, bound = 0;
        int visits = 0;
        foreach (IGrouping<int, (int Index, PlanJob Job)> group in jobs.Select((j, i) => (Index: i, Job: j)).GroupBy(j => siteOf[j.Job.Site].Crew))
        {
            var problem = new CrewProblem([.. group], siteOf, crewOf.GetValueOrDefault(group.Key), weeks, travel);
            CrewSchedule schedule = CrewSchedule.Solve(problem, rounds);
            cost += schedule.Cost;
            bound += Math.Min(schedule.LowerBound, schedule.Cost);
            visits += Place(problem, schedule, jobs, placed);
        }

        double gap = cost > 0 ? Math.Clamp((cost - bound) / cost, 0, 1) : 0;
        return new ScheduleResult(placed, cost, bound, gap, visits);
    }

    private static int Place(CrewProblem problem, CrewSchedule schedule, IReadOnlyList<PlanJob> jobs, PlacedJob[] placed)
    {
        var visits = new HashSet<(int Site, int Week)>();
        for (int job = 0; job < problem.JobCount; job++)
        {
            int week = schedule.WeekOf[job], index = problem.Indexes[job];
            if (week >= 0)
            {
                visits.Add((problem.SiteOf[job], week));
            }

            placed[index] = new PlacedJob(jobs[index].Id, week < 0 ? null : week, week < 0 ? WhyNot(problem, schedule, jobs[index], job) : null);
        }

        return visits.Count;
    }

    private static NotPlacedReason WhyNot(CrewProblem problem, CrewSchedule schedule, PlanJob one, int job)
    {
        bool allowed = problem.CostOf(job).ToArray().Any(double.IsFinite);
        return (allowed, schedule.WithoutLimit[job] >= 0) switch
        {
            (false, _) when one.FixedWeek is not null => NotPlacedReason.FixedWeekClosed,
            (false, _) => NotPlacedReason.NoWeekOpen,
            (true, true) => NotPlacedReason.CrewFull,
            (true, false) => NotPlacedReason.CheaperLater,
        };
    }
}
