using Washwear.Api.Storage;

namespace Washwear.Api.Planning;

/// <summary>Keeps the forecasts of quarters, looking every six hours, as long as the program serves.</summary>
/// <param name="forecasts">Keeps them.</param>
/// <param name="database">Where one node at a time keeps them.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class ForecastWorker(
    KeptForecasts forecasts, Database database, TimeProvider clock, ILogger<ForecastWorker> log) : BackgroundService
{
    // The first look leaves the start to those who wait for it.
    private static readonly TimeSpan FirstWait = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Between = TimeSpan.FromHours(6);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        await Task.Delay(FirstWait, clock, stoppingToken);
        using var timer = new PeriodicTimer(Between, clock);
        do
        {
            await KeepAsync(stoppingToken);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    // One look that fails, because the database is busy or full, must not end the looks.
    private async Task KeepAsync(CancellationToken cancellationToken)
    {
        try
        {
            await using IAsyncDisposable? turn = await database.TryBecomeOnlyAsync("forecasts", cancellationToken);
            if (turn is not null)
            {
                await forecasts.KeepAsync(cancellationToken);
            }
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogFailed(error);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Keeping the forecast of a quarter failed; it is tried again later.")]
    private partial void LogFailed(Exception error);
}
