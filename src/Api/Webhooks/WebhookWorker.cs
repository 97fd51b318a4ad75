using Washwear.Api.Storage;

namespace Washwear.Api.Webhooks;

/// <summary>Sends what is due again and again, as long as the program serves.</summary>
/// <param name="sender">Does the sending.</param>
/// <param name="database">Where one node at a time sends.</param>
/// <param name="settings">How often.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class WebhookWorker(
    WebhookSender sender, Database database, Settings settings, TimeProvider clock, ILogger<WebhookWorker> log) : BackgroundService
{
    private static readonly TimeSpan BetweenForgetting = TimeSpan.FromHours(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (settings.WebhookPollInterval == TimeSpan.Zero)
        {
            return;
        }

        DateTimeOffset forgetAt = clock.GetUtcNow() + settings.WebhookPollInterval;
        using var timer = new PeriodicTimer(settings.WebhookPollInterval, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            bool forget = clock.GetUtcNow() >= forgetAt;
            forgetAt = forget ? clock.GetUtcNow() + BetweenForgetting : forgetAt;
            await RunAsync(forget, stoppingToken);
        }
    }

    // A run that fails, because the database is busy or full, must not end the sending.
    private async Task RunAsync(bool forget, CancellationToken cancellationToken)
    {
        try
        {
            await using IAsyncDisposable? turn = await database.TryBecomeOnlyAsync("webhooks", cancellationToken);
            if (turn is null)
            {
                return;
            }

            if (forget)
            {
                await sender.ForgetAsync(cancellationToken);
            }

            await sender.RunAsync(cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogFailed(error);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Sending webhook messages failed; it is tried again as usual.")]
    private partial void LogFailed(Exception error);
}
