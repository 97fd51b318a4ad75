using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Failures;

/// <summary>Addresses of failures in time.</summary>
public static class FailureEndpoints
{
    private const string Filters =
        " Narrow with ?operator, ?site, ?model, ?unit, ?position (parts) and ?code (faults); the window is [?from, ?to), a year that ends now "
        + "unless given. ?of is faults (those of one code that follow each other within ?gap_hours without a repair in between are one, 72) or "
        + "parts (those that failed or were found failed).";

    /// <summary>Registers failures.</summary>
    /// <param name="services">The services.</param>
    public static void AddFailures(this IServiceCollection services)
    {
        services.AddPerScope<FailureQueries>();
        services.AddPerScope<FleetFaults>();
        services.AddPerScope<FailureSources>();
        services.AddPerScope<LostTimes>();
        services.AddPerScope<FoundCauses>();
        services.AddPerScope<ParetoReports>();
        services.AddPerScope<FailureRecordReports>();
        services.AddPerScope<FailureReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapFailures(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/failures").RequireAbility(Abilities.Read).WithTags("Failures");
        api.MapGet("/trend", TrendAsync)
            .ProducesList<FailureTrendReport>()
            .WithSummary("Whether failures come more often, month by month, and what would change the verdict")
            .WithDescription(
                "Months with exact Poisson bounds a unit-year and per 1,000 washes; a verdict by the test that the records allow, with its p-value and the "
                + "number of failures in the next 90 days that would change it; all trend tests; the power-law process over the age of the units. As CSV: "
                + "the months." + Filters);
        api.MapGet("/recurrence", RecurrenceAsync)
            .ProducesList<RecurrenceReport>()
            .WithSummary("How many failures a unit has had on average by an age or a day")
            .WithDescription(
                "The mean cumulative function with robust bounds, over ?axis=age (days since commissioning, all records unless ?from is given) or "
                + "calendar, and compared by ?compare: operator, site, model or region. As CSV: the steps." + Filters);
        api.MapGet("/rates", RatesAsync)
            .ProducesList<RatesReport>()
            .WithSummary("How often things fail, and which are truly worse than the fleet")
            .WithDescription(
                "By ?by: unit, site, operator, model or part_number: failures a unit-year and per 1,000 washes with exact Poisson bounds, the rate drawn "
                + "towards the fleet's as far as a small count asks (gamma–Poisson), the chance that the true rate is above the fleet's, and which stand "
                + "out at a false discovery rate of 10 %. Page with ?limit and ?after. As CSV: the rows." + Filters);
        api.MapGet("/repeats", RepeatsAsync)
            .ProducesList<RepeatsReport>()
            .WithSummary("What came back after a repair, what it points to, and which units and batches fail more than expected")
            .WithDescription(
                "Repairs of the window whose position failed again, or whose fault came again, within ?window_days (90); each held against the position's "
                + "life model. Units and batches at a position: failures against what the life model expects of parts of these ages, over all records. Page "
                + "the repeats with ?limit and ?after. As CSV: the repeats." + Filters);
        api.MapGet("/pareto", ParetoAsync)
            .ProducesList<ParetoReport>()
            .WithSummary("What most failures come from, and what changed since the period before")
            .WithDescription(
                "By ?pareto: position, mode, cause or code, ordered by ?measure: count, locked_out_hours or unwashed_days; each compared with the "
                + "period of the same length just before. As CSV: the rows." + Filters);
        api.MapGet("/records", RecordsAsync)
            .ProducesList<FailureRecordsReport>()
            .WithSummary("The failures behind the figures, newest first")
            .WithDescription("One row a failure with what it cost in cleaning. Page with ?limit and ?after. As CSV: the rows." + Filters);
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet(Urls.FailuresRoute, PageAsync);
        pages.MapGet(Urls.FailureRecordsRoute, RecordsPageAsync);
        pages.MapGet(Urls.FailureChartRoute, ChartAsync);
    }

    private static Task<IResult> PageAsync(
        HttpContext context, Pages pages, FailureReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(context, reports, clock, async (choice, now) =>
        {
            FailuresPageReport report = await reports.PageAsync(choice, now, cancellationToken);
            return pages.Of<FailuresPage>(context, report, report.Trend.Basis.AsOf);
        }, cancellationToken);

    private static Task<IResult> RecordsPageAsync(
        HttpContext context, Pages pages, FailureReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, reports, settings, clock, async (choice, page, now) =>
        {
            if (Sorting.Read(context.Request, FailureColumns.Sorted, ref page, Sorting.RowsOfManyLines) is { } problem)
            {
                return problem;
            }

            FailureRecordsReport report = await reports.RecordsAsync(choice, page, now, cancellationToken);
            return pages.Of<FailureRecordsPage>(context, report, report.AsOf);
        }, cancellationToken);

    private static Task<IResult> ChartAsync(
        string name, string format, HttpContext context, FailureReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(context, reports, clock, async (choice, now) => await reports.ChartAsync(name, choice, now, cancellationToken) is { } chart
            ? Pages.Picture(chart, format)
            : Problems.NotFound("chart", name), cancellationToken);

    private static Task<IResult> TrendAsync(
        HttpContext context, FailureReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(context, reports, clock, async (choice, now) =>
        {
            FailureTrendReport report = await reports.TrendAsync(choice, now, cancellationToken);
            return Formats.Report(context, report, report.Months, null, FailureColumns.Months);
        }, cancellationToken);

    private static Task<IResult> RecurrenceAsync(
        HttpContext context, FailureReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(context, reports, clock, async (choice, now) =>
        {
            RecurrenceReport report = await reports.RecurrenceAsync(choice, now, cancellationToken);
            return Formats.Report(
                context, report, report.Groups.SelectMany(group => group.Steps.Select(step => (group.Group, step))), null, FailureColumns.Recurrence);
        }, cancellationToken);

    private static Task<IResult> RatesAsync(
        HttpContext context, FailureReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, reports, settings, clock, async (choice, page, now) =>
        {
            RatesReport report = await reports.RatesAsync(choice, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, FailureColumns.Rates);
        }, cancellationToken);

    private static Task<IResult> RepeatsAsync(
        HttpContext context, FailureReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, reports, settings, clock, async (choice, page, now) =>
        {
            RepeatsReport report = await reports.RepeatsAsync(choice, page, now, cancellationToken);
            return Formats.Report(context, report, report.Repeats, report.Next, FailureColumns.Repeats);
        }, cancellationToken);

    private static Task<IResult> ParetoAsync(
        HttpContext context, FailureReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(context, reports, clock, async (choice, now) =>
        {
            ParetoReport report = await reports.ParetoAsync(choice, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, null, FailureColumns.Pareto);
        }, cancellationToken);

    private static Task<IResult> RecordsAsync(
        HttpContext context, FailureReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken) =>
        PagedAsync(context, reports, settings, clock, async (choice, page, now) =>
        {
            FailureRecordsReport report = await reports.RecordsAsync(choice, page, now, cancellationToken);
            return Formats.Report(context, report, report.Rows, report.Next, FailureColumns.Records);
        }, cancellationToken);

    private static async Task<IResult> PagedAsync(
        HttpContext context,
        FailureReports reports,
        Settings settings,
        TimeProvider clock,
        Func<FailureChoice, PageRequest, DateTimeOffset, Task<IResult>> answer,
        CancellationToken cancellationToken) =>
        Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem
            ? problem
            : await AnswerAsync(context, reports, clock, (choice, now) => answer(choice, page, now), cancellationToken);

    private static async Task<IResult> AnswerAsync(
        HttpContext context,
        FailureReports reports,
        TimeProvider clock,
        Func<FailureChoice, DateTimeOffset, Task<IResult>> answer,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        DateTimeOffset now = clock.GetUtcNow();
        FailureChoice choice = await reports.ReadAsync(query, now, cancellationToken);
        return query.Problem is { } problem ? problem : await answer(choice, now);
    }
}
