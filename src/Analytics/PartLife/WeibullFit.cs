namespace Washwear.Analytics.PartLife;

/// <summary>What a fit may do.</summary>
public sealed record WeibullFitOptions
{
    /// <summary>Fewest failures from which a shape is fitted; 3 unless set, never below 2.</summary>
    public int MinimumFailures { get; init; } = 3;

    /// <summary>Shape known from elsewhere, used for a lower bound where none can be fitted; its source is named. Null for none.</summary>
    public GivenShape? ShapeIfTooFew { get; init; }

    /// <summary>Confidence of that one-sided lower bound, above 0 and below 1.</summary>
    public double BoundConfidence { get; init; } = 0.95;
}

/// <summary>
/// Two-parameter Weibull maximum likelihood for exact failures, right censoring, delayed entry and interval censoring in one likelihood.
/// <para>
/// Convention: F(t) = 1 - exp(-(t/scale)^shape); standard errors from the inverse observed (not expected) information. Source: Lawless
/// (2003), Statistical Models and Methods for Lifetime Data, 2nd ed., 2.4, 3.5, 5.2; Meeker and Escobar (1998), Statistical Methods for
/// Reliability Data, ch. 8 and 11. Does not correct the small-sample bias of the shape, and knows no threshold (three-parameter) life.
/// </para>
/// <para>
/// Existence: the likelihood grows with the shape for ever exactly when one age T agrees with every record: all exact failures at T,
/// every other part last seen working at T or before, and every interval containing T (one that opens at the part's entry need only end
/// at T or later). It may also rise towards shape 0 when nearly all lives enter late or failures are known only from one look each. Both
/// are found and said in words.
/// </para>
/// </summary>
public static class WeibullFit
{
    internal const string MethodName = "two-parameter Weibull, maximum likelihood";
    internal const string Convention =
        "F(t) = 1 - exp(-(t/scale)^shape); observed information; censoring, delayed entry and failures between looks in one likelihood";

    private const int FewFailures = 10;

    /// <summary>Fits a curve, or says why none can be fitted.</summary>
    /// <param name="lives">Lives on one clock.</param>
    /// <param name="options">Least number of failures and what to fall back on; null for the defaults.</param>
    /// <returns><see cref="FittedLife"/> or <see cref="NotEnough"/>; never throws for valid lives.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static LifeResult Fit(Lives lives, WeibullFitOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(lives);
        WeibullFitOptions asked = Checked(options ?? new WeibullFitOptions());
        if (lives.Count == 0)
        {
            return Refuse(lives, asked, NoFitRule.NothingObserved, "there are no lives to fit a curve to");
        }

        if (lives.Failures < asked.MinimumFailures)
        {
            return Refuse(lives, asked, NoFitRule.TooFewFailures, ResultAccount.Text(
                $"too few failures ({lives.Failures}) to fit a shape: at least {asked.MinimumFailures} are needed"));
        }

