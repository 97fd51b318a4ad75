using System.Globalization;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Dashboard.Planning;

namespace Washwear.Api.Planning;

/// <summary>Assembles the dated plan.</summary>
/// <param name="plans">The plan.</param>
internal sealed class VisitPlanReports(FleetPlan plans)
{
    private const int MostLeftOut = 200;

    /// <summary>A page of visits.</summary>
    /// <param name="filter">Which visits: those with at least one job that is asked for.</param>
    /// <param name="page">The page.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<VisitPlanReport> AssembleAsync(PlanFilter filter, PageRequest page, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        HashSet<PlanPart> asked = new(plan.Book.Asked(filter), ReferenceEqualityComparer.Instance);
        DatedVisit[] visits = [.. plan.Visits.Visits.Where(visit => visit.Jobs.Any(job => asked.Contains(job.Part)))];
        LeftOut[] leftOut = [.. plan.Visits.LeftOut.Where(one => asked.Contains(one.Job.Part))];
        PageOf<DatedVisit> taken = Paging.TakeSorted(visits, Key, page);
        int jobs = visits.Sum(visit => visit.Jobs.Count);
        double minutes = visits.Sum(visit => visit.Minutes);
        return new VisitPlanReport(
            PlanBasis.Of(plan, asked, PlanMethod.Visits),
            VisitSentences.Plan(visits.Length, jobs, plan.Visits.Weeks, minutes, leftOut.Length, PlanBasis.Costless(asked).Count()),
            plan.Book.Plan.Terms.Currency, plan.Visits.Weeks, visits.Length, jobs, minutes, visits.Sum(visit => visit.Cost),
            plan.Visits.GapShare, [.. leftOut.Take(MostLeftOut).Select(one => one.Told())], [.. taken.Items.Select(visit => visit.Told(plan.Book))], taken.Next);
    }

    private static string Key(DatedVisit visit) =>
        visit.Date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) + " " + Codes.Key(visit.Site.Resource.Site);
}
