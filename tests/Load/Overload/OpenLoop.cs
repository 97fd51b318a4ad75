using System.Diagnostics;

namespace Washwear.Load.Overload;

/// <summary>Arrivals that do not wait for answers: a Poisson stream from a seed, with a bound on how many are under way.</summary>
/// <param name="mostInFlight">Most requests under way; an arrival beyond is counted and not sent.</param>
internal sealed class OpenLoop(int mostInFlight)
{
    private readonly TaskCompletionSource _drained = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private int _inFlight = 1;

    /// <summary>Arrivals that were sent.</summary>
    public int Sent { get; private set; }

    /// <summary>Arrivals that were not sent, as the bound was reached.</summary>
    public int NotSent { get; private set; }

    /// <summary>Most that were under way.</summary>
    public int MostSeen { get; private set; }

    /// <summary>The longest that a request was begun after it was due, ms: what this side adds to latencies.</summary>
    public double LatestMs { get; private set; }

    /// <summary>Lets requests arrive; answers may come after it has returned.</summary>
    /// <param name="perSecond">Arrivals a second on average.</param>
    /// <param name="lasts">How long.</param>
    /// <param name="random">Chance.</param>
    /// <param name="arrive">Makes the request that is due at a timestamp, on the thread of arrivals; what it gives back sends it.</param>
    public Task RunAsync(double perSecond, TimeSpan lasts, Random random, Func<long, Func<Task>> arrive) => Task.Factory.StartNew(
        () => Pace(perSecond, lasts, random, arrive), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    /// <summary>Waits until all that was sent has come to an end; nothing may arrive afterwards.</summary>
    public Task DrainAsync()
    {
        Release();
        return _drained.Task;
    }

    // Latencies are taken from the moment at which a request was due, so that a late start here does not flatter the server.
    private void Pace(double perSecond, TimeSpan lasts, Random random, Func<long, Func<Task>> arrive)
    {
        long start = Stopwatch.GetTimestamp();
        double due = 0;
        while (true)
        {
            due += -Math.Log(1 - random.NextDouble()) / perSecond;
            if (due >= lasts.TotalSeconds)
            {
                return;
            }

            long at = start + (long)(due * Stopwatch.Frequency);
            while (Stopwatch.GetTimestamp() < at)
            {
                Thread.Sleep(1);
            }

            LatestMs = Math.Max(LatestMs, Stopwatch.GetElapsedTime(at).TotalMilliseconds);
            int inFlight = Volatile.Read(ref _inFlight) - 1;
            MostSeen = Math.Max(MostSeen, inFlight);
            if (inFlight >= mostInFlight)
            {
                NotSent++;
                continue;
            }

            Sent++;
            Interlocked.Increment(ref _inFlight);
            Func<Task> send = arrive(at);
            _ = Task.Run(() => FollowAsync(send));
        }
    }

    private async Task FollowAsync(Func<Task> send)
    {
        try
        {
            await send();
        }
        finally
        {
            Release();
        }
    }

    private void Release()
    {
        if (Interlocked.Decrement(ref _inFlight) == 0)
        {
            _drained.TrySetResult();
        }
    }
}
