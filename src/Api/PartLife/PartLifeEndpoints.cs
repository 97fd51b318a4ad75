using Washwear.Api.Http;
using Washwear.Api.Security;
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
        services.AddSingleton<PartLifeQueries>();
        services.AddSingleton<FleetLives>();
        services.AddSingleton<FleetWear>();
        services.AddSingleton<PartLifeReports>();
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
                "Kaplan–Meier steps and the Weibull fit with its bounds, over all models or one (?model), on ?clock days, washes or "
                + "operating_hours, for all failure modes or one (?failure_mode, others censored), at ?level (0.95). "
                + "Too few failures are answered in words. ?by compares groups: part_number, batch, supplier, model, operator, region or "
                + "water_hardness. As CSV: the Kaplan–Meier steps.");
        api.MapGet("/{position}/lives", LivesAsync)
            .ProducesList<PageOf<PartLifeRow>>()
            .WithSummary("The lives behind a position's figures")
            .WithDescription("One row a part, also those left out, with the reason. Narrow with ?model; page with ?limit and ?after.");
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet("/part-life", PageAsync);
        pages.MapGet(Urls.SurvivalChartRoute, SurvivalChartAsync);
        pages.MapGet(Urls.WeibullPlotRoute, WeibullPlotAsync);
    }

    private static async Task<IResult> FiguresAsync(
        string position, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeQuestion question = Question(position, query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        return await AnswerAsync(question, reports, clock, report =>
            Formats.Report(context, report, report.KaplanMeier, null, PartLifeColumns.KaplanMeier), cancellationToken);
    }

    private static async Task<IResult> LivesAsync(
        string position,
        HttpContext context,
        PartLifeReports reports,
        Settings settings,
        TimeProvider clock,
        CancellationToken cancellationToken)
    {
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        string? model = new Query(context.Request.Query).Text("model");
        IReadOnlyList<PartLifeRow> lives = await reports.AssembleLivesAsync(position, model, clock.GetUtcNow(), cancellationToken);
        return Formats.List(
            context, Paging.Take(lives.OrderBy(LifeKey, StringComparer.Ordinal), LifeKey, page), PartLifeColumns.Lives);
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PartLifeQuestion? question = query.Text("position") is { } position ? Question(position, query) : null;
        if (query.Problem is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        try
        {
            return pages.Of<PartLifePage>(context, await reports.AssemblePageAsync(question, now, cancellationToken), now);
        }
        catch (UnknownFailureModeException)
        {
            // A mode that nothing failed of, left over from another position in the form: show all modes.
            return pages.Of<PartLifePage>(
                context, await reports.AssemblePageAsync(question! with { FailureMode = null }, now, cancellationToken), now);
        }
    }

    private static Task<IResult> SurvivalChartAsync(
        string position, string format, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(position, format, context, reports, clock, SurvivalChart.Of, cancellationToken);

    private static Task<IResult> WeibullPlotAsync(
        string position, string format, HttpContext context, PartLifeReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        ChartAsync(position, format, context, reports, clock, WeibullPlot.Of, cancellationToken);

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
        PartLifeQuestion question = Question(position, query);
        return query.Problem is { } problem
            ? problem
            : await AnswerAsync(question, reports, clock, report => Pages.Picture(chart(report), format), cancellationToken);
    }

    private static async Task<IResult> AnswerAsync(
        PartLifeQuestion question,
        PartLifeReports reports,
        TimeProvider clock,
        Func<PartLifeReport, IResult> answer,
        CancellationToken cancellationToken)
    {
        try
        {
            return await reports.AssembleAsync(question, clock.GetUtcNow(), cancellationToken) is { } report
                ? answer(report)
                : Problems.NotFound("position", question.Position);
        }
        catch (UnknownFailureModeException unknown)
        {
            return Problems.Invalid("failure_mode", "known", unknown.Message, "Leave failure_mode out, or give one that is there.");
        }
    }

    private static PartLifeQuestion Question(string position, Query query) => new(
        position,
        query.Text("model"),
        query.Text("failure_mode"),
        query.Word<LifeClock>("clock") ?? LifeClock.Days,
        query.Between("level", 0.95, 0.5, 0.9999),
        query.OneOf("by", LifeComparisons.GroupingCodes));

    private static string LifeKey(PartLifeRow life) => $"{life.Unit.ToUpperInvariant()} {life.Position.ToUpperInvariant()} {life.Ordinal:D6}";
}
