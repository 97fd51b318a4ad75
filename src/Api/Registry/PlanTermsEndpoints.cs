using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Audit;
using Washwear.Api.Http;

namespace Washwear.Api.Registry;

/// <summary>The address of the plan terms.</summary>
internal static class PlanTermsEndpoints
{
    private const string Address = "/plan/terms";

    public static void Map(RouteGroupBuilder read, RouteGroupBuilder manage)
    {
        read.MapGet(Address, GetAsync)
            .WithTags("Planning")
            .WithSummary("What planning reckons with")
            .WithDescription("The terms that were put, or the usual ones where none were.");
        manage.MapPut(Address, PutAsync)
            .Audited("plan_terms.put")
            .WithTags("Planning")
            .Accepts<PlanTermsResource>("application/json")
            .Produces<PlanTermsResource>()
            .WithSummary("Put the plan terms")
            .WithDescription(
                "Replaces all of them; what is left out is as usual. An hour locked out has the price that you give it; 0 (usual) leaves it unpriced, "
                + "and answers say so. Refused where a planned visit would cost no less than a failure, or a supplier takes longer than the horizon.");
    }

    private static async Task<Ok<PlanTermsResource>> GetAsync(RegistryCache cache, CancellationToken cancellationToken) =>
        TypedResults.Ok((await cache.CurrentAsync(cancellationToken)).Plan.Terms);

    private static async Task<IResult> PutAsync(HttpContext context, PlanTermsWriter writer, CancellationToken cancellationToken)
    {
        (PlanTermsResource? terms, ProblemResult? unreadable) = await JsonBody.ReadAsync<PlanTermsResource>(context.Request, null, cancellationToken);
        if (terms is null)
        {
            return unreadable!;
        }

        IReadOnlyList<FieldProblem> problems = await writer.PutAsync(terms, cancellationToken);
        return problems.Count > 0 ? Problems.Invalid(problems) : TypedResults.Ok(terms);
    }
}
