using MathNet.Numerics.LinearAlgebra;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>One group's failures, seen and expected if all groups lived alike.</summary>
/// <param name="Name">Name of the group.</param>
/// <param name="Lives">Lives in it.</param>
/// <param name="Observed">Failures seen.</param>
/// <param name="Expected">Failures expected from the group's share of the parts at risk at each failure age.</param>
/// <param name="Variance">Variance of observed less expected if all groups lived alike.</param>
public sealed record LogRankGroup(string Name, int Lives, int Observed, double Expected, double Variance);

/// <summary>Comparison of the survival curves of several groups.</summary>
/// <param name="Account">Method, convention, clock, counts over all groups and doubts.</param>
/// <param name="Groups">The groups, in the order given.</param>
/// <param name="ChiSquare">Test statistic; null when there is nothing to compare.</param>
/// <param name="DegreesOfFreedom">Its degrees of freedom; 0 when there is nothing to compare.</param>
/// <param name="PValue">Chance of at least this statistic if all groups lived alike; null when there is nothing to compare.</param>
public sealed record LogRankResult(
    ResultAccount Account, IReadOnlyList<LogRankGroup> Groups, double? ChiSquare, int DegreesOfFreedom, double? PValue);

/// <summary>
/// Log-rank test for two or more groups with delayed entry: (O - E)' V^-1 (O - E) over the groups less one, V the sum of hypergeometric
/// variances with the tie factor (n - d)/(n - 1), no continuity correction. Sources: Mantel (1966), Cancer Chemotherapy Reports 50,
/// 163-170; Peto and Peto (1972), JRSS A 135, 185-207; Kalbfleisch and Prentice (2002), 1.5. Assumes nothing about the curve's form;
/// weak where curves cross. Failures between two looks are placed where found. Groups in which no failure was possible are left out.
/// </summary>
public static class LogRank
{
    private const double FewExpected = 5;

    /// <summary>Compares the groups.</summary>
    /// <param name="groups">Two or more groups with names of their own, on one clock.</param>
    /// <exception cref="ArgumentException">Fewer than two groups, a name twice, or different clocks.</exception>
    public static LogRankResult Compare(IReadOnlyList<LifeGroup> groups)
    {
        LifeGroup.Check(groups);
        var all = new RiskSet(LifeGroup.Together(groups));
        RiskSet[] each = [.. groups.Select(g => new RiskSet(g.Lives))];
        (double[] expected, Matrix<double> variance) = Gather(all, each);
        LogRankGroup[] rows =
            [.. groups.Select((g, i) => new LogRankGroup(g.Name, g.Lives.Count, g.Lives.Failures, expected[i], variance[i, i]))];
        int[] compared = [.. Enumerable.Range(0, rows.Length).Where(i => expected[i] > 0)];
        double? statistic = compared.Length < 2 ? null : Statistic(rows, variance, compared[1..]);
        int degrees = statistic is null ? 0 : compared.Length - 1;
        double? pValue = statistic is { } s ? ChiSquare.UpperTail(s, degrees) : null;
        return new LogRankResult(Account(groups, rows, statistic is null), rows, statistic, degrees, pValue);
    }

    private static (double[] Expected, Matrix<double> Variance) Gather(RiskSet all, RiskSet[] each)
    {
        double[] expected = new double[each.Length];
        double[] share = new double[each.Length];
        Matrix<double> variance = Matrix<double>.Build.Dense(each.Length, each.Length);
        foreach ((double age, int failures) in all.FailureSteps())
        {
            double n = all.AtRisk(age);
            double factor = n > 1 ? failures * (n - failures) / (n - 1) : 0;
            for (int i = 0; i < each.Length; i++)
            {
                share[i] = each[i].AtRisk(age) / n;
                expected[i] += failures * share[i];
            }

            for (int i = 0; i < each.Length; i++)
            {
                for (int j = 0; j < each.Length; j++)
                {
                    variance[i, j] += factor * share[i] * ((i == j ? 1 : 0) - share[j]);
                }
            }
        }

        return (expected, variance);
    }

    /// <summary>Null when the variance has no inverse: the groups were then never at risk together.</summary>
    private static double? Statistic(LogRankGroup[] rows, Matrix<double> variance, int[] kept)
    {
        Matrix<double> v = Matrix<double>.Build.Dense(kept.Length, kept.Length, (i, j) => variance[kept[i], kept[j]]);
        Vector<double> difference = Vector<double>.Build.Dense(kept.Length, i => rows[kept[i]].Observed - rows[kept[i]].Expected);
        if (v.Rank() < kept.Length)
        {
            return null;
        }

        double statistic = difference.DotProduct(v.Solve(difference));
        return double.IsFinite(statistic) && statistic >= 0 ? statistic : null;
    }

    private static ResultAccount Account(IReadOnlyList<LifeGroup> groups, LogRankGroup[] rows, bool nothing)
    {
        var doubts = new List<string>();
        if (nothing)
        {
            doubts.Add("The groups cannot be compared: no failure happened while parts of two groups were at risk together.");
        }
        else if (rows.Any(r => r.Expected < FewExpected))
        {
            doubts.Add("A group has fewer than 5 expected failures: the p-value is rough.");
        }

        if (groups.Any(g => g.Lives.FailedBetweenLooks > 0))
        {
            doubts.Add("Failures between two looks are placed where they were found.");
        }

        return ResultAccount.For(
            LifeGroup.Together(groups), "log-rank test",
            "hypergeometric variance with tie factor, no continuity correction", true, doubts);
    }
}
