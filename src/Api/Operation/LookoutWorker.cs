namespace Washwear.Api.Operation;

/// <summary>Looks again and again, so that what is measured is never old, whoever asks for it.</summary>
/// <param name="lookout">Looks.</param>
/// <param name="gauges">What is measured; made with the worker, as the program starts.</param>
internal sealed class LookoutWorker(Lookout lookout, ServiceGauges gauges) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromSeconds(15);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        ArgumentNullException.ThrowIfNull(gauges);
        using var timer = new PeriodicTimer(Between);
        do
        {
            await lookout.LookAsync(stoppingToken);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }
}
