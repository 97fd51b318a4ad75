using Washwear.Api.Memories;
using Washwear.Api.Registry;
using Washwear.Api.Repairs;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Repairs;

namespace Washwear.Api.Today;

/// <summary>
/// Looks once at what is dear of a large fleet when the program has begun to serve, so that its first reader does not wait for all of it.
/// </summary>
/// <param name="registry">The registry.</param>
/// <param name="today">The first page.</param>
/// <param name="repairs">How repairs went.</param>
/// <param name="delays">Where the time of lockouts went.</param>
/// <param name="renewals">Says which fleets are large.</param>
/// <param name="log">The log.</param>
internal sealed partial class FirstLook(
    RegistryCache registry, TodayReports today, RepairReports repairs, DelayReports delays, Renewals renewals, ILogger<FirstLook> log) : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // Whoever starts it goes on starting.
        await Task.Yield();
        try
        {
            if (renewals.Rule.IsLarge((await registry.CurrentAsync(stoppingToken)).UnitList.Count))
            {
                DateTimeOffset now = renewals.Clock.GetUtcNow();
                await today.AssembleAsync(null, now, stoppingToken);
                await delays.AssembleAsync(CleaningFilter.All, DelayReports.GroupingCodes[0], DelayReports.UsualDays, now, stoppingToken);
                await repairs.AssembleAsync(new RepairChoice(), now, stoppingToken);
            }
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogFailed(error);
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The first look at the fleet failed; what is dear is made when somebody asks.")]
    private partial void LogFailed(Exception error);
}
