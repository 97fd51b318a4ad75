using System.Diagnostics;

namespace Washwear.Load.Measured;

/// <summary>One look at the server.</summary>
/// <param name="Second">Seconds since the watch began.</param>
/// <param name="ResidentMib">Memory that the process holds (resident set), MiB.</param>
/// <param name="ProcessorSeconds">Processor time that it has used, seconds.</param>
internal sealed record Look(double Second, double ResidentMib, double ProcessorSeconds);

/// <summary>What the looks come to.</summary>
/// <param name="BeginMib">Resident memory at the begin, MiB.</param>
/// <param name="MiddleMib">Half-way.</param>
/// <param name="EndMib">At the end.</param>
/// <param name="LargestMib">The largest.</param>
/// <param name="SlopeMibPerHour">Slope of a straight line by least squares through the last two thirds, MiB an hour.</param>
/// <param name="GrowthMib">That slope over the last two thirds, MiB.</param>
/// <param name="Cores">Processors busy on average.</param>
internal sealed record ServerUse(
    double BeginMib, double MiddleMib, double EndMib, double LargestMib, double SlopeMibPerHour, double GrowthMib, double Cores);

/// <summary>Looks at the memory and the processor of the server at even times.</summary>
internal sealed class ServerWatch : IAsyncDisposable
{
    private readonly Process _process;
    private readonly CancellationTokenSource _stop = new();
    private readonly List<Look> _looks = [];
    private readonly long _start = Stopwatch.GetTimestamp();
    private readonly Task _watching;

    /// <summary>Begins.</summary>
    /// <param name="pid">Number of the process.</param>
    /// <param name="every">Time between two looks.</param>
    public ServerWatch(int pid, TimeSpan every)
    {
        _process = Process.GetProcessById(pid);
        Glance();
        _watching = WatchAsync(every);
    }

    /// <summary>The looks so far.</summary>
    public IReadOnlyList<Look> Looks
    {
        get
        {
            lock (_looks)
            {
                return [.. _looks];
            }
        }
    }

    /// <summary>Looks once more and says what all looks come to.</summary>
    public ServerUse Use()
    {
        Glance();
        IReadOnlyList<Look> looks = Looks;
        Look first = looks[0];
        Look last = looks[^1];
        double settled = last.Second / 3;
        double slope = Slope([.. looks.Where(look => look.Second >= settled)]);
        return new ServerUse(
            first.ResidentMib, looks[looks.Count / 2].ResidentMib, last.ResidentMib, looks.Max(look => look.ResidentMib),
            slope * 3600, slope * (last.Second - settled),
            (last.ProcessorSeconds - first.ProcessorSeconds) / Math.Max(0.001, last.Second - first.Second));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _watching;
        _stop.Dispose();
        _process.Dispose();
    }

    private static double Slope(Look[] looks)
    {
        if (looks.Length < 2)
        {
            return 0;
        }

        double meanSecond = looks.Average(look => look.Second);
        double meanMib = looks.Average(look => look.ResidentMib);
        double spread = looks.Sum(look => (look.Second - meanSecond) * (look.Second - meanSecond));
        return spread > 0 ? looks.Sum(look => (look.Second - meanSecond) * (look.ResidentMib - meanMib)) / spread : 0;
    }

    private async Task WatchAsync(TimeSpan every)
    {
        using var timer = new PeriodicTimer(every);
        try
        {
            while (await timer.WaitForNextTickAsync(_stop.Token))
            {
                Glance();
            }
        }
        catch (OperationCanceledException)
        {
            // That is how it ends.
        }
    }

    private void Glance()
    {
        _process.Refresh();
        if (_process.HasExited)
        {
            return;
        }

        var look = new Look(
            Stopwatch.GetElapsedTime(_start).TotalSeconds, _process.WorkingSet64 / 1048576.0, _process.TotalProcessorTime.TotalSeconds);
        lock (_looks)
        {
            _looks.Add(look);
        }
    }
}
