using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Security;

namespace Washwear.Api.Erasure;

/// <summary>Whom to erase.</summary>
/// <param name="Names">All names of one person: the full name as records have it, the name at sign-in, names of keys.</param>
public sealed record ErasureResource(IReadOnlyList<string> Names);

/// <summary>The address at which people are erased.</summary>
public static class ErasureEndpoints
{
    /// <summary>Registers erasure.</summary>
    /// <param name="services">The services.</param>
    public static void AddErasure(this IServiceCollection services) => services.AddSingleton<Erasures>();

    /// <summary>Maps the route.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapErasure(this IEndpointRouteBuilder routes) => routes.MapPost("/v1/people/erasures", EraseAsync)
        .Audited("person.erase")
        .RequireAbility(Abilities.Administer)
        .WithTags("People")
        .Accepts<ErasureResource>("application/json")
        .Produces<ErasureReport>()
        .WithSummary("Erase a person's name")
        .WithDescription(
            "Puts a pseudonym in the place of the names, as whole words and without case, in records and whatever else holds them, deletes the photos of the "
            + "person's visits, revokes keys of that name and closes the account, whose login goes too. It cannot be undone. Counts and reports stay as they are, and records that are sent again are "
            + "duplicates. The same name gets the same pseudonym again. 404 where none of the names stands where people are named.");

    private static async Task<IResult> EraseAsync(HttpContext context, Erasures erasures, CancellationToken cancellationToken)
    {
        (ErasureResource? resource, ProblemResult? unreadable) = await JsonBody.ReadAsync<ErasureResource>(context.Request, null, cancellationToken);
        if (resource is null)
        {
            return unreadable!;
        }

        if (Erasures.WhyNot(resource.Names) is { } why)
        {
            return Problems.Invalid("names", "name", why, "Give the names as records have them.");
        }

        if (resource.Names.Any(name => string.Equals(name.Trim(), context.User.Identity?.Name, StringComparison.OrdinalIgnoreCase)))
        {
            return Problems.Status(StatusCodes.Status409Conflict, "Nobody erases himself, since the key or account goes with the name: another administrator does.");
        }

        try
        {
            return await erasures.EraseAsync(resource.Names, cancellationToken) is { } report ? TypedResults.Ok(report) : Nobody();
        }
        catch (SeveralPeopleException several)
        {
            return Problems.Status(StatusCodes.Status409Conflict, several.Message);
        }
    }

    private static ProblemResult Nobody() =>
        Problems.Status(StatusCodes.Status404NotFound, "None of these names stands where people are named; nothing was changed. Names are compared without case, as whole words.");
}
