using MathNet.Numerics;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>
/// A point (offset, slope) on the curve of all Weibull lines that give one figure the same value, with the derivatives that a profile
/// needs: along the curve (Inner) and across curves (Target). The second derivative of slope along the curve is always 0.
/// </summary>
internal readonly record struct CurvePoint(
    double Offset,
    double Slope,
    double OffsetByInner,
    double SlopeByInner,
    double OffsetByInner2,
    double OffsetByTarget,
    double SlopeByTarget);

/// <summary>
/// A figure that bounds are asked for, on a scale without limits (ln shape, ln age, ln H): its value at a point, its gradient there,
/// and the curve on which it is constant. Ages are relative to the likelihood's centre.
/// </summary>
internal abstract record WeibullQuantity
{
    /// <summary>A bound of an age or a shape further than this factor from the value tells nobody anything.</summary>
    protected static readonly double FurthestLog = Math.Log(1e6);

    /// <summary>True when the free parameter along the curve is the offset, false when it is the slope.</summary>
    public virtual bool InnerIsOffset => false;

    public abstract double At(double offset, double slope);

    /// <summary>Distance from the estimate beyond which a bound is reported as open.</summary>
    /// <param name="estimate">The estimate on this scale.</param>
    /// <param name="sign">-1 for the lower bound, 1 for the upper.</param>
    public virtual double Furthest(double estimate, int sign) => FurthestLog;

    public abstract (double ByOffset, double BySlope) Gradient(double offset, double slope);

    public abstract CurvePoint Curve(double target, double inner);
}

/// <summary>ln shape; the offset is free.</summary>
internal sealed record ShapeQuantity : WeibullQuantity
{
    public override bool InnerIsOffset => true;

    public override double At(double offset, double slope) => Math.Log(slope);

    public override (double ByOffset, double BySlope) Gradient(double offset, double slope) => (0, 1 / slope);

    public override CurvePoint Curve(double target, double inner)
    {
        double slope = Math.Exp(target);
        return new CurvePoint(inner, slope, 1, 0, 0, 0, slope);
    }
}

/// <summary>ln of the age at which H is e^<paramref name="LogHazard"/>: 0 for the scale, ln(-ln(1 - p)) for a B-life.</summary>
internal sealed record AgeQuantity(double LogHazard) : WeibullQuantity
{
    public override double At(double offset, double slope) => (offset + LogHazard) / slope;

    public override (double ByOffset, double BySlope) Gradient(double offset, double slope) =>
        (1 / slope, -(offset + LogHazard) / (slope * slope));

    public override CurvePoint Curve(double target, double inner) =>
        new((inner * target) - LogHazard, inner, target, 1, 0, inner, 0);
}

/// <summary>ln of the mean life, ln scale + ln Gamma(1 + 1/shape).</summary>
internal sealed record MeanQuantity : WeibullQuantity
{
    public override double At(double offset, double slope) => (offset / slope) + SpecialFunctions.GammaLn(1 + (1 / slope));

    public override (double ByOffset, double BySlope) Gradient(double offset, double slope) =>
        (1 / slope, -(offset + SpecialFunctions.DiGamma(1 + (1 / slope))) / (slope * slope));

    public override CurvePoint Curve(double target, double inner)
    {
        double x = 1 + (1 / inner);
        double logGamma = SpecialFunctions.GammaLn(x);
        double along = target - logGamma + (SpecialFunctions.DiGamma(x) / inner);
        return new CurvePoint(inner * (target - logGamma), inner, along, 1, -Trigamma(x) / (inner * inner * inner), inner, 0);
    }

    /// <summary>Derivative of digamma for x above 1: recurrence to 8, then series (Abramowitz and Stegun 6.4.6, 6.4.12).</summary>
    private static double Trigamma(double x)
    {
        double sum = 0;
        while (x < 8)
        {
            sum += 1 / (x * x);
            x++;
        }

        double y = 1 / (x * x);
        return sum + (1 / x) + (y / 2) + (y / x * ((1.0 / 6) - (y * ((1.0 / 30) - (y * ((1.0 / 42) - (y / 30)))))));
    }
}

/// <summary>
/// ln of a hazard from which a share follows, exp(-H) or 1 - exp(-H). A hazard may be wrong by any factor while the share is still bounded
/// away from 0 or 1, so a bound is open only where the share itself cannot be told from 0 or from 1.
/// </summary>
internal abstract record ShareQuantity : WeibullQuantity
{
    /// <summary>A share nearer than this to 0 or 1 is taken for it.</summary>
    public const double LeastShare = 1e-12;

    private static readonly double LeastLogHazard = Math.Log(LeastShare);
    private static readonly double GreatestLogHazard = Math.Log(-Math.Log(LeastShare));

    public override double Furthest(double estimate, int sign) =>
        Math.Max(FurthestLog, sign > 0 ? GreatestLogHazard - estimate : estimate - LeastLogHazard);
}

/// <summary>ln H at an age whose centred logarithm is <paramref name="LogAge"/>; survival there is exp(-H).</summary>
internal sealed record HazardQuantity(double LogAge) : ShareQuantity
{
    public override double At(double offset, double slope) => (slope * LogAge) - offset;

    public override (double ByOffset, double BySlope) Gradient(double offset, double slope) => (-1, LogAge);

    public override CurvePoint Curve(double target, double inner) => new((inner * LogAge) - target, inner, LogAge, 1, 0, -1, 0);
}

/// <summary>
/// ln of the hazard gathered between two ages, H(later) - H(age): centred logarithms <paramref name="LogAge"/> (minus infinity for a new
/// part) and <paramref name="LogLater"/>. With d = LogLater - LogAge and slope k it is -offset + k LogLater + ln(1 - exp(-k d)).
/// </summary>
internal sealed record FurtherHazardQuantity(double LogAge, double LogLater) : ShareQuantity
{
    private double Distance => LogLater - LogAge;

    public override double At(double offset, double slope) => Top(slope) - offset;

    public override (double ByOffset, double BySlope) Gradient(double offset, double slope) => (-1, TopBySlope(slope));

    public override CurvePoint Curve(double target, double inner) =>
        new(Top(inner) - target, inner, TopBySlope(inner), 1, TopBySlope2(inner), -1, 0);

    private double Top(double slope) => (slope * LogLater) + Math.Log(-Elementary.ExpMinusOne(-slope * Distance));

    private double TopBySlope(double slope) =>
        LogLater + (double.IsInfinity(Distance) ? 0 : Distance / Elementary.ExpMinusOne(slope * Distance));

    private double TopBySlope2(double slope)
    {
        if (double.IsInfinity(Distance))
        {
            return 0;
        }

        double half = Distance / (2 * Math.Sinh(slope * Distance / 2));
        return -half * half;
    }
}
