using MathNet.Numerics.Distributions;

using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Planning;

/// <summary>
/// Chance that a part that works now fails within a stretch of age, with bounds for the doubt about its life: the delta method on the
/// logarithm of the further cumulative hazard (complementary log-log of survival), so that bounds stay within 0 and 1. The bounds are
/// for the chance, not for what happens: the part fails or does not. Source: Meeker, Hahn and Escobar (2017) Statistical Intervals, ch. 12.
/// </summary>
public static class FailureForecast
{
    /// <summary>Chance with bounds.</summary>
    /// <param name="life">Estimate of the life and its uncertainty.</param>
    /// <param name="age">Age now, 0 or more.</param>
    /// <param name="window">Further stretch of age, 0 or more.</param>
    /// <param name="level">Confidence level of the bounds, above 0 and below 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is out of range.</exception>
    public static Estimate Chance(LifeUncertainty life, double age, double window, double level = 0.9)
    {
        ArgumentNullException.ThrowIfNull(life);
        if (level is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "The level lies above 0 and below 1.");
        }

        const string Bounds = "delta method, complementary log-log";
        double chance = life.Estimate.ChanceWithin(age, window);
        double further = life.Estimate.HazardWithin(age, window);
        if (!(further > 0 && double.IsFinite(further)))
        {
            return new Estimate(chance, chance, chance, level, Bounds);
        }

        double half = Normal.InvCDF(0, 1, (1 + level) / 2) * Deviation(life, age, window);
        return new Estimate(chance, Failed(further * Math.Exp(-half)), Failed(further * Math.Exp(half)), level, Bounds);
    }

    private static double Failed(double hazard) => -Elementary.ExpMinusOne(-hazard);

    /// <summary>Standard deviation of ln(H(age + window) - H(age)).</summary>
    private static double Deviation(LifeUncertainty life, double age, double window)
    {
        WeibullLife at = life.Estimate;
        double byScale = -at.Shape * life.SdLogScale;
        double byShape = at.Shape * SlopeByShape(at, age, window) * life.SdLogShape;
        return Math.Sqrt(Math.Max(0, (byScale * byScale) + (byShape * byShape) + (2 * life.Correlation * byScale * byShape)));
    }

    /// <summary>Derivative of ln(H(age + window) - H(age)) by the shape, kept from cancelling for short windows.</summary>
    private static double SlopeByShape(WeibullLife life, double age, double window)
    {
        double end = Math.Log((age + window) / life.Scale);
        if (life.CumulativeHazard(age) == 0)
        {
            return end;
        }

        // (H2 L2 - H1 L1) / (H2 - H1) = L1 + (L2 - L1) / (1 - H1/H2), with L = ln(age / scale).
        double step = Elementary.LogOnePlus(window / age);
        return step == 0 ? end : Math.Log(age / life.Scale) - (step / Elementary.ExpMinusOne(-life.Shape * step));
    }
}
