using Washwear.Analytics.Cleaning;
using Washwear.Analytics.Planning;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>
/// Makes the dated plan: weeks by the schedule of least cost, then a trading day within each week, on which the crew of the stock point has least
/// to do.
/// </summary>
internal static class VisitPlanner
{
    private const int DaysPerWeek = 7;
    private const int MiddleOfWeek = 3;

    /// <summary>The plan.</summary>
    /// <param name="plan">The parts and decisions.</param>
    public static VisitPlan Plan(PlanNow plan)
    {
        PlanBook book = plan.Book;
        book.PrepareAdvice();
        int weeks = book.Plan.Terms.HorizonWeeks;
        DateOnly monday = PlanDates.Monday(DateOnly.FromDateTime(book.AsOf.UtcDateTime));
        DateOnly until = monday.AddDays((weeks * DaysPerWeek) - 1);
        ILookup<Fate, JobDraft> sorted = JobDraft.Of(plan, until).ToLookup(job => FateOf(book, job, until));
        List<LeftOut> leftOut =
        [
            .. sorted.Where(group => group.Key != Fate.Planned && group.Key != Fate.Beyond)
                .SelectMany(group => group.Select(job => new LeftOut(job, group.Key.Reason))),
        ];
        JobDraft[] jobs = [.. sorted[Fate.Planned]];
        if (jobs.Length == 0)
        {
            return new VisitPlan(weeks, VisitDays.Of(book, [.. sorted[Fate.Beyond].Select(job => (job, (DateOnly?)null))]), leftOut, null);
        }

        ScheduleResult result = Schedule(book, jobs, monday, weeks);
        var placed = new List<(JobDraft Job, DateOnly? Week)>();
        foreach (PlacedJob one in result.Jobs)
        {
            if (one.Week is { } week)
            {
                placed.Add((jobs[one.Id], monday.AddDays(week * DaysPerWeek)));
            }
            else
            {
                leftOut.Add(new LeftOut(jobs[one.Id], ReasonOf(one.WhyNot)));
            }
        }

        placed.AddRange(sorted[Fate.Beyond].Select(job => (job, (DateOnly?)null)));
        return new VisitPlan(weeks, VisitDays.Of(book, placed), leftOut, result.GapShare);
    }

    private static Fate FateOf(PlanBook book, JobDraft job, DateOnly until)
    {
        SiteCalendar calendar = book.Registry.Cleaning.ById[job.Part.Unit.Id].Calendar;
        DateOnly? first = PlanDates.NextOpen(calendar, job.NotBefore);
        return job switch
        {
            { Decision: { Decision: PlanDecisionWord.Rejected } decision } => new Fate(DecisionId: decision.Id),
            { FixedOn: { } day } => day > until ? Fate.Beyond : Fate.Planned,
            _ when first is null => new Fate(LeftOutReason.SiteClosed),
            { Decision: { Decision: PlanDecisionWord.Postponed } decision } when first > until => new Fate(DecisionId: decision.Id),
            _ when first > until => new Fate(LeftOutReason.PartTooLate),
            _ => Fate.Planned,
        };
    }

    private static LeftOutReason ReasonOf(NotPlacedReason? reason) => reason switch
    {
        NotPlacedReason.FixedWeekClosed => LeftOutReason.FixedWeekClosed,
        NotPlacedReason.NoWeekOpen => LeftOutReason.NoWeekOpen,
        NotPlacedReason.CrewFull => LeftOutReason.CrewFull,
        NotPlacedReason.CheaperLater => LeftOutReason.CheaperLater,
        _ => LeftOutReason.NoWeek,
    };

    private static ScheduleResult Schedule(PlanBook book, JobDraft[] jobs, DateOnly monday, int weeks)
    {
        SiteEntry[] sites = [.. jobs.Select(job => job.Part.Unit.Site).Distinct()];
        Dictionary<SiteEntry, int> siteNumbers = sites.Select((site, i) => (site, i)).ToDictionary(pair => pair.site, pair => pair.i);
        Dictionary<string, int> crews = sites.Select(CrewOf).Distinct().Select((crew, i) => (crew, i)).ToDictionary(pair => pair.crew, pair => pair.i);
        ILookup<SiteEntry, JobDraft> bySite = jobs.ToLookup(job => job.Part.Unit.Site);
        return VisitScheduler.Plan(
            [.. jobs.Select((job, i) => Job(book, job, i, siteNumbers[job.Part.Unit.Site], monday, weeks))],
            [.. sites.Select((site, i) => new PlanSite(i, crews[CrewOf(site)], VisitDays.VisitCost(bySite[site]), Open(book, bySite[site].First(), monday, weeks)))],
            [.. crews.Select(crew => new PlanCrew(crew.Value, [.. Enumerable.Repeat(Minutes(book.Plan, crew.Key), weeks)]))],
            weeks);
    }

    private static PlanJob Job(PlanBook book, JobDraft job, int id, int site, DateOnly monday, int weeks)
    {
        SiteCalendar calendar = book.Registry.Cleaning.ById[job.Part.Unit.Id].Calendar;
        DateOnly today = book.Today(job.Part.Unit);
        double[] extra = [.. Enumerable.Range(0, weeks).Select(week =>
            job.ExtraCost(Math.Max(0, monday.AddDays((week * DaysPerWeek) + MiddleOfWeek).DayNumber - today.DayNumber)))];
        int? fixedWeek = job.FixedOn is { } day ? WeekOf(day, monday) : null;
        int earliest = fixedWeek ?? WeekOf(PlanDates.NextOpen(calendar, job.NotBefore)!.Value, monday);

        // What is not done within the horizon is taken to be as dear as a failure, so that the plan leaves out only what it must.
        return new PlanJob(id, site, job.Minutes, earliest, null, fixedWeek, extra, extra[^1] + (job.Part.Costs.Failure ?? 0) + VisitDays.VisitCost([job]));
    }

    private static bool[] Open(PlanBook book, JobDraft job, DateOnly monday, int weeks)
    {
        SiteCalendar calendar = book.Registry.Cleaning.ById[job.Part.Unit.Id].Calendar;
        DateOnly tomorrow = book.Today(job.Part.Unit).AddDays(1);
        return [.. Enumerable.Range(0, weeks).Select(week => PlanDates.OpenIn(calendar, monday.AddDays(week * DaysPerWeek)).Any(day => day >= tomorrow))];
    }

    private static int WeekOf(DateOnly day, DateOnly monday) => Math.Max(0, (day.DayNumber - monday.DayNumber) / DaysPerWeek);

    private static string CrewOf(SiteEntry site) => site.Resource.StockPoint is { } point ? Codes.Key(point) : string.Empty;

    private static double Minutes(PlanResources plan, string crew) => plan.StockPoints.GetValueOrDefault(crew)?.CrewMinutesPerWeek ?? double.PositiveInfinity;

    // What becomes of a job: it is scheduled, its day is fixed behind the horizon, or it is left out for a reason or by a decision.
    private readonly record struct Fate(LeftOutReason? Reason = null, long DecisionId = 0, bool IsBeyond = false)
    {
        public static Fate Planned => default;

        public static Fate Beyond => new(IsBeyond: true);
    }
}
