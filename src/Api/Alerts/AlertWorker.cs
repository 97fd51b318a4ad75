using Washwear.Api.Storage;

namespace Washwear.Api.Alerts;

/// <summary>Checks for alerts again and again, as long as the program serves.</summary>
/// <param name="checks">Does the check.</param>
/// <param name="database">Where one node at a time checks.</param>
/// <param name="settings">How often.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class AlertWorker(
    AlertChecks checks, Database database, Settings settings, TimeProvider clock, ILogger<AlertWorker> log) : BackgroundService
{
    // The first check leaves the start to those who wait for it.
    private static readonly TimeSpan FirstWait = TimeSpan.FromSeconds(20);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (settings.AlertCheckInterval == TimeSpan.Zero)
        {
            return;
        }

        await Task.Delay(FirstWait, clock, stoppingToken);
        using var timer = new PeriodicTimer(settings.AlertCheckInterval, clock);
        do
        {
            await CheckAsync(stoppingToken);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    // One check that fails, because the database is busy or full, must not end the checks.
    private async Task CheckAsync(CancellationToken cancellationToken)
    {
        try
        {
            await using IAsyncDisposable? turn = await database.TryBecomeOnlyAsync("alerts", cancellationToken);
            if (turn is not null)
            {
                await checks.RunAsync(cancellationToken);
            }
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogFailed(error);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "A check for alerts failed; the next one comes as usual.")]
    private partial void LogFailed(Exception error);
}
