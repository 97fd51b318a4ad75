using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;
using Washwear.Analytics.Rates;

namespace Washwear.Analytics.PartLife;

/// <summary>One group and its own curve.</summary>
/// <param name="Name">Name of the group.</param>
/// <param name="Fit">Its own curve, or why there is none.</param>
/// <param name="ScaleAtCommonShape">Its scale when all groups share one shape; null where nothing failed or no shape is shared.</param>
public sealed record GroupFit(string Name, LifeResult Fit, double? ScaleAtCommonShape);

/// <summary>A likelihood-ratio test of a simpler model against a richer one that contains it.</summary>
/// <param name="Statistic">Twice the difference of the maximised log-likelihoods.</param>
/// <param name="DegreesOfFreedom">Parameters saved by the simpler model.</param>
/// <param name="PValue">Chance of at least this statistic if the simpler model is true (chi-square, rough with few failures).</param>
public sealed record LikelihoodRatioTest(double Statistic, int DegreesOfFreedom, double PValue);

/// <summary>One group's life against the reference group's, both with one shape.</summary>
/// <param name="Name">Name of the group.</param>
/// <param name="Reference">Name of the reference group.</param>
/// <param name="ScaleRatio">
/// Scale of the group over that of the reference, with profile bounds: below 1 it lives shorter. Null where one of them has no failure,
/// or where the two differ by more than a million million times.
/// </param>
/// <param name="PValue">Likelihood-ratio p-value of equal scales; null where it cannot be computed.</param>
/// <param name="AdjustedPValue">The same, adjusted over all comparisons made here (Benjamini-Hochberg).</param>
public sealed record ScaleComparison(string Name, string Reference, Estimate? ScaleRatio, double? PValue, double? AdjustedPValue);

/// <summary>Comparison of the life curves of several groups.</summary>
/// <param name="Account">Method, convention, clock, counts over all groups and doubts.</param>
/// <param name="Groups">The groups in the order given.</param>
/// <param name="CommonShape">Shape that all groups share under the common-shape model; null when it does not exist.</param>
/// <param name="CommonShapeLogLikelihood">Log-likelihood of that model; null as above.</param>
/// <param name="Pooled">One curve for all groups together.</param>
/// <param name="EqualShape">Test of one shape against a shape for each group; null when a group's own shape cannot be fitted.</param>
/// <param name="EqualScale">Test of one scale given a common shape; null when either model has no maximum.</param>
/// <param name="EqualShapeAndScale">Test of one curve against a curve for each group; null as for <paramref name="EqualShape"/>.</param>
/// <param name="Comparisons">Each other group against the reference group.</param>
public sealed record GroupComparisonResult(
    ResultAccount Account,
    IReadOnlyList<GroupFit> Groups,
    double? CommonShape,
    double? CommonShapeLogLikelihood,
    LifeResult Pooled,
    LikelihoodRatioTest? EqualShape,
    LikelihoodRatioTest? EqualScale,
    LikelihoodRatioTest? EqualShapeAndScale,
    IReadOnlyList<ScaleComparison> Comparisons);

/// <summary>
/// Groups compared by nested Weibull models and likelihood ratios: a curve each, one shape and a scale each, one curve. Sources: Lawless
/// (2003), 5.4; Meeker and Escobar (1998), ch. 17; Nelson (1982), Applied Life Data Analysis, ch. 12. The ratio of scales supposes that
/// the two groups share a shape; see the test of equal shapes. A group without failures takes part with what its running time says.
/// </summary>
public static class GroupComparison
{
    private const double OpenBeyond = 1e6;
    private const double FarBeyond = 1e3;

    // As with a scale a million million times outside the ages seen: arithmetic, not knowledge.
    private const double FurthestRatio = 1e12;
    private const int FewFailures = 5;

    /// <summary>Compares the groups.</summary>
    /// <param name="groups">Two or more groups with names of their own, on one clock.</param>
    /// <param name="reference">Name of the group that others are compared with; the one with most failures when null.</param>
    /// <param name="level">Confidence level of the ratio's bounds, above 0 and below 1.</param>
    /// <exception cref="ArgumentException">Fewer than two groups, a name twice, different clocks, or no such reference.</exception>
    public static GroupComparisonResult Compare(IReadOnlyList<LifeGroup> groups, string? reference = null, double level = 0.95)
    {
        LifeGroup.Check(groups);
        FixedShapeFit.CheckConfidence(level);
        LifeGroup against = Reference(groups, reference);
        LifeResult[] fits = [.. groups.Select(g => WeibullFit.Fit(g.Lives))];
        Lives union = LifeGroup.Together(groups);
        LifeResult pooled = WeibullFit.Fit(union);
        double start = pooled is FittedLife p ? p.Curve.Shape : 1;
        var likelihoods = groups.ToDictionary(g => g.Name, g => new WeibullLikelihood(g.Lives), StringComparer.Ordinal);
        SharedShapeMaximum? common = union.Failures == 0
            ? null
            : SharedShape.Maximise([.. groups.Select(g => new ScaleBlock([(likelihoods[g.Name], 0)]))], start);
        double? separate = fits.All(f => f is FittedLife) ? fits.Sum(f => ((FittedLife)f).LogLikelihood) : null;
        double? together = (pooled as FittedLife)?.LogLikelihood;
        int others = groups.Count - 1;
        return new GroupComparisonResult(
            Account(groups, union, common, separate),
            [.. groups.Select((g, i) => new GroupFit(g.Name, fits[i], common?.LogScales[i] is { } s ? Math.Exp(s) : null))],
            common?.Shape,
            common?.LogLikelihood,
            pooled,
            Test(separate, common?.LogLikelihood, others),
            Test(common?.LogLikelihood, together, others),
            Test(separate, together, 2 * others),
            Adjusted([.. groups.Where(g => g != against).Select(g => Against(g, against, likelihoods, start, level))]));
    }

