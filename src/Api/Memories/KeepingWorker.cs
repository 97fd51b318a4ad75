namespace Washwear.Api.Memories;

/// <summary>Looks every half minute at what is kept in memory, as long as the program serves.</summary>
/// <param name="renewals">What is kept.</param>
internal sealed class KeepingWorker(Renewals renewals) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromSeconds(30);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (renewals.Rule.Most == TimeSpan.Zero)
        {
            return;
        }

        using var timer = new PeriodicTimer(Between, renewals.Clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            await renewals.KeepAsync(stoppingToken);
        }
    }
}
