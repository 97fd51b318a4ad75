using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Http.HttpResults;
using Washwear.Api.Http;
using Washwear.Api.Mqtt;
using Washwear.Api.Security;

namespace Washwear.Api.Operation;

/// <summary>Whether the service is well.</summary>
/// <param name="Status">'ok', or 'degraded' where it works and somebody should see to it; a service that cannot work answers with a problem instead.</param>
/// <param name="Concerns">What somebody should see to; left out: nothing.</param>
/// <param name="Mqtt">How the intake of MQTT messages fares; left out: there is none. A broker that is away makes the service not unwell: it
/// takes records in by HTTP as ever, and the broker keeps its messages.</param>
public sealed record HealthStatus(
    HealthStanding Status,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<string>? Concerns = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] MqttStatus? Mqtt = null);

/// <summary>All that was looked at.</summary>
/// <param name="Status">The worst of it.</param>
/// <param name="At">When it was looked at.</param>
/// <param name="Checks">One by one.</param>
/// <param name="Mqtt">How the intake of MQTT messages fares; left out: there is none.</param>
public sealed record HealthDetails(
    HealthStanding Status,
    DateTimeOffset At,
    IReadOnlyList<HealthCheck> Checks,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] MqttStatus? Mqtt = null);

/// <summary>What a supervisor asks.</summary>
public static class Health
{
    private const string Prefix = "/health";
    private const string DetailsRoute = "/details";

    /// <summary>Registers who looks.</summary>
    /// <param name="services">The services.</param>
    public static void AddHealth(this IServiceCollection services)
    {
        services.AddSingleton<OperationQueries>();
        services.AddSingleton<Lookout>();
        services.AddHostedService<LookoutWorker>();
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder health = routes.MapGroup(Prefix).WithTags("Health");
        health.MapGet("/live", Live).AllowAnonymous().WithSummary("Is the process alive?").WithDescription("Answers 200 as long as the process can answer at all; needs no key. Says too how the intake of MQTT messages fares, if there is one.");
        health.MapGet("/ready", ReadyAsync).AllowAnonymous().WithSummary("Can it do its work?").WithDescription(
            "Answers within a second: 200 when the database answers and every migration has been applied, else 503; needs no key. status is 'degraded' where it works "
            + "and somebody should see to something, which concerns names: write_lock, disk, ingest_queue, clock, projections, webhooks, upkeep. "
            + "Says too how the intake of MQTT messages fares, if there is one.");
        health.MapGet(DetailsRoute, DetailsAsync).RequireWholeFleet().RequireAbility(Abilities.Read).WithSummary("What was looked at, with figures")
            .WithDescription("Each thing that the service depends on, how it stands and what to do, in words and with figures; for keys that see the whole fleet. Answers 200 whatever it says.");
    }

    /// <summary>Asks nobody who they are where anybody is answered: whose key it is, the database tells, which may keep a supervisor waiting.</summary>
    /// <param name="app">The pipeline, before authentication.</param>
    public static void UseOpenHealth(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        if (HttpMethods.IsGet(context.Request.Method) && context.Request.Path.StartsWithSegments(Prefix, out PathString rest) && !rest.StartsWithSegments(DetailsRoute))
        {
            context.Request.Headers.Authorization = default;
            context.Request.Headers.Cookie = default;
        }

        return next(context);
    });

    private static Ok<HealthStatus> Live(MqttState mqtt) => TypedResults.Ok(new HealthStatus(HealthStanding.Ok, Mqtt: mqtt.Status));

    private static async Task<Results<Ok<HealthStatus>, ProblemResult>> ReadyAsync(
        Lookout lookout, Settings settings, MqttState mqtt, CancellationToken cancellationToken)
    {
        IReadOnlyList<HealthCheck> checks = HealthRules.Judge(await lookout.LookAsync(cancellationToken), settings);
        HealthStanding worst = HealthRules.Worst(checks);
        if (worst == HealthStanding.Failing)
        {
            string says = string.Join(' ', checks.Where(check => check.Standing == worst).Select(check => check.Says));
            return Problems.Status(StatusCodes.Status503ServiceUnavailable, says);
        }

        // Without a key no figures: what they tell of the machine is for those who keep it.
        string[] concerns = [.. checks.Where(check => check.Standing != HealthStanding.Ok).Select(check => check.Check)];
        return TypedResults.Ok(new HealthStatus(worst, concerns.Length == 0 ? null : concerns, mqtt.Status));
    }

    private static async Task<Ok<HealthDetails>> DetailsAsync(Lookout lookout, Settings settings, MqttState mqtt, CancellationToken cancellationToken)
    {
        ServiceLook look = await lookout.LookAsync(cancellationToken);
        IReadOnlyList<HealthCheck> checks = HealthRules.Judge(look, settings);
        return TypedResults.Ok(new HealthDetails(HealthRules.Worst(checks), look.At, checks, mqtt.Status));
    }
}
