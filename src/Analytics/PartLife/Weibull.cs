using MathNet.Numerics;

using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>
/// The two-parameter Weibull life curve: share failed by age t is F(t) = 1 - exp(-(t/scale)^shape). Shape below 1: early failures;
/// 1: failures by chance; above 1: wear. Parametrisation as IEC 61649:2008. Immutable; equal by value.
/// </summary>
public sealed record Weibull
{
    /// <summary>A curve.</summary>
    /// <param name="scale">Age by which 63.2 % fail, above 0 and finite, in the unit of the clock.</param>
    /// <param name="shape">Shape, above 0 and finite, no unit.</param>
    /// <exception cref="ArgumentOutOfRangeException">A parameter is not a finite number above 0.</exception>
    public Weibull(double scale, double shape)
    {
        Scale = Positive(scale, nameof(scale));
        Shape = Positive(shape, nameof(shape));
    }

    /// <summary>Age by which 63.2 % (1 - 1/e) fail, in the unit of the clock.</summary>
    public double Scale { get; }

    /// <summary>Shape, no unit.</summary>
    public double Shape { get; }

    /// <summary>Mean life, scale x Gamma(1 + 1/shape); infinite where it exceeds the range of numbers (shape below about 0.006).</summary>
    public double MeanLife => Math.Exp(Math.Log(Scale) + SpecialFunctions.GammaLn(1 + (1 / Shape)));

    /// <summary>Standard deviation of life; infinite where it exceeds the range of numbers.</summary>
    public double StandardDeviationOfLife
    {
        get
        {
            // sd/mean = sqrt(Gamma(1+2/k)/Gamma(1+1/k)^2 - 1), in logs so that a small shape does not overflow early.
            double logRatio = SpecialFunctions.GammaLn(1 + (2 / Shape)) - (2 * SpecialFunctions.GammaLn(1 + (1 / Shape)));
            return MeanLife * Math.Sqrt(Elementary.ExpMinusOne(logRatio));
        }
    }

    /// <summary>Expected failures by an age of a part replaced by nothing: (age/scale)^shape, the cumulative hazard.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double CumulativeHazardAt(double age) => Math.Pow(NotNegative(age) / Scale, Shape);

    /// <summary>Share of parts that survive to an age, from 0 to 1.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double SurvivalAt(double age) => Math.Exp(-CumulativeHazardAt(age));

    /// <summary>Share of parts that have failed by an age, from 0 to 1; exact to full precision where it is small.</summary>
    /// <param name="age">Age, 0 or more.</param>
    public double FailedBy(double age) => -Elementary.ExpMinusOne(-CumulativeHazardAt(age));

    /// <summary>
    /// Age by which a share of parts has failed: <c>AgeWhenFailed(0.10)</c> is the B10 life of IEC 61649.
    /// </summary>
    /// <param name="fraction">Share failed, above 0 and below 1.</param>
    public double AgeWhenFailed(double fraction) => Scale * Math.Pow(-Elementary.LogOnePlus(-Share(fraction)), 1 / Shape);

    /// <summary>
    /// Failures per unit of age among parts that have reached an age. At age 0 it is 0 for a shape above 1 and has no value (null)
    /// for a shape below 1, where it rises without bound.
    /// </summary>
    /// <param name="age">Age, 0 or more.</param>
    public double? HazardAt(double age)
    {
        double hazard = Shape / Scale * Math.Pow(NotNegative(age) / Scale, Shape - 1);
        return double.IsFinite(hazard) ? hazard : null;
    }

    /// <summary>Chance that a part that has reached an age fails before it has run <paramref name="further"/> more.</summary>
    /// <param name="age">Age reached, 0 or more.</param>
    /// <param name="further">Further running, 0 or more, in the same unit.</param>
    public double ConditionalFailureProbability(double age, double further)
    {
        double before = CumulativeHazardAt(age);

        // H(age + further) - H(age) without cancellation when the further running is short against the age.
        double growth = before == 0
            ? CumulativeHazardAt(age + NotNegative(further))
            : before * Elementary.ExpMinusOne(Shape * Elementary.LogOnePlus(NotNegative(further) / age));
        return double.IsFinite(growth) ? -Elementary.ExpMinusOne(-growth) : further > 0 ? 1 : 0;
    }

    internal static double Share(double fraction) => fraction is > 0 and < 1
        ? fraction
        : throw new ArgumentOutOfRangeException(nameof(fraction), fraction, "The share failed must lie above 0 and below 1.");

    private static double Positive(double value, string name) => double.IsFinite(value) && value > 0
        ? value
        : throw new ArgumentOutOfRangeException(name, value, "A Weibull parameter must be a finite number above 0.");

    private static double NotNegative(double age) => double.IsFinite(age) && age >= 0
        ? age
        : throw new ArgumentOutOfRangeException(nameof(age), age, "An age must be a finite number, 0 or more.");
}
