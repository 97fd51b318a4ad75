using Washwear.Analytics.Cleaning;
using Washwear.Api.Registry;

namespace Washwear.Api.Planning;

/// <summary>Gives each visit its day: the one that somebody fixed, else the trading day of its week on which its crew has least to do.</summary>
internal static class VisitDays
{
    /// <summary>The visits by day and site.</summary>
    /// <param name="book">The parts.</param>
    /// <param name="placed">Jobs with the Monday of their week; null: on the day that is fixed.</param>
    public static IReadOnlyList<DatedVisit> Of(PlanBook book, IReadOnlyList<(JobDraft Job, DateOnly? Week)> placed)
    {
        var minutes = new Dictionary<(string Crew, DateOnly Day), double>();
        var visits = new List<DatedVisit>();
        var free = new List<(SiteEntry Site, DateOnly Week, List<JobDraft> Jobs)>();
        foreach (var group in placed.GroupBy(one => (one.Job.Part.Unit.Site, Week: one.Job.FixedOn is { } day ? PlanDates.Monday(day) : one.Week!.Value)))
        {
            List<JobDraft> jobs = [.. group.Select(one => one.Job)];
            List<DatedVisit> dated = [.. OnFixedDays(group.Key.Site, jobs)];
            visits.AddRange(dated);
            foreach (DatedVisit visit in dated)
            {
                Count(minutes, visit);
            }

            if (jobs.Count > 0)
            {
                free.Add((group.Key.Site, group.Key.Week, jobs));
            }
        }

        foreach ((SiteEntry site, DateOnly week, List<JobDraft> jobs) in free.OrderBy(one => one.Week).ThenBy(one => Codes.Key(one.Site.Resource.Site), StringComparer.Ordinal))
        {
            DatedVisit visit = Visit(site, Day(book, site, week, jobs, minutes), jobs);
            visits.Add(visit);
            Count(minutes, visit);
        }

        return [.. visits.OrderBy(visit => visit.Date).ThenBy(visit => Codes.Key(visit.Site.Resource.Site), StringComparer.Ordinal)];
    }

    /// <summary>Cost of a visit beside the parts: the dearest of its jobs' own.</summary>
    /// <param name="jobs">Its jobs.</param>
    public static double VisitCost(IEnumerable<JobDraft> jobs) => jobs.Max(job => job.Part.Costs.PlannedVisit ?? 0);

    // Jobs that can be done on a day that is fixed anyway join it, and leave the list.
    private static IEnumerable<DatedVisit> OnFixedDays(SiteEntry site, List<JobDraft> jobs)
    {
        foreach (DateOnly day in jobs.Select(job => job.FixedOn).OfType<DateOnly>().Distinct().Order().ToArray())
        {
            JobDraft[] joined = [.. jobs.Where(job => job.FixedOn == day || (job.FixedOn is null && job.NotBefore <= day))];
            jobs.RemoveAll(job => joined.Contains(job));
            yield return Visit(site, day, joined);
        }
    }

    private static DateOnly Day(
        PlanBook book, SiteEntry site, DateOnly week, List<JobDraft> jobs, Dictionary<(string Crew, DateOnly Day), double> minutes)
    {
        SiteCalendar calendar = book.Registry.Cleaning.ById[jobs[0].Part.Unit.Id].Calendar;
        DateOnly from = jobs.Max(job => job.NotBefore);
        DateOnly[] open = [.. PlanDates.OpenIn(calendar, week).Where(day => day >= from)];
        return open.Length == 0
            ? PlanDates.NextOpen(calendar, from) ?? from
            : open.MinBy(day => (minutes.GetValueOrDefault((CrewOf(site), day)), day));
    }

    private static DatedVisit Visit(SiteEntry site, DateOnly day, IReadOnlyList<JobDraft> jobs) => new(site, day, jobs, VisitCost(jobs));

    private static void Count(Dictionary<(string Crew, DateOnly Day), double> minutes, DatedVisit visit)
    {
        (string, DateOnly) key = (CrewOf(visit.Site), visit.Date);
        minutes[key] = minutes.GetValueOrDefault(key) + visit.Minutes;
    }

    private static string CrewOf(SiteEntry site) => Codes.Key(site.Resource.StockPoint ?? site.Resource.Site);
}
