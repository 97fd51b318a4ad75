using Washwear.Analytics.Cleaning;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Cleaning;

/// <summary>Addresses of cleaning: status, compliance, page, charts.</summary>
public static class CleaningEndpoints
{
    private const int LongestWindowDays = 1100;
    private const int UnitsOnAPage = 15;

    /// <summary>Registers cleaning.</summary>
    /// <param name="services">The services.</param>
    public static void AddCleaning(this IServiceCollection services)
    {
        services.AddPerScope<CleaningQueries>();
        services.AddPerScope<FleetRuns>();
        services.AddPerScope<CleaningReports>();
        services.AddPerScope<ComplianceReports>();
        services.AddPerScope<TrendReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapCleaning(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/cleaning").RequireAbility(Abilities.Read).WithTags("Cleaning");
        api.MapGet("/status", StatusAsync)
            .ProducesList<CleaningStatusReport>()
            .WithSummary("Which units are clean, due, overdue, locked out or silent now")
            .WithDescription(
                "One row a unit and rule, worst first: what holds, since when, why, and whose move it is. "
                + "Narrow with ?state, ?whose_move, ?unwashed_days, ?operator, ?region, ?site, ?model, ?unit; page with ?limit and ?after.");
        api.MapGet("/compliance", ComplianceAsync)
            .ProducesList<ComplianceReport>()
            .WithSummary("How the washes that were due were kept over a window")
            .WithDescription(
                "The window is [from, to), instants with offset, at most 1,100 days; left out, the last ?days (28) up to the last full hour. "
                + "?by is unit, site, operator, model, region or rule. Hours by cause add up to the window.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/cleaning", PageAsync);
        pages.MapGet(Urls.ComplianceChartRoute, ComplianceChartAsync);
        pages.MapGet(Urls.CauseChartRoute, CauseChartAsync);
        routes.MapTrend();
    }

    private static async Task<IResult> StatusAsync(
        HttpContext context, CleaningReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = Filter(query);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page)) is { } problem)
        {
            return problem;
        }

        CleaningStatusReport report = await reports.AssembleStatusAsync(filter, clock.GetUtcNow(), cancellationToken, page);
        return Formats.Report(context, report, report.Rows, report.Next, CleaningColumns.Status);
    }

    private static async Task<IResult> ComplianceAsync(
        HttpContext context, ComplianceReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = Filter(query);
        DateTimeOffset now = clock.GetUtcNow();
        (DateTimeOffset from, DateTimeOffset to, bool isUsual) = Window(query, filter, now);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page)) is { } problem)
        {
            return problem;
        }

        ComplianceReport all = await reports.AssembleAsync(filter, filter.By, from, to, now, cancellationToken, remember: isUsual);
        PageOf<ComplianceRow> rows = Paging.Take(all.Rows, ComplianceReports.SortKey, page);
        ComplianceReport report = all with { Rows = rows.Items, Next = rows.Next };
        return Formats.Report(context, report, report.Rows, report.Next, CleaningColumns.Compliance);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context,
        Pages pages,
        CleaningReports reports,
        ComplianceReports compliance,
        TrendReports trends,
        EarlySignReports signs,
        RegistryCache registry,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = Filter(query);
        DateTimeOffset now = clock.GetUtcNow();
        (DateTimeOffset from, DateTimeOffset to, bool isUsual) = Window(query, filter, now);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page) ?? Sorting.Read(context.Request, CleaningColumns.Sorted, ref page)) is { } problem)
        {
            return problem;
        }

        // Independent of each other, so side by side where there are cores.
        Task<TrendReport> trending = Task.Run(() => trends.AssembleAsync(filter, TrendReports.UsualWeeks, now, cancellationToken), cancellationToken);
        Task<ComplianceReport> counting = Task.Run(
            () => compliance.AssembleAsync(filter, filter.By, from, to, now, cancellationToken, remember: isUsual), cancellationToken);
        Task<EarlySignsReport> signing = Task.Run(
            () => signs.AssembleAsync(filter, now, new PageRequest(EarlySignEndpoints.SignsOnAPage, null), cancellationToken), cancellationToken);
        (CleaningStatusReport status, MovesReport moves) = await reports.AssemblePageAsync(filter, now, page with { Limit = UnitsOnAPage }, cancellationToken);
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        return pages.Of<CleaningPage>(
            context,
            new CleaningPageReport(
                status,
                await counting,
                filter,
                Operators(snapshot),
                Regions(snapshot),
                [.. snapshot.ModelList.Select(model => new Choice(model.Resource.Model, model.Resource.Name))],
                moves,
                await trending,
                await signing),
            now);
    }

    private static Task<IResult> ComplianceChartAsync(
        string format, HttpContext context, ComplianceReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(format, context, reports, clock, ComplianceChart.Of, cancellationToken);

    private static Task<IResult> CauseChartAsync(
        string format, HttpContext context, ComplianceReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(format, context, reports, clock, report => CauseChart.Of(report.Total), cancellationToken);

    private static async Task<IResult> ChartAsync(
        string format,
        HttpContext context,
        ComplianceReports reports,
        TimeProvider clock,
        Func<ComplianceReport, Chart> chart,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        CleaningFilter filter = Filter(query);
        DateTimeOffset now = clock.GetUtcNow();
        (DateTimeOffset from, DateTimeOffset to, bool isUsual) = Window(query, filter, now);
        return query.Problem is { } problem
            ? problem
            : Pages.Picture(chart(await reports.AssembleAsync(filter, filter.By, from, to, now, cancellationToken, remember: isUsual)), format);
    }

    /// <summary>Which units, and how, a query asks for.</summary>
    /// <param name="query">The query.</param>
    internal static CleaningFilter Filter(Query query) => new(
        query.Word<CleaningState>("state"),
        query.Text("operator"),
        query.Text("region"),
        query.OneOf("by", ComplianceReports.GroupingCodes) ?? CleaningFilter.All.By,
        query.Whole("days", CleaningFilter.All.WindowDays, 1, LongestWindowDays))
    {
        Site = query.Text("site"),
        Model = query.Text("model"),
        Unit = query.Text("unit"),
        Move = query.Word<Mover>("whose_move"),
        UnwashedDays = query.Text("unwashed_days") is null ? null : query.Whole("unwashed_days", 1, 1, LongestWindowDays),
    };

    /// <returns>The window, and whether it is the one that whoever names no instant is answered for until the hour is over.</returns>
    private static (DateTimeOffset From, DateTimeOffset To, bool IsUsual) Window(Query query, CleaningFilter filter, DateTimeOffset now)
    {
        (DateTimeOffset? asked, DateTimeOffset? since) = (query.Instant("to"), query.Instant("from"));
        DateTimeOffset to = asked ?? (since is null ? ComplianceReports.LastFullHour(now) : now);
        DateTimeOffset from = since ?? to.AddDays(-filter.WindowDays);
        if (to > now)
        {
            query.Refuse("to", "not_in_the_future", "The window ends in the future.", "Give an instant up to now, or leave to out.");
        }
        else if (from >= to || (to - from).TotalDays > LongestWindowDays)
        {
            query.Refuse("from", "window", "The window must be longer than nothing and at most 1,100 days.", "Give from before to.");
        }

        return (from, to, asked is null && since is null);
    }

    private static Choice[] Operators(RegistrySnapshot snapshot) =>
        [.. snapshot.OperatorList.Select(one => new Choice(one.Resource.Operator, one.Resource.Name))];

    private static string[] Regions(RegistrySnapshot snapshot) =>
    [
        .. snapshot.SiteList.Select(site => site.Resource.Region).OfType<string>()
            .Distinct(StringComparer.OrdinalIgnoreCase).Order(StringComparer.OrdinalIgnoreCase),
    ];
}
