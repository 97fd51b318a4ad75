namespace Washwear.Api.Memories;

/// <summary>
/// Makes anew in the background what is given from memory meanwhile: few at once, so that questions and records keep the processors.
/// Safe for concurrent use.
/// </summary>
/// <param name="settings">How far memory may lag.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
public sealed partial class Renewals(Settings settings, TimeProvider clock, ILogger<Renewals> log) : IDisposable
{
    private const int ProcessorsForOne = 4;

    private readonly SemaphoreSlim _places = new(Math.Max(1, Environment.ProcessorCount / ProcessorsForOne));
    private readonly CancellationTokenSource _end = new();

    /// <summary>How far memory may lag.</summary>
    public LagRule Rule { get; } = new(settings.LagFromUnits, TimeSpan.FromSeconds(settings.LagSecondsMax));

    /// <summary>The clock.</summary>
    public TimeProvider Clock => clock;

    /// <summary>Ends all making, when the program stops.</summary>
    public CancellationToken End => _end.Token;

    /// <summary>Makes something anew when there is room for it.</summary>
    /// <param name="what">Its name, for the log.</param>
    /// <param name="work">Makes it.</param>
    public void Begin(string what, Func<Task> work)
    {
        // What follows belongs to nobody's request.
        using AsyncFlowControl alone = ExecutionContext.SuppressFlow();
        _ = Task.Run(() => RunAsync(what, work));
    }

    /// <inheritdoc/>
    public void Dispose() => _end.Cancel();

    private async Task RunAsync(string what, Func<Task> work)
    {
        try
        {
            await _places.WaitAsync(End);
        }
        catch (OperationCanceledException)
        {
            return;
        }

        try
        {
            await work();
        }
        catch (Exception error)
        {
            // Whoever asks next makes it while they wait, and is told if that fails too.
            if (!End.IsCancellationRequested)
            {
                LogFailed(what, error);
            }
        }
        finally
        {
            _places.Release();
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Making '{What}' anew in the background failed; it is made when somebody asks.")]
    private partial void LogFailed(string what, Exception error);
}
