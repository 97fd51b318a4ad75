namespace Washwear.Api.Ingest;

/// <summary>Forgets the answers of keyed requests in time, as long as the program serves.</summary>
/// <param name="requests">Does the forgetting.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class RequestKeyWorker(KeyedRequests requests, TimeProvider clock, ILogger<RequestKeyWorker> log) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromHours(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Between, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            await ForgetAsync(stoppingToken);
        }
    }

    // One time that fails, because the database is busy or full, must not end it.
    private async Task ForgetAsync(CancellationToken cancellationToken)
    {
        try
        {
            await requests.ForgetAsync(cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogFailed(error);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Forgetting old request keys failed; it is tried again as usual.")]
    private partial void LogFailed(Exception error);
}
