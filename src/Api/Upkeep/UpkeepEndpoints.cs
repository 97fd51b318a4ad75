using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Api.Upkeep.Backups;
using Washwear.Api.Upkeep.Retention;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Upkeep;

namespace Washwear.Api.Upkeep;

/// <summary>What keeps an installation well by itself, and where it is told how that stands.</summary>
public static class UpkeepEndpoints
{
    /// <summary>Registers it.</summary>
    /// <param name="services">The services.</param>
    public static void AddUpkeep(this IServiceCollection services)
    {
        services.AddSingleton<UpToDate>();
        services.AddSingleton<BackupMaker>();
        services.AddSingleton<RestoreDrill>();
        services.AddSingleton<RetentionQueries>();
        services.AddSingleton<Pruning>();
        services.AddSingleton<BackupState>();
        services.AddSingleton<UpkeepRunQueries>();
        services.AddSingleton<UpkeepReports>();
        services.AddSingleton<UpkeepRuns>();
        services.AddSingleton<UpkeepWorker>();
        services.AddHostedService(provider => provider.GetRequiredService<UpkeepWorker>());
    }

    /// <summary>Maps the routes.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapUpkeep(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/v1/upkeep", ReportAsync)
            .RequireAbility(Abilities.Administer)
            .WithTags("Upkeep")
            .Produces<UpkeepReport>()
            .WithSummary("Does the installation keep itself well?")
            .WithDescription("The nightly backup, the drill that tries the way back, and the letting go of what is kept only for a time: when each was done last, and how it went.");
        routes.MapGet(Urls.Upkeep, PageAsync).RequireAbility(Abilities.Administer).ExcludeFromDescription();
    }

    private static async Task<IResult> ReportAsync(UpkeepReports reports, TimeProvider clock, CancellationToken cancellationToken) =>
        TypedResults.Ok(await reports.AssembleAsync(clock.GetUtcNow(), cancellationToken));

    private static async Task<IResult> PageAsync(
        HttpContext context, Pages pages, UpkeepReports reports, TimeProvider clock, CancellationToken cancellationToken)
    {
        DateTimeOffset now = clock.GetUtcNow();
        return pages.Of<UpkeepPage>(context, await reports.AssembleAsync(now, cancellationToken), now);
    }
}
