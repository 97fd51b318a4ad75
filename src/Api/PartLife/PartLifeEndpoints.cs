using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.PartLife;

/// <summary>Addresses of part life: figures, the lives behind them, page, charts.</summary>
public static class PartLifeEndpoints
{
    /// <summary>Registers part life.</summary>
    /// <param name="services">The services.</param>
    public static void AddPartLife(this IServiceCollection services)
    {
        services.AddPerScope<PartLifeQueries>();
        services.AddPerScope<FleetLives>();
        services.AddPerScope<AgedLives>();
        services.AddPerScope<FleetWear>();
        services.AddPerScope<PartLifeReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapPartLife(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder api = routes.MapGroup("/v1/part-life").RequireAbility(Abilities.Read).WithTags("Part life");
        api.MapGet("/{position}", FiguresAsync)
            .ProducesList<PartLifeReport>()
            .WithSummary("How long the parts at one position last")
            .WithDescription(
                "Kaplan–Meier steps and the Weibull fit with its bounds, over all models or one (?model) and all groups or one (?by with ?group), "
                + "for all failure modes or one (?failure_mode, others censored), at ?level (0.95). ?clock is days, washes or operating_hours; left "
                + "out, it is the one that explains the lives best where the records decide it, else days. ?at=365,730 gives survival at ages, "
                + "?bounds=both adds bounds from the observed information, ?shape=2.5 lower bounds at that shape. Too few failures are answered in "
                + "words, with lower bounds at the shape of the whole fleet. ?by compares groups: part_number, batch, supplier, model, operator, "
                + "region or water_hardness; batches that fail early are named in any case. As CSV: the Kaplan–Meier steps.");
        api.MapGet("/{position}/modes", ModesAsync)
            .ProducesList<ModeFigures>()
            .WithSummary("Failure modes of a position as competing ends of a life")
            .WithDescription("Cumulative incidence by mode and one Weibull fit a mode, with other modes censored. As CSV: the steps of the incidence.");
        api.MapGet("/{position}/lives", LivesAsync)
            .ProducesList<PageOf<PartLifeRow>>()
            .WithSummary("The lives behind a position's figures")
            .WithDescription("One row a part, also those left out, with the reason. Narrow with ?model, ?by and ?group, ?failure_mode and ?kind; "
                + "page with ?limit and ?after.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/part-life", PageAsync);
        pages.MapGet(Urls.PartLivesRoute, LivesPageAsync);
        pages.MapGet(Urls.SurvivalChartRoute, SurvivalChartAsync);
        pages.MapGet(Urls.WeibullPlotRoute, WeibullPlotAsync);
        pages.MapGet(Urls.IncidenceChartRoute, IncidenceChartAsync);
    }

    private static async Task<IResult> FiguresAsync(
        string position, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeChoice choice = PartLifeQuestions.Read(position, query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        return await AnswerAsync(choice, reports, clock, report =>
            Formats.Report(context, report, report.KaplanMeier, null, PartLifeColumns.KaplanMeier), cancellationToken);
    }

    private static async Task<IResult> ModesAsync(
        string position, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeChoice choice = PartLifeQuestions.Read(position, query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        return await reports.AssembleModesAsync(choice, clock.GetUtcNow(), cancellationToken) is { } modes
            ? Formats.Report(
                context, modes, modes.Rows.SelectMany(row => row.Incidence.Select(step => (row.Mode, step))), null, PartLifeColumns.Incidence)
            : Problems.NotFound("position", position);
    }

    private static async Task<IResult> LivesAsync(
        string position,
        HttpContext context,
        PartLifeReports reports,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeChoice choice = PartLifeQuestions.Read(position, query);
        LifeKind kind = PartLifeQuestions.Kind(query);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page)) is { } problem)
        {
            return problem;
        }

        PartLivesReport lives = await reports.AssembleLivesAsync(choice, kind, clock.GetUtcNow(), page, cancellationToken);
        return Formats.List(context, new PageOf<PartLifeRow>(lives.Rows, lives.Next), PartLifeColumns.Lives);
    }

    private static async Task<IResult> LivesPageAsync(
        HttpContext context, Pages pages, PartLifeReports reports, Settings settings, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        if (query.Text("position") is not { } position)
        {
            return Problems.Invalid("position", "required", "No position was named.", "Choose a position on the part-life page.");
        }

        PartLifeChoice choice = PartLifeQuestions.Read(position, query);
        LifeKind kind = PartLifeQuestions.Kind(query);
        PageRequest page = new(settings.PageRows, null);
        if ((query.Problem ?? Paging.Read(context.Request, settings, 1, out page) ?? Sorting.Read(context.Request, PartLifeColumns.Sorted, ref page, Sorting.RowsOfManyLines)) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        return pages.Of<PartLivesPage>(context, await reports.AssembleLivesAsync(choice, kind, now, page, cancellationToken), now);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeChoice? choice = query.Text("position") is { } position ? PartLifeQuestions.Read(position, query, fromForm: true) : null;
        if (query.Problem is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        try
        {
            return pages.Of<PartLifePage>(context, await reports.AssemblePageAsync(choice, now, cancellationToken), now);
        }
        catch (UnknownFailureModeException)
        {
            // A mode that nothing failed of, left over from another position in the form: show all modes.
            return pages.Of<PartLifePage>(
                context, await reports.AssemblePageAsync(choice! with { FailureMode = null }, now, cancellationToken), now);
        }
    }

    private static Task<IResult> SurvivalChartAsync(
        string position, string format, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(position, format, context, reports, clock, SurvivalChart.Of, cancellationToken);

    private static Task<IResult> WeibullPlotAsync(
        string position, string format, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(position, format, context, reports, clock, WeibullPlot.Of, cancellationToken);

    private static Task<IResult> IncidenceChartAsync(
        string position, string format, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(position, format, context, reports, clock, IncidenceChart.Of, cancellationToken);

    private static async Task<IResult> ChartAsync(
        string position,
        string format,
        HttpContext context,
        PartLifeReports reports,
        TimeProvider clock,
        Func<PartLifeReport, Chart> chart,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeChoice choice = PartLifeQuestions.Read(position, query);
        return query.Problem is { } problem
            ? problem
            : await AnswerAsync(choice, reports, clock, report => Pages.Picture(chart(report), format), cancellationToken);
    }

    private static async Task<IResult> AnswerAsync(
        PartLifeChoice choice,
        PartLifeReports reports,
        TimeProvider clock,
        Func<PartLifeReport, IResult> answer,
        CancellationToken cancellationToken)
    {
        try
        {
            return await reports.AssembleAsync(choice, clock.GetUtcNow(), cancellationToken) is { } report
                ? answer(report)
                : Problems.NotFound("position", choice.Position);
        }
        catch (UnknownFailureModeException unknown)
        {
            return Problems.Invalid("failure_mode", "known", unknown.Message, "Leave failure_mode out, or give one that is there.");
        }
    }
}
