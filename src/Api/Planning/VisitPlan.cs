using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>A visit of the plan with what it stands on.</summary>
/// <param name="Site">The site.</param>
/// <param name="Date">Its day.</param>
/// <param name="Jobs">Its jobs.</param>
/// <param name="VisitCost">Cost of the visit beside the parts.</param>
internal sealed record DatedVisit(SiteEntry Site, DateOnly Date, IReadOnlyList<JobDraft> Jobs, double VisitCost)
{
    /// <summary>Minutes of work.</summary>
    public double Minutes => Jobs.Sum(job => job.Minutes);

    /// <summary>Cost with its parts.</summary>
    public double Cost => VisitCost + Jobs.Sum(job => job.Part.Costs.PartPrice ?? 0);

    /// <summary>The visit as the plan tells it.</summary>
    /// <param name="book">The parts.</param>
    public PlannedVisit Told(PlanBook book)
    {
        DateOnly today = book.Today(Jobs[0].Part.Unit);
        VisitJob[] jobs = [.. Jobs.OrderBy(job => job.Part.Key, StringComparer.Ordinal).Select(job => job.Told(today))];
        SiteResource site = Site.Resource;
        return new PlannedVisit(
            site.Site, site.Name, site.Operator, site.StockPoint, PlanDates.Monday(Date), Date, Minutes, Cost, ExtraCost(today),
            VisitSentences.Visit(jobs, Minutes), jobs);
    }

    // Against the best day that is still ahead: what a part has missed already, no plan can bring back.
    private double ExtraCost(DateOnly today) => Jobs.Sum(job =>
    {
        double best = Math.Max(0, (job.DueOn ?? today).DayNumber - today.DayNumber);
        return Math.Max(0, job.ExtraCost(Date.DayNumber - today.DayNumber) - job.ExtraCost(best));
    });
}

/// <summary>A job that is due but left out.</summary>
/// <param name="Job">The job.</param>
/// <param name="Reason">Why; null: by the decision about it.</param>
internal sealed record LeftOut(JobDraft Job, LeftOutReason? Reason)
{
    /// <summary>The job as the plan tells it.</summary>
    public LeftOutJob Told() => new(
        Job.Part.Unit.Resource.Unit, Job.Part.Position.Position, Job.Part.Position.Name, Job.Part.Unit.Site.Resource.Site,
        Reason is { } reason ? VisitSentences.LeftOut(reason) : DecisionsInForce.Worded(Job.Decision!).Sentence);
}

/// <summary>The dated plan of the whole fleet. Immutable.</summary>
/// <param name="Weeks">How far ahead it looks, weeks.</param>
/// <param name="Visits">Its visits by day and site.</param>
/// <param name="LeftOut">Jobs that are due but left out.</param>
/// <param name="GapShare">How much dearer it may be than the cheapest plan; null: nothing was planned.</param>
internal sealed record VisitPlan(int Weeks, IReadOnlyList<DatedVisit> Visits, IReadOnlyList<LeftOut> LeftOut, double? GapShare)
{
    private readonly Dictionary<PlanPart, DateOnly> _days = Visits.SelectMany(visit => visit.Jobs.Select(job => (job.Part, visit.Date)))
        .ToDictionary(pair => pair.Part, pair => pair.Date, (IEqualityComparer<PlanPart>)ReferenceEqualityComparer.Instance);

    /// <summary>Day on which a part is replaced; null: not in this plan.</summary>
    /// <param name="part">The part.</param>
    public DateOnly? DayOf(PlanPart part) => _days.TryGetValue(part, out DateOnly day) ? day : null;
}
