namespace Washwear.Api.Planning;

/// <summary>A job to be given a week.</summary>
/// <param name="Site">Its site.</param>
/// <param name="Crew">Its crew.</param>
/// <param name="Minutes">Minutes of work.</param>
/// <param name="EarliestWeek">First week in which it can be done.</param>
/// <param name="FixedWeek">Week that somebody fixed; null: none.</param>
/// <param name="ExtraCost">What each week costs more than the best one.</param>
internal sealed record WeekJob(int Site, int Crew, double Minutes, int EarliestWeek, int? FixedWeek, IReadOnlyList<double> ExtraCost);

/// <summary>
/// Gives jobs their weeks, one after the other in the order in which they are due: each the open week in which its extra cost, and a visit where
/// the site has none yet, come to least, and the crew has the minutes. Good, not proven best.
/// </summary>
/// <param name="openWeeks">By site, in which weeks it can be visited.</param>
/// <param name="visitCosts">By site, what a visit costs.</param>
/// <param name="minutesPerWeek">By crew, the minutes that it can give.</param>
internal sealed class WeekPlacement(IReadOnlyList<bool[]> openWeeks, IReadOnlyList<double> visitCosts, IReadOnlyList<double> minutesPerWeek)
{
    private readonly HashSet<(int Site, int Week)> _visits = [];
    private readonly Dictionary<(int Crew, int Week), double> _minutes = [];

    /// <summary>The week of each job; null: none is left for it. Fixed ones are placed first, whatever the crew.</summary>
    /// <param name="jobs">The jobs in the order in which they are due.</param>
    public IReadOnlyList<int?> Place(IReadOnlyList<WeekJob> jobs)
    {
        int?[] weeks = new int?[jobs.Count];
        foreach (int i in Enumerable.Range(0, jobs.Count).Where(i => jobs[i].FixedWeek is not null))
        {
            weeks[i] = Take(jobs[i], jobs[i].FixedWeek!.Value);
        }

        foreach (int i in Enumerable.Range(0, jobs.Count).Where(i => jobs[i].FixedWeek is null))
        {
            WeekJob job = jobs[i];
            int[] free =
            [
                .. Enumerable.Range(job.EarliestWeek, Math.Max(0, openWeeks[job.Site].Length - job.EarliestWeek))
                    .Where(week => openWeeks[job.Site][week] && _minutes.GetValueOrDefault((job.Crew, week)) + job.Minutes <= minutesPerWeek[job.Crew]),
            ];
            weeks[i] = free.Length == 0 ? null : Take(job, free.MinBy(week => (Cost(job, week), week)));
        }

        return weeks;
    }

    private double Cost(WeekJob job, int week) => job.ExtraCost[week] + (_visits.Contains((job.Site, week)) ? 0 : visitCosts[job.Site]);

    private int Take(WeekJob job, int week)
    {
        _visits.Add((job.Site, week));
        _minutes[(job.Crew, week)] = _minutes.GetValueOrDefault((job.Crew, week)) + job.Minutes;
        return week;
    }
}
