using MathNet.Numerics;
using MathNet.Numerics.RootFinding;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Factors by which the mean time between events at the end of a record, T/(n shape), is multiplied for its exact bounds under a power law.
/// Record ended at an event: n^2 / q, q a quantile of the product of independent Gamma(n) and Gamma(n - 1). Record ended by time: n^2 / z,
/// z from the law of the number of events given the sum of ln(T/t), with chances in proportion to z^j / (j! (j - 1)!), j = 1, 2, ...
/// Source: Crow (1982), Confidence Interval Procedures for the Weibull Process, Technometrics 24, 67-72.
/// </summary>
internal static class CrowFactors
{
    /// <summary>The two factors; the upper one is null where the bound has no limit (one event).</summary>
    /// <param name="events">Events n, 1 or more; 2 or more for a record that ended at an event.</param>
    /// <param name="end">How the record ended.</param>
    /// <param name="level">Confidence level, above 0 and below 1.</param>
    public static (double Lower, double? Upper) Of(int events, RecordEnd end, double level)
    {
        ConfidenceLevel.Check(level);
        ArgumentOutOfRangeException.ThrowIfLessThan(events, end == RecordEnd.AtEvent ? 2 : 1);
        double tail = (1 - level) / 2, n = events, centre = 2 * Math.Log(n);
        if (end == RecordEnd.AtEvent)
        {
            double Product(double log) => ProductAtMost(events, Math.Exp(log));
            return (n * n / Solve(log => Product(log) - (1 - tail), centre), n * n / Solve(log => Product(log) - tail, centre));
        }

        double most = Solve(log => tail - Tails(events, Math.Exp(log)).AtMost, centre);
        double? least = events == 1 ? null : Solve(log => Tails(events, Math.Exp(log)).AtLeast - tail, centre);
        return (n * n / most, n * n / least);
    }

    /// <summary>Value whose logarithm is the root of an increasing function.</summary>
    private static double Solve(Func<double, double> increasing, double centre)
    {
        double low = centre, high = centre;
        for (double step = 0.25; increasing(low) > 0; step *= 2)
        {
            low -= step;
        }

        for (double step = 0.25; increasing(high) < 0; step *= 2)
        {
            high += step;
        }

        return Math.Exp(low == high ? low : Brent.FindRoot(increasing, low, high, 1e-13, 300));
    }

    /// <summary>Chances of at most and of at least n under weights z^j / (j! (j - 1)!), summed outward from n.</summary>
    private static (double AtMost, double AtLeast) Tails(int n, double z)
    {
        double below = 0, above = 0, term = 1;
        for (double j = n; j > 1 && (term > below * 1e-18 || j * (j - 1) > z); j--)
        {
            term *= j * (j - 1) / z;
            below += term;
        }

        term = 1;
        for (double j = n; term > above * 1e-18 || z > j * (j + 1); j++)
        {
            term *= z / (j * (j + 1));
            above += term;
            if (double.IsInfinity(above))
            {
                break;
            }
        }

        return (1 / (1 + (above / (1 + below))), 1 / (1 + (below / (1 + above))));
    }

    /// <summary>
    /// Chance that Gamma(n) x Gamma(n - 1) is at most a value, by the trapezoid rule over the logarithm of the first factor.
    /// </summary>
    private static double ProductAtMost(int n, double value)
    {
        double root = Math.Sqrt(n), step = 0.2 / root, norm = SpecialFunctions.GammaLn(n), centre = Math.Log(n);
        double sum = 0;
        int left = (int)Math.Ceiling(((40.0 / n) + (12 / root)) / step);
        int right = (int)Math.Ceiling(Math.Log(1 + (40.0 / n) + (12 / root)) / step);
        for (int k = -left; k <= right; k++)
        {
            double y = centre + (k * step);
            double density = Math.Exp((n * y) - Math.Exp(y) - norm);
            double other = ChiSquare.LowerTail(2 * value * Math.Exp(-y), 2 * (n - 1));
            sum += density * other;
        }

        return sum * step;
    }
}
