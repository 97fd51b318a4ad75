using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Storage;

namespace Washwear.Api.Http;

/// <summary>Whether the service is well.</summary>
/// <param name="Status">Always 'ok'; a service that is not answers with a problem instead.</param>
public sealed record HealthStatus(string Status);

/// <summary>What a supervisor asks, without a key.</summary>
public static class Health
{
    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder health = routes.MapGroup("/health").AllowAnonymous().WithTags("Health");
        health.MapGet("/live", Live).WithSummary("Is the process alive?").WithDescription("Answers 200 as long as the process can answer at all; needs no key.");
        health.MapGet("/ready", ReadyAsync).WithSummary("Can it do its work?").WithDescription(
            "Answers 200 when the database answers and every migration has been applied, else 503; needs no key.");
    }

    private static Ok<HealthStatus> Live() => TypedResults.Ok(new HealthStatus("ok"));

    private static async Task<Results<Ok<HealthStatus>, ProblemResult>> ReadyAsync(Database database, CancellationToken cancellationToken)
    {
        try
        {
            await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
            return Migrator.IsCurrent(database)
                ? TypedResults.Ok(new HealthStatus("ok"))
                : Problems.Status(StatusCodes.Status503ServiceUnavailable, "The database lacks migrations; run the migrate command.");
        }
        catch (DbException)
        {
            return Problems.Status(StatusCodes.Status503ServiceUnavailable, "The database does not answer.");
        }
    }
}
