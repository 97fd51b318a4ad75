using MathNet.Numerics.RootFinding;

namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Maximum of the likelihood of a power-law process shared by units watched over (F_i, T_i]: N/b + sum ln t = N (sum T^b ln T - F^b ln F) /
/// (sum T^b - F^b), scale = N / sum (T^b - F^b). Time is in units of the greatest T. The likelihood is concave in b once the scale is
/// maximised out, so there is one maximum or none.
/// </summary>
internal sealed class PowerLawMaximum
{
    private const double Limit = 1e8;

    private PowerLawMaximum(double shape, double scaledLambda, double v11, double v12, double v22)
    {
        (Shape, ScaledLambda) = (shape, scaledLambda);
        (VarianceOfLogLambda, Covariance, VarianceOfLogShape) = (v11, v12, v22);
    }

    /// <summary>Shape b.</summary>
    public double Shape { get; }

    /// <summary>Events a unit up to the greatest T.</summary>
    public double ScaledLambda { get; }

    /// <summary>Variance of ln <see cref="ScaledLambda"/>.</summary>
    public double VarianceOfLogLambda { get; }

    /// <summary>Covariance of the two logarithms.</summary>
    public double Covariance { get; }

    /// <summary>Variance of ln shape.</summary>
    public double VarianceOfLogShape { get; }

    /// <summary>Standard error of ln scale + slope x ln shape.</summary>
    public double SeOfLog(double slope) =>
        Math.Sqrt(Math.Max(0, VarianceOfLogLambda + (2 * slope * Covariance) + (slope * slope * VarianceOfLogShape)));

    /// <summary>Finds the maximum.</summary>
    /// <param name="windows">Windows in units of the greatest T.</param>
    /// <param name="events">Number of events, 1 or more.</param>
    /// <param name="sumOfLogs">Sum over events of ln(age / greatest T), 0 or less.</param>
    /// <returns>The maximum, or why there is none.</returns>
    public static (PowerLawMaximum? Maximum, NoPowerLawReason? Reason) Find(PowerWindows windows, int events, double sumOfLogs)
    {
        double Score(double logShape)
        {
            double b = Math.Exp(logShape);
            PowerSums sums = windows.At(b);
            return (events / b) + sumOfLogs - (events * sums.ByLog / sums.Sum);
        }

        double low = 0, high = 0, step = Math.Log(2);
        while (Score(high) > 0)
        {
            high += step;
            if (high > Math.Log(Limit))
            {
                return (null, NoPowerLawReason.EventsAtTheEnd);
            }
        }

        while (Score(low) < 0)
        {
            low -= step;
            if (low < -Math.Log(Limit))
            {
                return (null, NoPowerLawReason.NoMaximum);
            }
        }

        return Brent.TryFindRoot(Score, low, high, 1e-13, 300, out double root)
            ? (At(windows, events, sumOfLogs, Math.Exp(root)), null)
            : (null, NoPowerLawReason.NoMaximum);
    }

    /// <summary>Scale and covariance at a shape that solves the equation: inverse of the observed information of both logarithms.</summary>
    private static PowerLawMaximum At(PowerWindows windows, int events, double sumOfLogs, double shape)
    {
        PowerSums sums = windows.At(shape);
        double lambda = events / sums.Sum;
        double mixed = lambda * shape * sums.ByLog;
        double own = (lambda * shape * (sums.ByLog + (shape * sums.BySquare))) - (shape * sumOfLogs);
        double determinant = (events * own) - (mixed * mixed);
        return new PowerLawMaximum(shape, lambda, own / determinant, -mixed / determinant, events / determinant);
    }
}
