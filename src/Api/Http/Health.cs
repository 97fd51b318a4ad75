using System.Data.Common;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Mqtt;
using Washwear.Api.Storage;

namespace Washwear.Api.Http;

/// <summary>Whether the service is well.</summary>
/// <param name="Status">Always 'ok'; a service that is not answers with a problem instead.</param>
/// <param name="Mqtt">How the intake of MQTT messages fares; left out: there is none. A broker that is away makes the service not unwell: it
/// takes records in by HTTP as ever, and the broker keeps its messages.</param>
public sealed record HealthStatus(
    string Status,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] MqttStatus? Mqtt = null);

/// <summary>What a supervisor asks, without a key.</summary>
public static class Health
{
    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder health = routes.MapGroup("/health").AllowAnonymous().WithTags("Health");
        health.MapGet("/live", Live).WithSummary("Is the process alive?").WithDescription("Answers 200 as long as the process can answer at all; needs no key. Says too how the intake of MQTT messages fares, if there is one.");
        health.MapGet("/ready", ReadyAsync).WithSummary("Can it do its work?").WithDescription(
            "Answers 200 when the database answers and every migration has been applied, else 503; needs no key. Says too how the intake of MQTT messages fares, if there is one.");
    }

    private static Ok<HealthStatus> Live(MqttState mqtt) => TypedResults.Ok(new HealthStatus("ok", mqtt.Status));

    private static async Task<Results<Ok<HealthStatus>, ProblemResult>> ReadyAsync(Database database, MqttState mqtt, CancellationToken cancellationToken)
    {
        try
        {
            await using DbConnection connection = await database.OpenReadAsync(cancellationToken);
            return Migrator.IsCurrent(database)
                ? TypedResults.Ok(new HealthStatus("ok", mqtt.Status))
                : Problems.Status(StatusCodes.Status503ServiceUnavailable, "The database lacks migrations; run the migrate command.");
        }
        catch (DbException)
        {
            return Problems.Status(StatusCodes.Status503ServiceUnavailable, "The database does not answer.");
        }
    }
}
