using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>
/// Tails of the Poisson, binomial and negative binomial distributions by the incomplete gamma and beta functions (Johnson, Kemp and Kotz
/// 2005, Univariate Discrete Distributions, 3.4, 4.4, 5.6), each computed as itself and never as 1 minus the other tail, so that a small
/// tail keeps its digits.
/// </summary>
internal static class CountTails
{
    /// <summary>Below this mean, and for gamma values below it, the leading term of the series is the whole sum to double precision.</summary>
    private const double Tiny = 1e-9;

    /// <summary>P(X >= count), X Poisson.</summary>
    public static double PoissonAtLeast(int count, double mean) => (count, mean) switch
    {
        (0, _) => 1,
        (_, 0) => 0,
        (_, < Tiny) => Math.Exp((count * Math.Log(mean)) - SpecialFunctions.GammaLn(count + 1.0)),
        _ => Chance(SpecialFunctions.GammaLowerRegularized(count, mean)),
    };

    /// <summary>P(X >= count), X binomial.</summary>
    public static double BinomialAtLeast(int count, int cases, double chance) => count <= 0 ? 1
        : count > cases || chance <= 0 ? 0
        : chance >= 1 ? 1
        : count == 1 ? -Elementary.ExpMinusOne(cases * Elementary.LogOnePlus(-chance))
        : Chance(SpecialFunctions.BetaRegularized(count, cases - count + 1.0, chance));

    /// <summary>P(X &lt;= count), X binomial.</summary>
    public static double BinomialAtMost(int count, int cases, double chance) => BinomialAtLeast(cases - count, cases, 1 - chance);

    /// <summary>P(X &lt;= count), X the number of failures before <paramref name="size"/> successes of chance <paramref name="success"/>.</summary>
    public static double NegativeBinomialAtMost(int count, double size, double success) =>
        Chance(SpecialFunctions.BetaRegularized(size, count + 1.0, success));

    /// <summary>Value that a gamma variable (shape, rate 1) stays below with a given chance; sound also for shapes near 0.</summary>
    public static double GammaBelow(double shape, double chance)
    {
        // P(X < x) = x^shape / Gamma(shape + 1) near 0, where the library's inverse stops at 1e-15.
        double leading = Math.Exp((Math.Log(chance) + SpecialFunctions.GammaLn(shape + 1)) / shape);
        return leading < Tiny ? leading : Gamma.InvCDF(shape, 1, chance);
    }

    /// <summary>P(X >= value), X gamma with this shape and rate 1.</summary>
    public static double GammaAtLeast(double shape, double value) => value < Tiny
        ? Chance(1 - Math.Exp((shape * Math.Log(value)) - SpecialFunctions.GammaLn(shape + 1)))
        : Chance(SpecialFunctions.GammaUpperRegularized(shape, value));

    // Rounding may leave the special functions a unit in the last place outside.
    private static double Chance(double value) => Math.Clamp(value, 0, 1);
}
