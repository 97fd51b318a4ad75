using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Repairs;

/// <summary>Addresses of repairs: delays and quality.</summary>
public static class RepairEndpoints
{
    private const int LongestWindowDays = 1100;
    private const int EpisodesOnAPage = 50;

    /// <summary>Registers the feature.</summary>
    /// <param name="services">The services.</param>
    public static void AddRepairs(this IServiceCollection services)
    {
        services.AddPerScope<RepairQueries>();
        services.AddPerScope<DelayReports>();
        services.AddPerScope<FleetRepairs>();
        services.AddPerScope<RepairReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapRepairs(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/repairs").RequireAbility(Abilities.Read).WithTags("Repairs");
        api.MapGet("/delays", DelaysAsync)
            .ProducesList<DelaysReport>()
            .WithSummary("Where the time of lockouts went")
            .WithDescription(
                "Time from a fault that locks out washing raised to cleared, over the last ?days (90), split into administrative (nobody asked, waiting for "
                + "an approval), logistic (technician, part) and technical (being worked on); the parts add up. ?by is operator, site, model, region or code.");
        api.MapGet("/quality", QualityAsync)
            .ProducesList<RepairQualityReport>()
            .WithSummary("How well repairs go")
            .WithDescription(
                "Share of faults fixed at the first visit, share that came back within ?repeat_days (30), share of repairs proven, over the last ?days (365), by "
                + "code and position, with exact bounds; by technician only where the counts support it; delays by kind. Faults whose repeat window is not over "
                + "are left out. As CSV: the shares, one row a group.");
        api.MapGet("/episodes", EpisodesAsync)
            .ProducesList<EpisodesReport>()
            .WithSummary("The faults behind the quality of repairs")
            .WithDescription(
                "One row a fault that locked out washing and was cleared in the window, with the keys of the visits that it took and how it ended. "
                + "Narrow with ?operator, ?code, ?position; page with ?limit and ?after.");
        routes.MapGet(Urls.RepairsRoute, PageAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
        routes.MapGet(Urls.DelayChartRoute, DelayChartAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static async Task<IResult> DelaysAsync(
        HttpContext context, DelayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (CleaningFilter filter, string by, int days, ProblemResult? problem) = Asked(context);
        if (problem is not null)
        {
            return problem;
        }

        DelaysReport report = await reports.AssembleAsync(filter, by, days, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, null, RepairColumns.Delays);
    }

    private static async Task<IResult> QualityAsync(
        HttpContext context, RepairReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        RepairChoice choice = Choice(query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        RepairQualityReport report = await reports.AssembleAsync(choice, clock.GetUtcNow(), cancellationToken);
        QualityRow[] rows = [report.Total, .. report.ByCode, .. report.ByPosition];
        return Formats.Report(context, report, rows, null, RepairColumns.Quality);
    }

    private static async Task<IResult> EpisodesAsync(
        HttpContext context, RepairReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        RepairChoice choice = Choice(query);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page)) is { } problem)
        {
            return problem;
        }

        EpisodesReport report = await reports.AssembleEpisodesAsync(choice, page, clock.GetUtcNow(), cancellationToken);
        return Formats.Report(context, report, report.Rows, report.Next, RepairColumns.Episodes);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, RepairReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        RepairChoice choice = Choice(query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();

        // Independent of each other, so side by side where there are cores.
        Task<RepairQualityReport> judging = Task.Run(() => reports.AssembleAsync(choice, now, cancellationToken), cancellationToken);
        EpisodesReport? behind = choice is { Code: null, Position: null }
            ? null
            : await reports.AssembleEpisodesAsync(choice, new PageRequest(EpisodesOnAPage, null), now, cancellationToken);
        return pages.Of<RepairsPage>(context, new RepairsPageReport(await judging, behind, choice), now);
    }

    private static async Task<IResult> DelayChartAsync(
        string format, HttpContext context, DelayReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        (CleaningFilter filter, string by, int days, ProblemResult? problem) = Asked(context);
        return problem is not null
            ? problem
            : Pages.Picture(DelayChart.Of(await reports.AssembleAsync(filter, by, days, clock.GetUtcNow(), cancellationToken)), format);
    }

    private static (CleaningFilter Filter, string By, int Days, ProblemResult? Problem) Asked(HttpContext context)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = Place(query);
        string by = query.OneOf("by", DelayReports.GroupingCodes) ?? DelayReports.GroupingCodes[0];
        int days = query.Whole("days", DelayReports.UsualDays, 1, LongestWindowDays);
        return (filter, by, days, query.Problem);
    }

    private static RepairChoice Choice(Query query)
    {
        var usual = new RepairChoice();
        return new RepairChoice(
            query.Text("operator"), query.Text("code"), query.Text("position"), query.Whole("days", usual.Days, 1, LongestWindowDays),
            query.Whole("repeat_days", usual.RepeatDays, 1, 365));
    }

    private static CleaningFilter Place(Query query) => CleaningFilter.All with
    {
        Operator = query.Text("operator"),
        Region = query.Text("region"),
        Site = query.Text("site"),
        Model = query.Text("model"),
        Unit = query.Text("unit"),
    };
}
