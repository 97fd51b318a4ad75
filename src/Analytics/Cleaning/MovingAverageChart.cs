using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Exponentially weighted moving average: z = (1 - lambda) z + lambda x from the target on; limits target +/- L s sqrt(lambda / (2 -
/// lambda)), with the further factor sqrt(1 - (1 - lambda)^(2 i)) at step i where they are exact and not the asymptotic ones. Roberts
/// (1959) Technometrics 1, 239. Run lengths are exact for independent normal observations with standard deviation 1 and the asymptotic
/// limit: Crowder (1987) Technometrics 29, 401.
/// </summary>
public static class MovingAverageChart
{
    private const int Nodes = 128;

    // Above the limit only by eight standard deviations of z: the chance of being further out is below 1e-14.
    private const double FarDeviations = 8;

    /// <summary>The averages over a series, one entry an observation.</summary>
    /// <param name="values">The observations, in order.</param>
    /// <param name="target">Mean while nothing has changed, where the average starts.</param>
    /// <param name="lambda">Weight of the newest observation, above 0, 1 or less.</param>
    public static IReadOnlyList<double> Path(IEnumerable<double> values, double target, double lambda) =>
        Averages(values, target, lambda, double.PositiveInfinity);

    /// <summary>The averages over a series, put back to the target whenever they lie above it: the chart for a falling mean.</summary>
    /// <inheritdoc cref="Path"/>
    public static IReadOnlyList<double> FallingPath(IEnumerable<double> values, double target, double lambda) =>
        Averages(values, target, lambda, target);

    /// <summary>Half the distance of the limits.</summary>
    /// <param name="deviation">Standard deviation of the observations.</param>
    /// <param name="lambda">Weight of the newest observation.</param>
    /// <param name="limit">L, in standard deviations of the average.</param>
    /// <param name="step">Number of the observation, from 1; null = the asymptotic limit.</param>
    public static double HalfWidth(double deviation, double lambda, double limit, int? step = null) =>
        limit * deviation * Spread(lambda) * (step is { } i ? Math.Sqrt(1 - Math.Pow(1 - lambda, 2 * i)) : 1);

    /// <summary>Average number of observations until the reflected chart for a falling mean signals.</summary>
    /// <param name="lambda">Weight of the newest observation.</param>
    /// <param name="limit">L, in standard deviations of the average.</param>
    /// <param name="shift">By how many standard deviations the mean has fallen from the first observation on.</param>
    public static double FallingRunLength(double lambda, double limit, double shift) => Falling(lambda, limit, shift).From(0);

    /// <summary>Average number of observations until the reflected chart signals when the mean falls by so much more at every
    /// observation.</summary>
    /// <param name="lambda">Weight of the newest observation.</param>
    /// <param name="limit">L, in standard deviations of the average.</param>
    /// <param name="fallPerStep">Fall of the mean an observation, in standard deviations, above 0.</param>
    public static double FallingRunLengthUnderDrift(double lambda, double limit, double fallPerStep)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(fallPerStep);
        return RunLengthEquation.FromAtomChanging(step => Falling(lambda, limit, fallPerStep * step));
    }

    /// <summary>Average number of observations until the chart for a falling mean signals when it is not put back to the target.</summary>
    /// <inheritdoc cref="FallingRunLength"/>
    public static double FallingRunLengthUnreflected(double lambda, double limit, double shift)
    {
        double spread = Spread(lambda);
        return new RunLengthEquation(-limit * spread, FarDeviations * spread, 2 * Nodes, Density(lambda, shift)).From(0);
    }

    /// <summary>Average number of observations until the average leaves the limits on either side.</summary>
    /// <inheritdoc cref="FallingRunLength"/>
    public static double TwoSidedRunLength(double lambda, double limit, double shift) =>
        new RunLengthEquation(-limit * Spread(lambda), limit * Spread(lambda), Nodes, Density(lambda, shift)).From(0);

    /// <summary>L at which the reflected chart for a falling mean signals once in so many observations while nothing has changed.</summary>
    /// <param name="lambda">Weight of the newest observation.</param>
    /// <param name="averageRunLength">Average number of observations between false alarms, 20 to 100,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The average lies outside its range.</exception>
    public static double FallingLimit(double lambda, double averageRunLength)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(averageRunLength, 20);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(averageRunLength, 1e5);

        // Step up to the root: far beyond it the run length outgrows what the equation can hold.
        double upper = 1;
        while (FallingRunLength(lambda, upper, 0) < averageRunLength)
        {
            upper += 0.5;
        }

        return Brent.FindRoot(limit => Math.Log(FallingRunLength(lambda, limit, 0) / averageRunLength), 0.1, upper, 1e-10, 200);
    }

    private static double Spread(double lambda) => Math.Sqrt(Weight(lambda) / (2 - lambda));

    private static double Weight(double lambda) => lambda > 0 && lambda <= 1
        ? lambda
        : throw new ArgumentOutOfRangeException(nameof(lambda), lambda, "The weight lies above 0 and is 1 or less.");

    private static RunLengthEquation Falling(double lambda, double limit, double shift) => new(
        -limit * Spread(lambda), 0, Nodes, Density(lambda, shift), 0, u => Normal.CDF(0, 1, ((1 - lambda) * u / lambda) - shift));

    private static Func<double, double, double> Density(double lambda, double shift) =>
        (u, y) => Normal.PDF(0, 1, ((y - ((1 - lambda) * u)) / lambda) + shift) / lambda;

    private static List<double> Averages(IEnumerable<double> values, double target, double lambda, double ceiling)
    {
        (double z, double weight) = (target, Weight(lambda));
        return [.. values.Select(x => z = Math.Min(ceiling, ((1 - weight) * z) + (weight * x)))];
    }
}
