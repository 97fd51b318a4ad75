using NodaTime;
using NodaTime.Text;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Api.Timeline;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Timeline;

namespace Washwear.Api.Operators;

/// <summary>Addresses of operators of many kitchens: their list, and what each needs to know.</summary>
public static class OperatorEndpoints
{
    private const int OperatorsOnAPage = 50;
    private const int KitchensOnAPage = 15;
    private const int RecordsOnThePage = 25;

    private static readonly LocalDatePattern MonthPattern = LocalDatePattern.Iso;

    /// <summary>Registers operators.</summary>
    /// <param name="services">The services.</param>
    public static void AddOperators(this IServiceCollection services)
    {
        services.AddPerScope<OperatorReports>();
        services.AddPerScope<OperatorListReports>();
        services.AddPerScope<MonthReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapOperators(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/operators/{operator}/overview", OverviewAsync).RequireAbility(Abilities.Read).WithTags("Operators")
            .ProducesList<OperatorReport>()
            .WithSummary("An operator of many kitchens: which of them need somebody, how washing goes, what waits, what came back, what is planned")
            .WithDescription(
                "The kitchens are those with units in service under a rule, the longest wait first; page with ?limit and ?after. Washing compares the last "
                + "28 days, up to the last full hour, with the 28 before. As CSV: the kitchens.");
        routes.MapGet("/v1/operators/{operator}/report", ReportAsync).RequireAbility(Abilities.Read).WithTags("Operators")
            .Produces<MonthReport>()
            .WithSummary("A month of an operator: washing with its causes and its change, lockouts, repairs and whether they are proven, parts, silence, plan")
            .WithDescription(
                "?month is a month such as 2026-10, by the time zone of most of the operator's ovens; left out: the last one that is over. A month in course is "
                + "told up to the last full hour. Repairs, parts and plan are as known now.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/operators", ListPageAsync);
        pages.MapGet(Urls.OperatorRoute, PageAsync);
        pages.MapGet(Urls.OperatorReportRoute, ReportPageAsync);
    }

    private static async Task<IResult> OverviewAsync(
        string @operator, HttpContext context, OperatorReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        return await reports.AssembleAsync(@operator, page, clock.GetUtcNow(), cancellationToken) is { } report
            ? Formats.Report(context, report, report.Rows, report.Next, OperatorColumns.Kitchens)
            : Problems.NotFound("operator", @operator);
    }

    private static async Task<IResult> PageAsync(
        string @operator, HttpContext context, Pages pages, OperatorReports reports, TimelineReports timelines, Settings settings, TimeProvider clock,
        CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        return await reports.AssembleAsync(@operator, page with { Limit = KitchensOnAPage }, now, cancellationToken, onlyWithStep: true) is { } report
            ? pages.Of<OperatorPage>(
                context,
                report with { Timeline = await timelines.AssembleAsync(TimelineSubject.Operator, @operator, null, new PageRequest(RecordsOnThePage, null), now, cancellationToken) },
                now)
            : Problems.NotFound("operator", @operator);
    }

    private static Task<IResult> ReportAsync(
        string @operator, HttpContext context, MonthReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(@operator, context, reports, clock.GetUtcNow(), report => TypedResults.Ok(report), cancellationToken);

    private static Task<IResult> ReportPageAsync(
        string @operator, HttpContext context, Pages pages, MonthReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return AnswerAsync(@operator, context, reports, now, report => pages.Of<MonthPage>(context, report, now), cancellationToken);
    }

    private static async Task<IResult> AnswerAsync(
        string @operator, HttpContext context, MonthReports reports, DateTimeOffset now, Func<MonthReport, IResult> answer, CancellationToken cancellationToken)
    {
        const string Parameter = "month";
        string asked = context.Request.Query[Parameter].ToString();
        LocalDate? first = null;
        if (asked.Length > 0)
        {
            ParseResult<LocalDate> read = MonthPattern.Parse(asked + "-01");
            if (!read.Success || read.Value < ReportMonth.Earliest)
            {
                return Problems.Invalid(Parameter, "month", $"'{asked}' is no month from 2000-01 on.", "Give a month such as 2026-10, or leave month out.");
            }

            first = read.Value;
        }

        return await reports.AssembleAsync(@operator, first, now, cancellationToken) switch
        {
            (false, _) => Problems.NotFound("operator", @operator),
            (true, { } report) => answer(report),
            _ => Problems.Invalid(Parameter, "past", "Less than an hour of this month is over.", "Give an earlier month, or leave month out."),
        };
    }

    private static async Task<IResult> ListPageAsync(
        HttpContext context, Pages pages, OperatorListReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        string? search = new Query(context.Request.Query).Text("q");
        return pages.Of<OperatorListPage>(
            context, await reports.AssembleAsync(search, page with { Limit = OperatorsOnAPage }, now, cancellationToken), now);
    }
}
