namespace Washwear.Api.Memories;

/// <summary>
/// Makes anew in the background what is given from memory meanwhile: few at once, so that questions and records keep the processors. What
/// somebody asked for within the last day is made anew before it is too old to be given, so that who asks next does not wait for it either.
/// Safe for concurrent use.
/// </summary>
/// <param name="settings">How far memory may lag.</param>
/// <param name="clock">The clock.</param>
/// <param name="log">The log.</param>
public sealed partial class Renewals(Settings settings, TimeProvider clock, ILogger<Renewals> log) : IDisposable
{
    private const int ProcessorsForOne = 4;

    // What is kept takes no more than a fifth of one worker's time.
    private const int RestTimesCost = 4;

    // What is let go of elsewhere, with its scope or its question, is let go of here.
    private readonly List<WeakReference<IKept>> _kept = [];

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

    /// <summary>Keeps something from growing too old.</summary>
    /// <param name="memory">What is kept.</param>
    internal void Keep(IKept memory)
    {
        lock (_kept)
        {
            _kept.Add(new WeakReference<IKept>(memory));
        }
    }

    /// <summary>Looks once at all that is kept, and makes anew what would be too old soon.</summary>
    /// <param name="cancellationToken">Stops looking.</param>
    internal async Task KeepAsync(CancellationToken cancellationToken)
    {
        foreach (IKept memory in Kept())
        {
            long begin = Clock.GetTimestamp();
            await _places.WaitAsync(cancellationToken);
            try
            {
                await memory.KeepAsync(Clock.GetUtcNow(), cancellationToken);
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                LogFailed("kept", error);
            }
            finally
            {
                _places.Release();
            }

            await Task.Delay(RestTimesCost * Clock.GetElapsedTime(begin), Clock, cancellationToken);
        }
    }

    private List<IKept> Kept()
    {
        var kept = new List<IKept>();
        lock (_kept)
        {
            _kept.RemoveAll(one => !one.TryGetTarget(out _));
            foreach (WeakReference<IKept> one in _kept)
            {
                if (one.TryGetTarget(out IKept? memory))
                {
                    kept.Add(memory);
                }
            }
        }

        return kept;
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