        return OneAgeExplainsAll(lives)
            ? Refuse(lives, asked, NoFitRule.NoPartOutlivedAFailure, ResultAccount.Text(
                $"no shape can be fitted: all {lives.Failures} failures agree with one age that no other part is known to have outlived"))
            : Maximise(lives, asked);
    }

    private static LifeResult Maximise(Lives lives, WeibullFitOptions options)
    {
        var likelihood = new WeibullLikelihood(lives);
        Maximum maximum = WeibullMaximum.Find(likelihood);
        return maximum.Outcome switch
        {
            MaximumOutcome.Found when InRange(maximum, likelihood) => Fitted(lives, likelihood, maximum),
            MaximumOutcome.Found or MaximumOutcome.RisesTowardsSharpFailure => Refuse(lives, options, NoFitRule.BeyondRange,
                "no shape can be fitted: the failures are closer together, or the curve reaches further, than the ages can tell"),
            MaximumOutcome.RisesTowardsShapeZero => Refuse(lives, options, NoFitRule.ShapeTowardsZero,
                "no shape can be fitted: the records agree ever better as the shape falls towards 0, so they do not fix one"),
            MaximumOutcome.NotConverged => Refuse(lives, options, NoFitRule.NotConverged,
                "no shape can be fitted: the search for the best curve did not settle"),
            _ => throw new InvalidOperationException($"Unknown outcome {maximum.Outcome}."),
        };
    }

    private static FittedLife Fitted(Lives lives, WeibullLikelihood likelihood, Maximum maximum)
    {
        double scale = Math.Exp((maximum.Offset / maximum.Slope) + likelihood.Centre);
        likelihood.ExpandAt(maximum.Offset, maximum.Slope);
        return new FittedLife(ResultAccount.For(lives, MethodName, Convention, true, Doubts(lives, scale)), likelihood, maximum);
    }

    private static IEnumerable<string> Doubts(Lives lives, double scale)
    {
        double oldest = lives.OldestAge;
        if (lives.Failures < FewFailures)
        {
            yield return ResultAccount.Text(
                $"Only {lives.Failures} failures: the shape is poorly known; act on its bounds, not on its value.");
        }

        if (scale > oldest)
        {
            yield return ResultAccount.Text(
                $"The scale ({scale:G4} {lives.Clock}) lies beyond the oldest part seen ({oldest:G4}): later figures are extrapolated.");
        }

        if (2 * lives.FailedBetweenLooks > lives.Failures)
        {
            yield return "Most failures are known only to lie between two looks: the shape rests on when people looked.";
        }
    }

    private static NotEnough Refuse(Lives lives, WeibullFitOptions options, NoFitRule rule, string message)
    {
        FixedShapeLife? bound = options.ShapeIfTooFew is { } shape
            ? FixedShapeFit.Fit(lives, shape, options.BoundConfidence) as FixedShapeLife
            : null;
        string said = bound is null ? message : $"{message}; {bound.Sentence}";
        ResultAccount account = ResultAccount.For(lives, MethodName, Convention, false, [said]);
        return new NotEnough(account, rule, said, bound);
    }

    /// <summary>True when one age T suits every record, which is when the likelihood grows with the shape without end.</summary>
    private static bool OneAgeExplainsAll(Lives lives)
    {
        // A look at the entry itself says nothing: only parts that work then are seen at all.
        IEnumerable<double> looks = lives.SeenWorkingAges.Where((age, i) => age > Lives.EntryAt(lives.FoundEntries, i));
        double latestStart = Math.Max(Largest(lives.FailedAges), Math.Max(Largest(lives.RunningAges), looks.DefaultIfEmpty(0).Max()));
        double earliestEnd = Math.Min(Smallest(lives.FailedAges), Smallest(lives.FoundAges));
        return latestStart <= earliestEnd;
    }

    /// <summary>A scale a million million times outside the ages seen is arithmetic, not knowledge.</summary>
    private static bool InRange(Maximum maximum, WeibullLikelihood likelihood)
    {
        const double FurthestFactor = 1e12;
        Derivatives at = maximum.At;
        Lives lives = likelihood.Lives;
        double logScale = (maximum.Offset / maximum.Slope) + likelihood.Centre;
        bool informative = at.OffsetOffset < 0 && (at.OffsetOffset * at.SlopeSlope) - (at.OffsetSlope * at.OffsetSlope) > 0;
        return informative
            && logScale <= Math.Log(lives.OldestAge) + Math.Log(FurthestFactor)
            && logScale >= Math.Log(Math.Min(Smallest(lives.FailedAges), Smallest(lives.FoundAges))) - Math.Log(FurthestFactor);
    }

    private static double Largest(double[] ages) => ages.Length == 0 ? 0 : ages.Max();

    private static double Smallest(double[] ages) => ages.Length == 0 ? double.PositiveInfinity : ages.Min();

    private static WeibullFitOptions Checked(WeibullFitOptions options)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(options.MinimumFailures, 2, nameof(options));
        FixedShapeFit.CheckConfidence(options.BoundConfidence);
        if (options.ShapeIfTooFew is { } shape)
        {
            FixedShapeFit.CheckShape(shape.Value);
        }

        return options;
    }
}
