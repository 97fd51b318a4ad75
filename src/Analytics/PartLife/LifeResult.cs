namespace Washwear.Analytics.PartLife;

/// <summary>Outcome of fitting a life curve: either a curve or an honest account of why there is none. Closed: three kinds.</summary>
public abstract record LifeResult
{
    private protected LifeResult(ResultAccount account) => Account = account;

    /// <summary>Method, convention, clock, counts and doubts.</summary>
    public ResultAccount Account { get; }
}

/// <summary>Why no shape was fitted.</summary>
public enum NoFitRule
{
    /// <summary>Fewer failures than the options ask for.</summary>
    TooFewFailures,

    /// <summary>All failures agree with one single age that no part outlived: the likelihood grows with the shape for ever.</summary>
    NoPartOutlivedAFailure,

    /// <summary>The likelihood rises as the shape falls towards 0.</summary>
    ShapeTowardsZero,

    /// <summary>The failures are closer together than the ages can tell apart, or a figure leaves the range of numbers.</summary>
    BeyondRange,

    /// <summary>The search for the maximum did not end in one.</summary>
    NotConverged,

    /// <summary>There is no life, or no running time, to compute from.</summary>
    NothingObserved,
}

/// <summary>No curve can be given.</summary>
public sealed record NotEnough : LifeResult
{
    internal NotEnough(ResultAccount account, NoFitRule rule, string message, FixedShapeLife? bound = null)
        : base(account)
    {
        Rule = rule;
        Message = message;
        Bound = bound;
    }

    /// <summary>The rule that stopped the fit.</summary>
    public NoFitRule Rule { get; }

    /// <summary>One plain sentence, such as 'too few failures (2) to fit a shape: at least 3 are needed'.</summary>
    public string Message { get; }

    /// <summary>What can be said at the shape that the options supply; null when none was supplied or nothing was observed.</summary>
    public FixedShapeLife? Bound { get; }
}

/// <summary>A Weibull curve fitted by maximum likelihood. Bounds come from <see cref="WeibullBounds"/>.</summary>
public sealed record FittedLife : LifeResult
{
    internal FittedLife(ResultAccount account, WeibullLikelihood likelihood, Maximum maximum)
        : base(account)
    {
        Likelihood = likelihood;
        Maximum = maximum;
        Curve = new Weibull(Math.Exp((maximum.Offset / maximum.Slope) + likelihood.Centre), maximum.Slope);
        LogLikelihood = maximum.At.Value;
        (VarianceOfLogScale, CovarianceOfLogs, VarianceOfLogShape) = Covariance();
    }

    /// <summary>The fitted curve.</summary>
    public Weibull Curve { get; }

    /// <summary>
    /// Maximised log-likelihood, with densities per unit of the clock. Comparable only between fits of the same lives on the same clock.
    /// </summary>
    public double LogLikelihood { get; }

    /// <summary>Akaike's information criterion, 2 x 2 parameters - 2 x log-likelihood.</summary>
    public double Aic => 4 - (2 * LogLikelihood);

    /// <summary>Variance of ln scale from the inverse observed information.</summary>
    public double VarianceOfLogScale { get; }

    /// <summary>Covariance of ln scale and ln shape from the inverse observed information.</summary>
    public double CovarianceOfLogs { get; }

    /// <summary>Variance of ln shape from the inverse observed information.</summary>
    public double VarianceOfLogShape { get; }

    internal WeibullLikelihood Likelihood { get; }

    internal Maximum Maximum { get; }

    /// <summary>Covariance of a quantity's gradient with (offset, slope): V g, where V is the inverse observed information.</summary>
    internal (double Offset, double Slope) CovarianceWith(double byOffset, double bySlope)
    {
        Derivatives at = Maximum.At;
        double determinant = (at.OffsetOffset * at.SlopeSlope) - (at.OffsetSlope * at.OffsetSlope);
        return (
            ((at.OffsetSlope * bySlope) - (at.SlopeSlope * byOffset)) / determinant,
            ((at.OffsetSlope * byOffset) - (at.OffsetOffset * bySlope)) / determinant);
    }

    private (double Scale, double Both, double Shape) Covariance()
    {
        double slope = Maximum.Slope;
        (double scaleByOffset, double scaleBySlope) = (1 / slope, -Maximum.Offset / (slope * slope));
        (double offset, double bySlope) = CovarianceWith(scaleByOffset, scaleBySlope);
        (_, double shape) = CovarianceWith(0, 1 / slope);
        return ((scaleByOffset * offset) + (scaleBySlope * bySlope), bySlope / slope, shape / slope);
    }
}
