using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Planning;

/// <summary>What happens first to a part of an age: the next opportunity or its failure.</summary>
/// <param name="FailsFirst">Chance that the failure comes first, 0 to 1.</param>
/// <param name="MeanTime">Mean time to whichever comes first.</param>
/// <param name="FailuresPerTime">Chance / mean time: mean hazard of the wait.</param>
internal readonly record struct OpportunityWait(double FailsFirst, double MeanTime, double FailuresPerTime)
{
    /// <summary>
    /// Integrates exp(-rate u - H(age, u)) and its product with the hazard over the wait u by the double exponential rule for a half line
    /// (Takahasi and Mori 1974, Publications RIMS 9, 721). Both integrals are made apart, as 1 - rate x mean time loses all digits when
    /// opportunities are frequent.
    /// </summary>
    public static OpportunityWait From(WeibullLife life, double age, double rate)
    {
        double hazard = life.CumulativeHazard(age);
        double alone = hazard == 0 ? life.Scale : age * Elementary.ExpMinusOne(Elementary.LogOnePlus(1 / hazard) / life.Shape);
        double span = rate == 0 ? alone : Math.Min(alone, 1 / rate);
        if (!(span > 0) || double.IsInfinity(span))
        {
            return Instant(life.Hazard(age), rate);
        }

        // A steep curve falls within 1/shape of the logarithm of time.
        double step = Math.Min(1.0 / 32, 1 / (5 * life.Shape)), time = 0, fails = 0;
        for (double x = -3.7; x <= 7; x += step)
        {
            double inner = Math.Exp(-x), u = span * Math.Exp(x - inner), weight = u * (1 + inner) * step;
            double lasting = Math.Exp(-(rate * u) - life.HazardWithin(age, u));
            if (lasting == 0)
            {
                break;
            }

            time += weight * lasting;
            fails += weight * lasting * life.Hazard(age + u);
        }

        // The two parts add up to 1; their sum takes out what the step leaves.
        double whole = fails + (rate * time);
        return new(fails / whole, time / whole, fails / time);
    }

    /// <summary>Where the wait is too short for numbers: the hazard of this age holds throughout.</summary>
    private static OpportunityWait Instant(double hazard, double rate) =>
        double.IsInfinity(hazard) ? new(1, 0, hazard) : new(hazard / (hazard + rate), 1 / (hazard + rate), hazard);
}
