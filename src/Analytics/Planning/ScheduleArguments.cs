namespace Washwear.Analytics.Planning;

/// <summary>What jobs, sites and crews may be; refused with the value and the rule.</summary>
internal static class ScheduleArguments
{
    public static void Require(
        IReadOnlyList<PlanJob> jobs, IReadOnlyList<PlanSite> sites, IReadOnlyList<PlanCrew> crews, int weeks, int mostWeeks)
    {
        ArgumentNullException.ThrowIfNull(jobs);
        ArgumentNullException.ThrowIfNull(sites);
        ArgumentNullException.ThrowIfNull(crews);
        ArgumentOutOfRangeException.ThrowIfLessThan(weeks, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(weeks, mostWeeks);
        foreach (PlanSite site in sites)
        {
            Length(site.OpenWeeks.Count, weeks, $"Site {site.Site}: open weeks", nameof(sites));
            Amount(site.VisitCost, nameof(sites), $"Site {site.Site}: the cost of a visit", mayBeInfinite: false);
        }

        foreach (PlanCrew crew in crews)
        {
            Length(crew.MinutesPerWeek.Count, weeks, $"Crew {crew.Crew}: minutes", nameof(crews));
            Amounts(crew.MinutesPerWeek, nameof(crews), $"Crew {crew.Crew}: minutes of a week");
        }

        Once(sites.Select(s => s.Site), nameof(sites));
        Once(crews.Select(c => c.Crew), nameof(crews));
        HashSet<int> known = [.. sites.Select(s => s.Site)];
        foreach (PlanJob job in jobs)
        {
            Job(job, known, weeks);
        }
    }

    private static void Job(PlanJob job, HashSet<int> sites, int weeks)
    {
        if (!sites.Contains(job.Site))
        {
            throw new ArgumentException($"Job {job.Id}: site {job.Site} is not listed.", nameof(job));
        }

        Length(job.ExtraCost.Count, weeks, $"Job {job.Id}: extra costs", nameof(job));
        Amounts(job.ExtraCost, nameof(job), $"Job {job.Id}: the extra cost of a week");
        Amount(job.NotDoneCost, nameof(job), $"Job {job.Id}: the cost of not doing it", mayBeInfinite: true);
        Amount(job.Minutes, nameof(job), $"Job {job.Id}: minutes", mayBeInfinite: false);
    }

    private static void Amounts(IReadOnlyList<double> values, string name, string what)
    {
        for (int i = 0; i < values.Count; i++)
        {
            Amount(values[i], name, what, mayBeInfinite: true);
        }
    }

    private static void Amount(double value, string name, string what, bool mayBeInfinite)
    {
        if (!(value >= 0) || (!mayBeInfinite && double.IsInfinity(value)))
        {
            throw new ArgumentOutOfRangeException(name, value, $"{what} must be 0 or more{(mayBeInfinite ? string.Empty : " and finite")}.");
        }
    }

    private static void Length(int count, int weeks, string what, string name)
    {
        if (count != weeks)
        {
            throw new ArgumentException($"{what}: {count} given for {weeks} weeks.", name);
        }
    }

    private static void Once(IEnumerable<int> numbers, string name)
    {
        if (numbers.GroupBy(n => n).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"Number {twice.Key} is used twice.", name);
        }
    }
}
