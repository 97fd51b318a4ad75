using MathNet.Numerics;

using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Planning;

/// <summary>
/// The life that a plan is made from: the two-parameter Weibull curve, share failed by age t is 1 - exp(-(t/scale)^shape). A value, so that
/// a plan can try thousands of curves. All ages are in the unit of the scale.
/// </summary>
public readonly record struct WeibullLife
{
    /// <summary>A curve.</summary>
    /// <param name="shape">Shape, above 0 and finite, no unit; above 1 is wear.</param>
    /// <param name="scale">Age by which 63.2 % fail, above 0 and finite.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is not a finite number above 0.</exception>
    public WeibullLife(double shape, double scale)
    {
        Shape = Positive(shape, nameof(shape));
        Scale = Positive(scale, nameof(scale));
    }

    /// <summary>Shape, no unit.</summary>
    public double Shape { get; }

    /// <summary>Age by which 63.2 % (1 - 1/e) fail.</summary>
    public double Scale { get; }

    /// <summary>Mean life, scale x Gamma(1 + 1/shape); infinite where it leaves the range of numbers (shape below about 0.006).</summary>
    public double Mean => Scale * Math.Exp(SpecialFunctions.GammaLn(1 + (1 / Shape)));

    /// <summary>Variance of life divided by the square of its mean.</summary>
    internal double SquaredVariation => Elementary.ExpMinusOne(
        SpecialFunctions.GammaLn(1 + (2 / Shape)) - (2 * SpecialFunctions.GammaLn(1 + (1 / Shape))));

    /// <summary>Share of parts that survive to an age, 0 to 1.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double Survival(double age) => Math.Exp(-CumulativeHazard(age));

    /// <summary>(age/scale)^shape, no unit: minus the logarithm of survival; infinite where it leaves the range of numbers.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double CumulativeHazard(double age) => Math.Pow(NotNegative(age, nameof(age)) / Scale, Shape);

    /// <summary>Failures per unit of age among parts that reached an age; infinite at age 0 for a shape below 1.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double Hazard(double age) => Shape / Scale * Math.Pow(NotNegative(age, nameof(age)) / Scale, Shape - 1);

    /// <summary>Chance that a part that works at an age fails within a further stretch, 0 to 1; keeps its digits where small.</summary>
    /// <param name="age">Age now, 0 or more.</param>
    /// <param name="window">Further stretch, 0 or more.</param>
    public double ChanceWithin(double age, double window) => -Elementary.ExpMinusOne(-HazardWithin(age, window));

    /// <summary>Cumulative hazard that a part of an age adds within a further stretch; infinite beyond the range of numbers.</summary>
    internal double HazardWithin(double age, double window)
    {
        double before = CumulativeHazard(age), further = NotNegative(window, nameof(window));

        // H(age + window) - H(age) without cancellation when the window is short against the age.
        double added = before == 0
            ? CumulativeHazard(age + further)
            : before * Elementary.ExpMinusOne(Shape * Elementary.LogOnePlus(further / age));
        return double.IsNaN(added) ? 0 : added;
    }

    /// <summary>Mean further life of a part that works at an age.</summary>
    /// <param name="age">Age now, 0 or more.</param>
    public double MeanResidualLife(double age)
    {
        double hazard = CumulativeHazard(age);
        return FarOut(hazard)
            ? age * UpperShare(hazard) / Shape
            : Math.Max(0, Mean - MeanUpTo(age)) * Math.Exp(hazard);
    }

    /// <summary>Mean time that a part works until it fails or reaches an age: the integral of survival from 0 to that age.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double MeanUpTo(double age)
    {
        double hazard = CumulativeHazard(age);
        if (double.IsInfinity(hazard))
        {
            return Mean;
        }

        return FarOut(hazard)
            ? Mean - (age / Shape * Math.Exp(-hazard) * UpperShare(hazard))
            : age * Math.Exp(-hazard) * LowerSeries(hazard);
    }

    internal static double NotNegative(double value, string name) => double.IsFinite(value) && value >= 0
        ? value
        : throw new ArgumentOutOfRangeException(name, value, "An age or a stretch of age must be a finite number, 0 or more.");

    private static double Positive(double value, string name) => double.IsFinite(value) && value > 0
        ? value
        : throw new ArgumentOutOfRangeException(name, value, "A Weibull parameter must be a finite number above 0.");

    /// <summary>Where the fraction converges fast and the series would lose the little that is left of life.</summary>
    private bool FarOut(double hazard) => hazard > 2 + (1 / Shape);

    /// <summary>
    /// Gamma*(a, x) x e^x / x^a for a = 1/shape, lower incomplete gamma function (Abramowitz and Stegun 6.5.29). Own sums, as the mean
    /// residual life of an old part needs the functions divided by e^-x, which MathNet only gives when that is already 0.
    /// </summary>
    private double LowerSeries(double x)
    {
        double term = 1, sum = 1;
        for (double a = (1 / Shape) + 1; term > sum * 1e-17; a++)
        {
            term *= x / a;
            sum += term;
        }

        return sum;
    }

    /// <summary>Upper incomplete gamma function, divided by x^a e^-x, a = 1/shape: Lentz on Abramowitz and Stegun 6.5.31.</summary>
    private double UpperShare(double x)
    {
        if (double.IsInfinity(x))
        {
            return 0;
        }

        double a = 1 / Shape, b = x + 1 - a, c = 1e300, d = 1 / b, value = d;
        for (int i = 1; i < 500; i++)
        {
            double numerator = -i * (i - a);
            b += 2;
            d = 1 / ((numerator * d) + b);
            c = b + (numerator / c);
            double factor = c * d;
            value *= factor;
            if (Math.Abs(factor - 1) < 1e-16)
            {
                break;
            }
        }

        return value;
    }
}
