namespace Washwear.Analytics.Planning;

/// <summary>A small seeded generator, the same on every machine: SplitMix64 (Steele, Lea and Flood 2014, OOPSLA, 453).</summary>
internal struct SplitMix(ulong seed)
{
    private ulong _state = seed;

    /// <summary>A generator of its own for each number of a seed.</summary>
    public static SplitMix Stream(ulong seed, ulong number)
    {
        var first = new SplitMix(seed ^ Mix(number));
        return new SplitMix(first.Next());
    }

    /// <summary>An exponential number of mean 1, above 0.</summary>
    public double Exponential() => -Math.Log(((Next() >> 11) + 0.5) * (1.0 / (1UL << 53)));

    private static ulong Mix(ulong z)
    {
        z = unchecked((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9);
        z = unchecked((z ^ (z >> 27)) * 0x94D049BB133111EB);
        return z ^ (z >> 31);
    }

    private ulong Next() => Mix(_state = unchecked(_state + 0x9E3779B97F4A7C15));
}
