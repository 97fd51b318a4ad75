using MathNet.Numerics.Distributions;
using Washwear.Analytics.Recurrence;

namespace Washwear.Analytics.Tests.Recurrence;

/// <summary>Histories drawn from known processes, with a seeded source.</summary>
internal static class SimulatedHistories
{
    /// <summary>Poisson events at a constant rate per unit of age.</summary>
    public static EventHistory Poisson(Random random, double rate, double to, double from = 0)
    {
        var ages = new List<double>();
        for (double age = from - (Math.Log(1 - random.NextDouble()) / rate); age <= to; age -= Math.Log(1 - random.NextDouble()) / rate)
        {
            ages.Add(age);
        }

        return new EventHistory(from, to, ages);
    }

    /// <summary>Poisson events at a rate of the unit's own: gamma distributed with shape 1/2 about a mean.</summary>
    public static EventHistory Mixed(Random random, double meanRate, double to, double from = 0) =>
        Poisson(random, Math.Max(1e-9, Gamma.Sample(random, 0.5, 0.5 / meanRate)), to, from);
}
