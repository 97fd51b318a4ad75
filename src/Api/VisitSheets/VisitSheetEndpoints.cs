using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Security.Scoped;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.VisitSheets;

namespace Washwear.Api.VisitSheets;

/// <summary>Addresses of visit sheets.</summary>
public static class VisitSheetEndpoints
{
    /// <summary>Registers visit sheets.</summary>
    /// <param name="services">The services.</param>
    public static void AddVisitSheets(this IServiceCollection services)
    {
        services.AddPerScope<VisitSheetQueries>();
        services.AddPerScope<CauseFindings>();
        services.AddPerScope<UnitDiagnoses>();
        services.AddPerScope<VisitSheetReports>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapVisitSheets(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/units/{unit}/visit-sheet", ReportAsync).RequireAbility(Abilities.Read).WithTags("Units")
            .Produces<VisitSheetReport>()
            .WithSummary("What a technician needs on the way to a unit")
            .WithDescription(
                "State and since when, what the fault code means here, last washes and visits, what earlier visits left to be done, what is fitted "
                + "and how old, likely causes with probabilities and why, checks in order, parts to bring, proofs before leaving, and cautions for exactly "
                + "these checks. ?fault names the fault; left out, it is the one that has kept the unit from washing for longest. Tell what was done with "
                + "?result=check:pass, fail or not_done, once for each check: probabilities and the next check follow, until one cause is as certain "
                + "as ?certainty (0.9) asks.");
        routes.MapGet(Urls.VisitSheetRoute, PageAsync).RequireAbility(Abilities.Read).ExcludeFromDescription();
    }

    private static Task<IResult> ReportAsync(
        string unit, HttpContext context, VisitSheetReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        AnswerAsync(unit, context, reports, clock.GetUtcNow(), TypedResults.Ok, cancellationToken);

    private static Task<IResult> PageAsync(
        string unit, HttpContext context, Pages pages, VisitSheetReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return AnswerAsync(unit, context, reports, now, report => pages.Of<VisitSheetPage>(context, report, now), cancellationToken);
    }

    private static async Task<IResult> AnswerAsync(
        string unit, HttpContext context, VisitSheetReports reports, DateTimeOffset now, Func<VisitSheetReport, IResult> answer,
        CancellationToken cancellationToken)
    {
        var query = new Query(context.Request.Query);
        SheetQuestion question = SheetQuestions.Read(context.Request, query);
        if (query.Problem is { } problem)
        {
            return problem;
        }

        try
        {
            return await reports.AssembleAsync(unit, question, now, cancellationToken) is { } report ? answer(report)
                : Problems.NotFound("unit", unit);
        }
        catch (UnknownOnSheetException unknown)
        {
            return Problems.Invalid([unknown.Problem]);
        }
    }
}
