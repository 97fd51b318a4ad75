using System.Globalization;
using System.Text.Json;
using Washwear.Api.Registry;
using Washwear.Api.Storage;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Gives the planned visits out as a calendar, and remembers what it gave out so that moved visits keep their names.</summary>
/// <param name="plans">The plan.</param>
/// <param name="database">The database.</param>
/// <param name="settings">Says by which address people reach the plan.</param>
internal sealed class PlanCalendars(FleetPlan plans, Database database, Settings settings)
{
    /// <summary>The calendar of some sites.</summary>
    /// <param name="filter">Whose; unit and position are not looked at, for a visit is one whole.</param>
    /// <param name="asOf">The instant.</param>
    /// <param name="cancellationToken">Stops the work.</param>
    public async Task<string> AssembleAsync(PlanFilter filter, DateTimeOffset asOf, CancellationToken cancellationToken)
    {
        PlanNow plan = await plans.CurrentAsync(asOf, cancellationToken);
        Dictionary<int, VisitPlace> sites = plan.Book.Registry.SiteList.Where(site => Matches(site, filter)).ToDictionary(
            site => site.Id,
            site => new VisitPlace(site.Resource.Name, new Uri(settings.PublicUrl + Urls.Plan(new PlanFilter(Site: site.Resource.Site)))));
        TellableVisit[] planned = [.. plan.Visits.Visits.Where(visit => sites.ContainsKey(visit.Site.Id)).Select(Tellable)];
        string scope = database.Scope?.ToString() ?? string.Empty;
        string since = PlanDecisions.Text(DateOnly.FromDateTime(asOf.UtcDateTime));
        IReadOnlyList<GivenVisitRow> given = await database.WriteAsync(
            async session =>
            {
                IReadOnlyList<GivenVisitRow> before = await GivenVisitQueries.OfSitesAsync(session, scope, JsonSerializer.Serialize(sites.Keys), since, cancellationToken);
                (IReadOnlyList<GivenVisitRow> all, IReadOnlyList<GivenVisitRow> changed) = GivenVisits.Reconcile(before, planned, asOf.ToUnixTimeMilliseconds(), scope);
                await GivenVisitQueries.PutAsync(session, changed, cancellationToken);
                return all;
            },
            cancellationToken);
        return CalendarText.Of(given, sites);
    }

    // What changes from day to day, such as ages and chances, is left out: an entry changes only when its work or its day does.
    private static TellableVisit Tellable(DatedVisit visit)
    {
        JobDraft[] jobs = [.. visit.Jobs.OrderBy(job => job.Part.Key, StringComparer.Ordinal)];
        IEnumerable<string> lines = jobs.Select(job => string.Create(
            CultureInfo.InvariantCulture,
            $"{job.Part.Unit.Resource.Unit}: {job.Part.Position.Name}{(job.Part.PartNumber is { } number ? $" ({number})" : string.Empty)}, {job.Minutes:0.#} min"));
        return new TellableVisit(
            visit.Site.Id,
            PlanDecisions.Text(visit.Date),
            [.. jobs.Select(job => job.Key)],
            string.Create(CultureInfo.InvariantCulture, $"{visit.Site.Resource.Name}: {jobs.Length} {(jobs.Length == 1 ? "part" : "parts")} to replace"),
            string.Join('\n', lines));
    }

    private static bool Matches(SiteEntry site, PlanFilter filter) =>
        Names(filter.Site, site.Resource.Site) && Names(filter.Operator, site.Resource.Operator) && Names(filter.StockPoint, site.Resource.StockPoint);

    private static bool Names(string? asked, string? actual) => asked is null || string.Equals(asked, actual, StringComparison.OrdinalIgnoreCase);
}