    private static LifeGroup Reference(IReadOnlyList<LifeGroup> groups, string? name) => name is null
        ? groups.MaxBy(g => g.Lives.Failures)!
        : groups.FirstOrDefault(g => g.Name == name) ?? throw new ArgumentException($"No group is named '{name}'.", nameof(name));

    private static LikelihoodRatioTest? Test(double? richer, double? simpler, int degrees)
    {
        if (richer is not { } r || simpler is not { } s)
        {
            return null;
        }

        double statistic = Math.Max(0, 2 * (r - s));
        return new LikelihoodRatioTest(statistic, degrees, ChiSquare.UpperTail(statistic, degrees));
    }

    private static ScaleComparison Against(
        LifeGroup group, LifeGroup reference, Dictionary<string, WeibullLikelihood> likelihoods, double start, double level)
    {
        (WeibullLikelihood own, WeibullLikelihood other) = (likelihoods[group.Name], likelihoods[reference.Name]);
        SharedShapeMaximum? apart = group.Lives.Failures + reference.Lives.Failures == 0
            ? null
            : SharedShape.Maximise([new ScaleBlock([(own, 0)]), new ScaleBlock([(other, 0)])], start);
        if (apart is null)
        {
            return new ScaleComparison(group.Name, reference.Name, null, null, null);
        }

        double? Equal(double logRatio) => SharedShape.Maximise([new ScaleBlock([(own, logRatio), (other, 0)])], apart.Shape)?.LogLikelihood;
        double? pValue = Test(apart.LogLikelihood, Equal(0), 1)?.PValue;
        Estimate? ratio = apart.LogScales[0] is { } scale && apart.LogScales[1] is { } otherScale
            && Math.Abs(scale - otherScale) < Math.Log(FurthestRatio)
            ? Ratio(group, reference, apart, Equal, scale - otherScale, level)
            : null;
        return new ScaleComparison(group.Name, reference.Name, ratio, pValue, null);
    }

    private static Estimate Ratio(
        LifeGroup group, LifeGroup reference, SharedShapeMaximum apart, Func<double, double?> profile, double logRatio, double level)
    {
        double fall = ChiSquared.InvCDF(1, level) / 2;
        double error = Math.Sqrt((1.0 / group.Lives.Failures) + (1.0 / reference.Lives.Failures)) / apart.Shape;
        double? Side(int sign)
        {
            double Beyond(double distance) =>
                profile(logRatio + (sign * distance)) is { } there ? apart.LogLikelihood - fall - there : FarBeyond;

            double inside = 0, outside = 2 * error;
            while (Beyond(outside) < 0)
            {
                (inside, outside) = (outside, 2 * outside);
                if (inside > Math.Log(OpenBeyond))
                {
                    return null;
                }
            }

            return MathNet.Numerics.RootFinding.Brent.TryFindRoot(Beyond, inside, outside, 1e-9, 100, out double root)
                ? Math.Exp(logRatio + (sign * root))
                : null;
        }

        return new Estimate(Math.Exp(logRatio), Side(-1), Side(1), level, "profile likelihood");
    }

    private static ScaleComparison[] Adjusted(ScaleComparison[] made)
    {
        IReadOnlyList<double?> adjusted = FalseDiscovery.Adjust([.. made.Select(c => c.PValue)]);
        return [.. made.Select((c, i) => c with { AdjustedPValue = adjusted[i] })];
    }

    private static ResultAccount Account(IReadOnlyList<LifeGroup> groups, Lives union, SharedShapeMaximum? common, double? separate)
    {
        var doubts = new List<string>();
        if (common is null)
        {
            doubts.Add("No shape can be shared: there are too few failures, or no part outlived a failure in its group.");
        }

        if (separate is null)
        {
            doubts.Add("A group has too few failures for a shape of its own, so equal shapes are supposed, not tested.");
        }

        doubts.AddRange(groups.Where(g => g.Lives.Failures < FewFailures).Select(g => ResultAccount.Text(
            $"'{g.Name}' has too few failures ({g.Lives.Failures}): the p-values are rough.")));
        return ResultAccount.For(
            union, "Weibull models compared by likelihood ratio",
            WeibullFit.Convention + "; chi-square reference; profile bounds of the ratio", common is not null, doubts);
    }
}
