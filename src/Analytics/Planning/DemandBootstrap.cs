using MathNet.Numerics.Random;

using Washwear.Analytics.Numerics;
using Washwear.Analytics.PartLife;

namespace Washwear.Analytics.Planning;

/// <summary>How the records that gave the estimate are imitated.</summary>
/// <param name="Lives">Number of parts watched, 2 to 100,000.</param>
/// <param name="StoppedAt">Age at which the watching of those that had not failed ended, above 0 and finite.</param>
/// <param name="Replicates">Number of imitations, 1 to 100,000.</param>
/// <param name="Seed">Start of the random numbers: the same seed gives the same answer.</param>
public sealed record BootstrapPlan(int Lives, double StoppedAt, int Replicates = 2000, int Seed = 1);

/// <summary>Demand averaged over refitted lives.</summary>
/// <param name="Demand">The demand; null where no imitation could be fitted.</param>
/// <param name="Fitted">Imitations that gave a curve.</param>
/// <param name="Dropped">Imitations that gave none, having fewer than two failures or failures that fix no shape.</param>
public sealed record BootstrapDemand(Demand? Demand, int Fitted, int Dropped);

/// <summary>
/// Demand of parts whose life was estimated, by the parametric bootstrap: lives are drawn from the estimate, fitted as the records were,
/// and the demand is averaged over the fits (Lawless and Fredette 2005, Biometrika 92, 529). A check on
/// <see cref="DemandDistribution.Estimated"/> for few failures, where ln shape and ln scale are not normal; slower, and good to about one part in the square root of the replicates.
/// </summary>
public static class DemandBootstrap
{
    private const int Most = 100_000;

    /// <summary>Averages the demand.</summary>
    /// <param name="life">The estimated life.</param>
    /// <param name="parts">The parts at work.</param>
    /// <param name="plan">How the records are imitated.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is out of its range.</exception>
    public static BootstrapDemand Estimated(WeibullLife life, IReadOnlyList<AgeAndWindow> parts, BootstrapPlan plan)
    {
        ArgumentNullException.ThrowIfNull(parts);
        Require(plan);
        var random = new MersenneTwister(plan.Seed);
        var options = new WeibullFitOptions { MinimumFailures = 2 };
        List<(double Weight, Demand Demand)> demands = [];
        for (int i = 0; i < plan.Replicates; i++)
        {
            if (WeibullFit.Fit(Drawn(life, plan, random), options) is FittedLife { Curve: { } curve })
            {
                demands.Add((1, DemandDistribution.Known(new WeibullLife(curve.Shape, curve.Scale), parts)));
            }
        }

        Demand? average = demands.Count > 0 ? DemandDistribution.Mixture(demands) : null;
        return new BootstrapDemand(average, demands.Count, plan.Replicates - demands.Count);
    }

    private static Lives Drawn(WeibullLife life, BootstrapPlan plan, MersenneTwister random)
    {
        var builder = new LivesBuilder("age");
        for (int i = 0; i < plan.Lives; i++)
        {
            // By the inverse of the share failed; a draw of exactly 0 is no age.
            double age = life.Scale * Math.Pow(-Elementary.LogOnePlus(-random.NextDouble()), 1 / life.Shape);
            _ = age < plan.StoppedAt ? builder.FailedAt(Math.Max(age, double.Epsilon * 1e16)) : builder.StillRunningAt(plan.StoppedAt);
        }

        return builder.Build();
    }

    private static void Require(BootstrapPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        bool counts = plan.Lives is >= 2 and <= Most && plan.Replicates is >= 1 and <= Most;
        bool sound = counts && double.IsFinite(plan.StoppedAt) && plan.StoppedAt > 0;
        if (!sound)
        {
            throw new ArgumentOutOfRangeException(
                nameof(plan), plan, "Lives lie from 2 to 100,000, replicates from 1 to 100,000, and the end of watching above 0.");
        }
    }
}
