using Washwear.Analytics.PartLife;

namespace Washwear.Benchmarks.PartLife;

/// <summary>
/// Fleets drawn from a known Weibull truth. Each part is watched from its entry for a time uniform from 0 to a window; what has not failed
/// by then is censored. With late entry every other part comes under watch at an age uniform to half the scale, and only if it has survived to
/// it. The window is found so that the wanted share is censored on average.
/// </summary>
/// <param name="Parts">Parts that are seen.</param>
/// <param name="Censored">Share of them that is censored on average.</param>
/// <param name="Late">Whether every other part enters late.</param>
internal sealed record SimulatedFleet(int Parts, double Censored, bool Late)
{
    public static readonly Weibull Truth = new(1000, 2);

    private const double LatestEntry = 500;
    private const int DrawsForWindow = 200_000;

    private readonly double _window = WindowFor(Censored, Late);

    /// <summary>Draws a fleet.</summary>
    public Lives Draw(Random random)
    {
        var builder = new LivesBuilder("days", Parts);
        while (builder.Count < Parts)
        {
            (double life, double entry, double watched) = Part(random, Late && builder.Count % 2 == 0);
            double end = entry + (watched * _window);
            _ = life <= end ? builder.FailedAt(life, entry) : builder.StillRunningAt(end, entry);
        }

        return builder.Build();
    }

    /// <summary>Life and age at entry of a part that is seen, and the share of the window for which it is watched.</summary>
    private static (double Life, double Entry, double Watched) Part(Random random, bool late)
    {
        while (true)
        {
            double life = Truth.AgeWhenFailed(1 - random.NextDouble());
            double entry = late ? LatestEntry * random.NextDouble() : 0;
            if (life > entry)
            {
                return (life, entry, 1 - random.NextDouble());
            }
        }
    }

    private static double WindowFor(double censored, bool late)
    {
        var random = new Random(1);
        (double Life, double Entry, double Watched)[] parts =
            [.. Enumerable.Range(0, DrawsForWindow).Select(i => Part(random, late && i % 2 == 0))];
        double low = 0, high = 1e5;
        for (int i = 0; i < 50; i++)
        {
            double window = (low + high) / 2;
            int running = parts.Count(p => p.Life > p.Entry + (p.Watched * window));
            (low, high) = running > censored * DrawsForWindow ? (window, high) : (low, window);
        }

        return high;
    }
}
