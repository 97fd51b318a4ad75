using Washwear.Api.Storage;

namespace Washwear.Api.Audit;

/// <summary>Deletes entries of the audit that are older than the settings keep them, once a day as long as the program serves.</summary>
/// <param name="audit">The audit.</param>
/// <param name="database">The database.</param>
/// <param name="settings">For how long they are kept.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
internal sealed partial class AuditWorker(
    AuditLog audit, Database database, Settings settings, TimeProvider clock, ILogger<AuditWorker> log) : BackgroundService
{
    private static readonly TimeSpan Between = TimeSpan.FromDays(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (settings.AuditKeep is not { } keep)
        {
            return;
        }

        using var timer = new PeriodicTimer(Between, clock);
        do
        {
            await ForgetAsync(keep, stoppingToken);
        }
        while (await timer.WaitForNextTickAsync(stoppingToken));
    }

    // One time that fails, because the database is busy or full, must not end it.
    private async Task ForgetAsync(TimeSpan keep, CancellationToken cancellationToken)
    {
        try
        {
            await using IAsyncDisposable? only = await database.TryBecomeOnlyAsync("audit", cancellationToken);
            if (only is not null)
            {
                await audit.ForgetAsync(clock.GetUtcNow() - keep, cancellationToken);
            }
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            LogFailed(error);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "Deleting old entries of the audit failed; it is tried again as usual.")]
    private partial void LogFailed(Exception error);
}
