namespace Washwear.Analytics.Planning;

/// <summary>The jobs of one crew in plain arrays, with what is not allowed as infinite cost. Job and site numbers are places in them.</summary>
internal sealed class CrewProblem
{
    private const double MostCost = 1e12;

    public CrewProblem(
        IReadOnlyList<(int Index, PlanJob Job)> jobs, IReadOnlyDictionary<int, PlanSite> sites, PlanCrew? crew, int weeks, double travelMinutes)
    {
        (Weeks, TravelMinutes) = (weeks, travelMinutes);
        Indexes = [.. jobs.Select(j => j.Index)];
        int[] numbers = [.. jobs.Select(j => j.Job.Site).Distinct()];
        Dictionary<int, int> places = numbers.Select((n, i) => (n, i)).ToDictionary(p => p.n, p => p.i);
        SiteOf = [.. jobs.Select(j => places[j.Job.Site])];
        VisitCost = [.. numbers.Select(n => sites[n].VisitCost)];
        JobsAt = [.. SiteOf.Select((site, job) => (site, job)).GroupBy(p => p.site).OrderBy(g => g.Key).Select(g => g.Select(p => p.job).ToArray())];
        Minutes = [.. jobs.Select(j => j.Job.Minutes)];
        NotDone = [.. jobs.Select(j => Math.Min(j.Job.NotDoneCost, MostCost))];
        Room = crew is null ? [.. Enumerable.Repeat(double.PositiveInfinity, weeks)] : [.. crew.MinutesPerWeek];
        Cost = new double[jobs.Count * weeks];
        for (int job = 0; job < jobs.Count; job++)
        {
            PlanJob one = jobs[job].Job;
            IReadOnlyList<bool> open = sites[one.Site].OpenWeeks;
            for (int week = 0; week < weeks; week++)
            {
                bool allowed = open[week] && (one.FixedWeek is { } only ? week == only : week >= one.EarliestWeek && !(week > one.LatestWeek));
                Cost[(job * weeks) + week] = allowed ? one.ExtraCost[week] : double.PositiveInfinity;
            }
        }
    }

    public int Weeks { get; }

    /// <summary>Minutes of each visit besides its jobs.</summary>
    public double TravelMinutes { get; }

    public int JobCount => Indexes.Length;

    public int SiteCount => VisitCost.Length;

    /// <summary>Place of each job in the caller's list.</summary>
    public int[] Indexes { get; }

    public int[] SiteOf { get; }

    public int[][] JobsAt { get; }

    public double[] VisitCost { get; }

    public double[] Minutes { get; }

    public double[] NotDone { get; }

    /// <summary>Minutes that the crew has in each week.</summary>
    public double[] Room { get; }

    /// <summary>Cost of each job in each week, infinite where it is not allowed.</summary>
    public double[] Cost { get; }

    public ReadOnlySpan<double> CostOf(int job) => Cost.AsSpan(job * Weeks, Weeks);

    /// <summary>Cost of a choice of weeks, -1 for a job that is left out.</summary>
    public double Total(int[] weekOf)
    {
        double total = 0;
        for (int site = 0; site < SiteCount; site++)
        {
            int[] jobs = JobsAt[site];
            total += VisitCost[site] * jobs.Where(j => weekOf[j] >= 0).Select(j => weekOf[j]).Distinct().Count();
            total += jobs.Sum(j => weekOf[j] < 0 ? NotDone[j] : Cost[(j * Weeks) + weekOf[j]]);
        }

        return total;
    }

    /// <summary>Minutes of jobs and visits in each week.</summary>
    public double[] Load(int[] weekOf)
    {
        double[] load = new double[Weeks];
        for (int job = 0; job < weekOf.Length; job++)
        {
            if (weekOf[job] >= 0)
            {
                load[weekOf[job]] += Minutes[job];
            }
        }

        for (int site = 0; site < SiteCount && TravelMinutes > 0; site++)
        {
            foreach (int week in JobsAt[site].Select(j => weekOf[j]).Where(w => w >= 0).Distinct())
            {
                load[week] += TravelMinutes;
            }
        }

        return load;
    }
}
