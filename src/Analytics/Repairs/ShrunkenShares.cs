using MathNet.Numerics;
using MathNet.Numerics.RootFinding;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Repairs;

/// <summary>
/// Shares of several groups, each drawn towards their common mean by as much as its count says little: counts are binomial, the groups'
/// true
/// shares beta with the pooled share m as mean and M as weight. M is not fitted but averaged over its posterior, with s = M^(-1/2) uniform
/// on
/// (0, 1], so that bounds allow for not knowing how much the groups differ. Sources: beta-binomial model and the prior of M, Gelman and
/// others
/// (2013), Bayesian Data Analysis, 3rd edition, ch. 5.3; drawing towards the mean, Efron and Morris (1975) J. American Statistical
/// Association
/// 70, 311. The pooled share is taken for known: with few groups bounds are somewhat too narrow.
/// </summary>
public static class ShrunkenShares
{
    /// <summary>Name of the bounds.</summary>
    public const string Method = "beta-binomial, drawn towards the mean";

    private const int Steps = 400;

    /// <summary>The drawn share of each group, in the order given; null for all where no share can be told (no cases, or all alike 0 or
    /// 1).</summary>
    /// <param name="groups">For each group the cases with the property and all its cases, each 0 or more.</param>
    /// <param name="level">Level of the bounds, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A count lies outside its range.</exception>
    public static IReadOnlyList<Estimate?> Of(IReadOnlyList<(int Count, int Cases)> groups, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(groups);
        foreach ((int count, int cases) in groups)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(count);
            ArgumentOutOfRangeException.ThrowIfLessThan(cases, count);
        }

        long with = groups.Sum(group => (long)group.Count);
        long all = groups.Sum(group => (long)group.Cases);
        if (with == 0 || with == all)
        {
            return [.. groups.Select(_ => (Estimate?)null)];
        }

        double mean = (double)with / all;
        (double Weight, double Chance)[] weights = Posterior(groups, mean);
        return [.. groups.Select(group => (Estimate?)Drawn(group, mean, weights, level))];
    }

    /// <summary>The chance of each M of a grid, given the counts.</summary>
    private static (double Weight, double Chance)[] Posterior(IReadOnlyList<(int Count, int Cases)> groups, double mean)
    {
        double[] weights = [.. Enumerable.Range(0, Steps).Select(i => Math.Pow((i + 0.5) / Steps, -2))];
        double[] logs = [.. weights.Select(m => groups.Sum(group =>
            SpecialFunctions.BetaLn((mean * m) + group.Count, ((1 - mean) * m) + group.Cases - group.Count)
            - SpecialFunctions.BetaLn(mean * m, (1 - mean) * m)))];
        double most = logs.Max();
        double[] relative = [.. logs.Select(log => Math.Exp(log - most))];
        double sum = relative.Sum();
        return [.. weights.Zip(relative, (m, chance) => (m, chance / sum))];
    }

    private static Estimate Drawn((int Count, int Cases) group, double mean, (double Weight, double Chance)[] weights, double level)
    {
        double value = weights.Sum(one => one.Chance * ((mean * one.Weight) + group.Count) / (one.Weight + group.Cases));
        double Below(double share) => weights.Sum(one => one.Chance * SpecialFunctions.BetaRegularized(
            (mean * one.Weight) + group.Count, ((1 - mean) * one.Weight) + group.Cases - group.Count, share));
        double Quantile(double chance) => Brent.FindRoot(share => Below(share) - chance, 1e-12, 1 - 1e-12, 1e-9, 200);
        return new Estimate(value, Quantile((1 - level) / 2), Quantile((1 + level) / 2), level, Method);
    }
}
