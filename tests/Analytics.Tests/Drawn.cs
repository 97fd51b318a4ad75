using CsCheck;
using Xunit.Sdk;

namespace Washwear.Analytics.Tests;

/// <summary>Samples drawn from a generator with a fixed seed: every run sees the same ones, and a failure names its own.</summary>
internal static class Drawn
{
    private const ulong Seed = 20261125;

    /// <summary>Runs a check on each of so many samples, several at once.</summary>
    /// <param name="generator">What to draw.</param>
    /// <param name="count">How many.</param>
    /// <param name="check">Throws where the sample breaks a rule.</param>
    public static void Each<T>(Gen<T> generator, int count, Action<T> check) => Parallel.For(0, count, index =>
    {
        // One stream a sample, so that the number of samples or threads changes none of them.
        T sample = generator.Generate(new PCG((uint)index + 1, Seed), null, out _);
        try
        {
            check(sample);
        }
        catch (XunitException failed)
        {
            throw new XunitException($"Sample {index}: {Print(sample)}\n{failed.Message}");
        }
    });

    private static string Print<T>(T sample) => sample is System.Collections.IEnumerable rows
        ? string.Join("; ", rows.Cast<object>())
        : sample is System.Runtime.CompilerServices.ITuple tuple
            ? string.Join(" | ", Enumerable.Range(0, tuple.Length).Select(i => Print(tuple[i])))
            : $"{sample}";
}
