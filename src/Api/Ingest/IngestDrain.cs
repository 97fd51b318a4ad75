namespace Washwear.Api.Ingest;

/// <summary>When the program is told to stop, waits until what requests have handed over is on disk, within the time that the stop may take. To be
/// registered before all other work, since what was begun last is stopped first: by then no request and no message comes in any more.</summary>
/// <param name="ingest">The way in.</param>
/// <param name="log">The log.</param>
internal sealed partial class IngestDrain(IngestService ingest, ILogger<IngestDrain> log) : IHostedService
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(20);

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        try
        {
            while (ingest.Load is { Requests: > 0 } or { WaitingRows: > 0 })
            {
                await Task.Delay(BetweenLooks, cancellationToken);
            }
        }
        catch (OperationCanceledException)
        {
            LogLeft(ingest.Load.Requests);
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Stopped with {Requests} requests of records unfinished: their senders have no answer and send them again.")]
    private partial void LogLeft(long requests);
}
