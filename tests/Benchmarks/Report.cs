using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace Washwear.Benchmarks;

/// <summary>Takes times and prints measurements with their limits.</summary>
internal static class Report
{
    /// <summary>Says what the figures were measured on.</summary>
    public static void Machine() =>
        Line($"{RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription.Trim()}, {Environment.ProcessorCount} cores");

    /// <summary>Begins a group of measurements.</summary>
    /// <param name="name">Its name.</param>
    public static void Title(string name) => Line($"\n## {name}");

    /// <summary>Prints a line.</summary>
    /// <param name="text">The line.</param>
    public static void Line(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));

    /// <summary>Prints a figure beside the limit it is held to.</summary>
    /// <param name="what">What was measured.</param>
    /// <param name="value">The figure.</param>
    /// <param name="limit">The limit.</param>
    /// <param name="least">Whether the limit is the least that is wanted; else the most.</param>
    public static void Against(string what, double value, double limit, bool least)
    {
        bool kept = least ? value >= limit : value <= limit;
        Line($"{what}: {value:G4} (limit: at {(least ? "least" : "most")} {limit:G4}) {(kept ? "kept" : "NOT KEPT")}");
    }

    /// <summary>Median time of several runs after one that is not counted, seconds.</summary>
    /// <param name="runs">How many runs count.</param>
    /// <param name="work">The work.</param>
    public static double MedianSeconds(int runs, Action work)
    {
        work();
        return Median(Enumerable.Range(0, runs).Select(_ =>
        {
            long start = Stopwatch.GetTimestamp();
            work();
            return Stopwatch.GetElapsedTime(start).TotalSeconds;
        }));
    }

    /// <summary>Median time of several runs after one that is not counted, seconds.</summary>
    /// <param name="runs">How many runs count.</param>
    /// <param name="work">The work.</param>
    public static async Task<double> MedianSecondsAsync(int runs, Func<Task> work)
    {
        await work();
        var seconds = new List<double>();
        for (int run = 0; run < runs; run++)
        {
            long start = Stopwatch.GetTimestamp();
            await work();
            seconds.Add(Stopwatch.GetElapsedTime(start).TotalSeconds);
        }

        return Median(seconds);
    }

    private static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }
}
