using MathNet.Numerics.Distributions;

namespace Washwear.Api.Demo;

/// <summary>Seeded random streams, one for each thing that lives on its own, and the draws that the simulation makes from them.</summary>
internal static class Chance
{
    internal enum Stream
    {
        Site = 1,
        Plan = 2,
        Life = 3,
        Delivery = 4,
        Findings = 5,
    }

    /// <summary>The stream of one thing: neither the number of other things nor what they draw changes it.</summary>
    internal static Random For(int seed, Stream stream, int index)
    {
        ulong mixed = Mix(Mix(Mix(unchecked((ulong)seed)) ^ (ulong)stream) ^ (ulong)index);
        return new Random((int)(mixed >> 33));
    }

    internal static bool Happens(this Random random, double probability) => random.NextDouble() < probability;

    internal static double Between(this Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    /// <summary>A log-normal draw by its median and the standard deviation of its logarithm.</summary>
    internal static double About(this Random random, double median, double spread) => LogNormal.Sample(random, Math.Log(median), spread);

    internal static T OneOf<T>(this Random random, IReadOnlyList<T> items) => items[random.Next(items.Count)];

    internal static T OneOf<T>(this Random random, IReadOnlyList<T> items, Func<T, double> weight)
    {
        double left = random.NextDouble() * items.Sum(weight);
        foreach (T item in items)
        {
            left -= weight(item);
            if (left < 0)
            {
                return item;
            }
        }

        return items[^1];
    }

    /// <summary>A Weibull life, given that the part has reached an age: the inverse of the conditional survival.</summary>
    internal static double Life(this Random random, double shape, double scale, double reachedAge)
    {
        double exponential = -Math.Log(1 - random.NextDouble());
        return scale * Math.Pow(Math.Pow(reachedAge / scale, shape) + exponential, 1 / shape);
    }

    // The finaliser of SplitMix64: neighbouring seeds and indices give unrelated streams.
    private static ulong Mix(ulong value)
    {
        unchecked
        {
            value += 0x9E3779B97F4A7C15;
            value = (value ^ (value >> 30)) * 0xBF58476D1CE4E5B9;
            value = (value ^ (value >> 27)) * 0x94D049BB133111EB;
            return value ^ (value >> 31);
        }
    }
}
