using System.Numerics;

namespace Washwear.Analytics.Planning;

/// <summary>A part that works now.</summary>
/// <param name="Age">Its age, 0 or more, in the unit of the life.</param>
/// <param name="Window">Further age it will reach in the time planned for, 0 or more, in the same unit.</param>
public readonly record struct AgeAndWindow(double Age, double Window);

/// <summary>
/// How many of the parts now at work will fail in the time planned for. Each part counts once: the part put in its place is taken to last
/// that long, so use it for times short against the life. Exact for parts that fail independently of each other (Poisson-binomial:
/// adding one part after the other, Barlow and Heidtmann 1984, IEEE Trans. Reliability 33, 322). Chances below 1e-20 at either end of the sum
/// are dropped as it grows; with rounding, each chance is good to 1e-12 for 20,000 parts.
/// </summary>
public static class DemandDistribution
{
    private const double Negligible = 1e-20;

    /// <summary>Number of successes in independent trials of unlike chances.</summary>
    /// <param name="probabilities">Chances, 0 to 1 each; none gives a demand of 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A chance is out of range.</exception>
    public static Demand PoissonBinomial(IReadOnlyList<double> probabilities)
    {
        ArgumentNullException.ThrowIfNull(probabilities);
        double[] sum = new double[probabilities.Count + 2], next = new double[probabilities.Count + 2];
        sum[1] = 1;
        int first = 1, last = 1;
        double mean = 0, variance = 0;
        foreach (double chance in probabilities)
        {
            RequireChance(chance);
            (mean, variance) = (mean + chance, variance + (chance * (1 - chance)));
            Add(sum, next, first, ++last, chance);
            (sum, next) = (next, sum);
            (first, last) = Trimmed(sum, first, last);
        }

        // What was dropped below may still stand in the other buffer.
        Array.Clear(sum, 0, first);

        // 1 - chance is rounded alike in all parts of one age, which adds up: 6e-13 over 20,000 parts.
        double total = sum[..(last + 1)].Sum();
        return new Demand([.. sum[1..(last + 1)].Select(p => p / total)], mean, variance);
    }

    /// <summary>Demand of parts whose life is taken as known.</summary>
    /// <param name="life">Their life.</param>
    /// <param name="parts">The parts.</param>
    /// <exception cref="ArgumentOutOfRangeException">An age or a window is out of range.</exception>
    public static Demand Known(WeibullLife life, IReadOnlyList<AgeAndWindow> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        return PoissonBinomial([.. parts.Select(p => life.ChanceWithin(p.Age, p.Window))]);
    }

    /// <summary>
    /// Demand of parts whose life was estimated: the demand at known parameters, averaged over logarithms of shape and scale that are
    /// normal around the estimate (Lawless and Fredette 2005, Biometrika 92, 529, for the aim; the normal mixture stands in for their
    /// sampled distribution). Wider than <see cref="Known"/> at the estimate, as one doubt about the life moves all parts together.
    /// Takes some seconds for 20,000 parts.
    /// </summary>
    /// <param name="life">Estimate and its uncertainty.</param>
    /// <param name="parts">The parts.</param>
    /// <exception cref="ArgumentOutOfRangeException">An age or a window is out of range.</exception>
    public static Demand Estimated(LifeUncertainty life, IReadOnlyList<AgeAndWindow> parts)
    {
        ArgumentNullException.ThrowIfNull(life);
        ArgumentNullException.ThrowIfNull(parts);
        return Mixture([.. ParameterNodes.Of(life).Select(n => (n.Weight, Known(n.Life, parts)))]);
    }

    /// <summary>Sum of independent demands, such as those of several kinds of oven for one part.</summary>
    /// <param name="independent">The demands; none gives a demand of 0.</param>
    public static Demand Sum(IReadOnlyList<Demand> independent)
    {
        ArgumentNullException.ThrowIfNull(independent);
        double[] sum = [1];
        foreach (Demand demand in independent.OrderBy(d => d.Probabilities.Count))
        {
            sum = Convolved(sum, demand.Probabilities);
        }

        return new Demand(sum, independent.Sum(d => d.Mean), independent.Sum(d => d.Variance));
    }

    /// <summary>Average of demands, of which one is true with the chance that its weight says.</summary>
    internal static Demand Mixture(IReadOnlyList<(double Weight, Demand Demand)> demands)
    {
        double[] sum = new double[demands.Max(d => d.Demand.Probabilities.Count)];
        double total = demands.Sum(d => d.Weight), mean = demands.Sum(d => d.Weight * d.Demand.Mean) / total, variance = 0;
        foreach ((double weight, Demand demand) in demands)
        {
            variance += weight / total * (demand.Variance + Math.Pow(demand.Mean - mean, 2));
            for (int i = 0; i < demand.Probabilities.Count; i++)
            {
                sum[i] += weight / total * demand.Probabilities[i];
            }
        }

        (_, int last) = Trimmed(sum, 0, sum.Length - 1);
        return new Demand(sum[..(last + 1)], mean, variance);
    }

    /// <summary>
    /// The sum with one more part, several numbers at once: into[i] = from[i] (1 - chance) + from[i - 1] chance. Element i is for i - 1
    /// failures, so that there is one before the first.
    /// </summary>
    private static void Add(double[] from, double[] into, int first, int last, double chance)
    {
        (from[first - 1], from[last], into[first - 1]) = (0, 0, 0);
        double none = 1 - chance;
        int i = first;
        for (; i + Vector<double>.Count <= last + 1; i += Vector<double>.Count)
        {
            ((new Vector<double>(from, i) * none) + (new Vector<double>(from, i - 1) * chance)).CopyTo(into, i);
        }

        for (; i <= last; i++)
        {
            into[i] = (from[i] * none) + (from[i - 1] * chance);
        }
    }

    private static double[] Convolved(double[] a, IReadOnlyList<double> b)
    {
        double[] sum = new double[a.Length + b.Count - 1];
        for (int i = 0; i < a.Length; i++)
        {
            for (int j = 0; j < b.Count && a[i] > 0; j++)
            {
                sum[i + j] += a[i] * b[j];
            }
        }

        (_, int last) = Trimmed(sum, 0, sum.Length - 1);
        return sum[..(last + 1)];
    }

    private static (int First, int Last) Trimmed(double[] sum, int first, int last)
    {
        while (first < last && sum[first] < Negligible)
        {
            sum[first++] = 0;
        }

        while (last > first && sum[last] < Negligible)
        {
            sum[last--] = 0;
        }

        return (first, last);
    }

    private static void RequireChance(double chance)
    {
        if (chance is not (>= 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(chance), chance, "A chance lies from 0 to 1.");
        }
    }
}
