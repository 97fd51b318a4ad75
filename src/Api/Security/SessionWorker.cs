namespace Washwear.Api.Security;

/// <summary>Writes now and then when sessions were last seen and deletes those that are over, as long as the program serves.</summary>
/// <param name="sessions">Does the writing.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class SessionWorker(Sessions sessions, TimeProvider clock, ILogger<SessionWorker> log) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromMinutes(5);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Between, clock);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            try
            {
                await sessions.TidyAsync(stoppingToken);
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                LogFailed(error);
            }
        }
    }

    // Pages stay readable where the database cannot be written; what was seen is kept for the next time.
    [LoggerMessage(Level = LogLevel.Warning, Message = "When sessions were last seen could not be written; it is tried again.")]
    private partial void LogFailed(Exception error);
}
