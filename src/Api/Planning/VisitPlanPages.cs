using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.Extensions.Primitives;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Planning;

/// <summary>Pages of the dated plan and of trials, and the forms on them.</summary>
public static class VisitPlanPages
{
    private const int VisitsOnAPage = 12;
    private const int DecisionsOnAPage = 20;
    private const int MostJobsAtOnce = 200;
    private const int ForecastDays = 90;

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapVisitPlanPages(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder pages = routes.MapGroup(string.Empty).RequireAbility(Abilities.Read).ExcludeFromDescription();
        pages.MapGet(Urls.PlanRoute, PageAsync);
        pages.MapGet(Urls.WhatIfRoute, WhatIfPageAsync);
        routes.MapPost(Urls.PlanDecisionRoute, DecideByFormAsync).Audited("plan.decide").RequireAbility(Abilities.Plan).ExcludeFromDescription();
    }

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, VisitPlanReports visits, ForecastReports forecasts, StockReports stock, PlanReports decisions, Settings settings,
        TimeProvider clock, CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        PlanFilter filter = PlanningEndpoints.Filter(query);
        if (Paging.Read(context.Request, settings, 1, out PageRequest page) is { } problem)
        {
            return problem;
        }

        DateTimeOffset now = clock.GetUtcNow();
        var first = new PageRequest(1, null);
        bool narrow = filter.Unit is not null || filter.Position is not null;
        PlanDecisionsReport decided = await decisions.AssembleDecisionsAsync(filter, new PageRequest(DecisionsOnAPage, null), now, cancellationToken);
        return pages.Of<PlanPage>(
            context,
            new PlanPageReport(
                await visits.AssembleAsync(filter, page with { Limit = query.Text("all") is null ? VisitsOnAPage : settings.PageRowsMax }, now, cancellationToken),
                await forecasts.AssembleAsync(filter, ForecastDays, ForecastBy.PartNumber, first, now, cancellationToken),
                narrow ? null : (await stock.AssembleAsync(filter, first, now, cancellationToken)).ToOrder,
                decided,
                filter,
                context.User.May(Abilities.Plan),
                Done(query.Text("done"), decided)),
            now);
    }

    private static string? Done(string? number, PlanDecisionsReport decided) =>
        long.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? decided.Rows.FirstOrDefault(row => row.Id == id)?.Sentence : null;

    // 303: the browser goes on to the plan by GET. Jobs of one visit are accepted one by one: each is a decision of its own.
    private static async Task<IResult> DecideByFormAsync(
        HttpContext context, IAntiforgery forms, PlanDecisions decisions, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        IFormCollection form = await context.Request.ReadFormAsync(cancellationToken);
        (StringValues units, StringValues positions) = (form["unit"], form["position"]);
        if (units.Count == 0 || units.Count != positions.Count || units.Count > MostJobsAtOnce)
        {
            return Problems.Invalid("unit", "jobs", "The form names no jobs, or a unit without its position.", "Open the plan again and press the button there.");
        }

        if (!Enum.TryParse(form["decision"].ToString(), ignoreCase: true, out PlanDecisionWord word) || !Enum.IsDefined(word))
        {
            return Problems.Invalid("decision", "choice", "The form says neither accept, postpone, reject nor take back.", "Press one of the buttons.");
        }

        if (!Day(form["date"].ToString(), out DateOnly? day))
        {
            return Problems.Invalid("date", "date", $"'{form["date"]}' is no date.", "Choose a day.");
        }

        long? last = null;
        for (int i = 0; i < units.Count; i++)
        {
            (last, ProblemResult? problem) = await decisions.DecideAsync(
                new PlanDecisionResource(
                    units[i] ?? string.Empty,
                    positions[i] ?? string.Empty,
                    word,
                    form["by"].ToString(),
                    word == PlanDecisionWord.Postponed ? day : null,
                    form["reason"].ToString() is { Length: > 0 } reason ? reason : null),
                context.User.Identity?.Name ?? "unknown",
                cancellationToken);
            if (problem is not null)
            {
                return problem;
            }
        }

        context.Response.Headers.Location = Urls.Plan(done: last);
        return Results.StatusCode(StatusCodes.Status303SeeOther);
    }

    private static bool Day(string text, out DateOnly? day)
    {
        bool known = DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly given);
        day = known ? given : null;
        return known || text.Length == 0;
    }

    private static async Task<IResult> WhatIfPageAsync(
        HttpContext context, Pages pages, RegistryCache registry, WhatIfReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        RegistrySnapshot snapshot = await registry.CurrentAsync(cancellationToken);
        DateTimeOffset now = clock.GetUtcNow();
        var entered = new WhatIfForm(context.Request.Query);
        (WhatIfReport? result, IReadOnlyList<FieldProblem> problems) = entered.Problems.Count > 0 ? (null, entered.Problems)
            : entered.IsEmpty ? (null, [])
            : await reports.AssembleAsync(entered.Asked, now, cancellationToken);
        return pages.Of<WhatIfPage>(
            context,
            new WhatIfPageReport(
                [.. snapshot.ModelList.SelectMany(model => model.Resource.Positions).DistinctBy(position => Codes.Key(position.Position))
                    .OrderBy(position => position.Name, StringComparer.OrdinalIgnoreCase).Select(position => new WhatIfPosition(position.Position, position.Name))],
                [.. snapshot.Plan.SupplierList.Select(supplier => new WhatIfSupplier(supplier.Supplier, supplier.Name, supplier.LeadTimeDays))],
                snapshot.Plan.Terms.LockoutHourCost,
                entered.Fields,
                result,
                [.. problems.Select(problem => problem.Detail + " " + problem.Mend)]),
            now,
            problems.Count > 0 ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK);
    }
}
