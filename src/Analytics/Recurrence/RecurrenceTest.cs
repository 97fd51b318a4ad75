using MathNet.Numerics.LinearAlgebra;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>Units that belong together, to be compared with others.</summary>
/// <param name="Name">Name of the group, of its own.</param>
/// <param name="Histories">Its units, on the clock of all groups.</param>
public sealed record HistoryGroup(string Name, IReadOnlyList<EventHistory> Histories);

/// <summary>One group's events, seen and expected if all groups recurred alike.</summary>
/// <param name="Name">Name of the group.</param>
/// <param name="Units">Units in it.</param>
/// <param name="Observed">Events seen.</param>
/// <param name="Expected">Events expected from the group's share of the units at risk at each event age.</param>
/// <param name="SeDifference">Robust standard error of observed less expected.</param>
public sealed record RecurrenceTestGroup(string Name, int Units, int Observed, double Expected, double SeDifference);

/// <summary>Comparison of how often events recur in several groups.</summary>
/// <param name="Groups">The groups, in the order given.</param>
/// <param name="ChiSquare">Test statistic; null when there is nothing to compare.</param>
/// <param name="DegreesOfFreedom">Groups compared less 1; 0 when there is nothing to compare.</param>
/// <param name="PValue">Chance of at least this statistic if all groups recurred alike; null when there is nothing to compare.</param>
/// <param name="FewUnits">
/// Whether a group compared has fewer than <see cref="RecurrenceTest.FewestUnits"/> units, so that the p-value is rough.
/// </param>
public sealed record RecurrenceTestResult(
    IReadOnlyList<RecurrenceTestGroup> Groups, double? ChiSquare, int DegreesOfFreedom, double? PValue, bool FewUnits);

/// <summary>
/// Pseudo-score test of equal mean cumulative functions in two or more groups: U' V^-1 U over the groups less one, U a group's events less
/// those expected from its share of the units at risk, V the sum over units of squared contributions to U, so that events of one unit may
/// depend on each other and units may differ. Source: Cook, Lawless and Nadeau (1996), Biometrics 52, 557-571; Lawless and Nadeau (1995),
/// Technometrics 37, 158-168. V is taken under equality, which makes the test the robust score test of a proportional model. With one
/// event a unit, after which it leaves, U is that of the log-rank test. Groups in which no event was possible are left out.
/// </summary>
public static class RecurrenceTest
{
    /// <summary>With fewer units in a group the variance between them is known too badly for a close p-value; common practice.</summary>
    public const int FewestUnits = 10;

    /// <summary>Compares the groups.</summary>
    /// <param name="groups">Two or more groups with names of their own.</param>
    /// <exception cref="ArgumentException">Fewer than two groups, or a name twice.</exception>
    public static RecurrenceTestResult Compare(IReadOnlyList<HistoryGroup> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2 || groups.Select(g => g.Name).Distinct(StringComparer.Ordinal).Count() < groups.Count)
        {
            throw new ArgumentException("Two or more groups with names of their own are needed.", nameof(groups));
        }

        GroupScores scores = GroupScores.Of(groups);
        RecurrenceTestGroup[] rows =
        [
            .. groups.Select((g, i) => new RecurrenceTestGroup(
                g.Name, g.Histories.Count, g.Histories.Sum(h => h.Ages.Count), scores.Expected[i], Math.Sqrt(scores.Variance[i, i]))),
        ];
        int[] compared = [.. Enumerable.Range(0, rows.Length).Where(i => scores.Expected[i] > 0)];
        double? statistic = compared.Length < 2 ? null : Statistic(rows, scores.Variance, compared[1..]);
        int degrees = statistic is null ? 0 : compared.Length - 1;
        return new RecurrenceTestResult(
            rows, statistic, degrees, statistic is { } s ? ChiSquare.UpperTail(s, degrees) : null,
            statistic is not null && compared.Any(i => rows[i].Units < FewestUnits));
    }

    /// <summary>Null when the variance has no inverse: too few units had a part in the comparison.</summary>
    private static double? Statistic(RecurrenceTestGroup[] rows, Matrix<double> variance, int[] kept)
    {
        if (kept.Any(i => variance[i, i] <= 0))
        {
            return null;
        }

        // On the scale of each group's own spread, so that a small group is not taken for rounding.
        double Own(int i) => Math.Sqrt(variance[kept[i], kept[i]]);
        Matrix<double> v = Matrix<double>.Build.Dense(kept.Length, kept.Length, (i, j) => variance[kept[i], kept[j]] / Own(i) / Own(j));
        Vector<double> u = Vector<double>.Build.Dense(kept.Length, i => (rows[kept[i]].Observed - rows[kept[i]].Expected) / Own(i));
        if (v.Svd().S.Minimum() < 1e-9)
        {
            return null;
        }

        double statistic = u.DotProduct(v.Solve(u));
        return double.IsFinite(statistic) && statistic >= 0 ? statistic : null;
    }
}
