namespace Washwear.Analytics.Planning;

/// <summary>
/// An estimated life and how well it is known: the logarithms of shape and scale are taken as normal around the estimate, as the inverse
/// observed information of a maximum-likelihood fit gives them. Sound from about ten failures on; with fewer the true spread is wider.
/// </summary>
public sealed record LifeUncertainty
{
    /// <summary>An estimate with its spread.</summary>
    /// <param name="estimate">The estimated life.</param>
    /// <param name="sdLogShape">Standard deviation of ln shape, 0 or more.</param>
    /// <param name="sdLogScale">Standard deviation of ln scale, 0 or more.</param>
    /// <param name="correlation">Correlation of the two, -1 to 1.</param>
    /// <param name="shapeLower">Lower bound of the shape by the profile likelihood, 0 or more; 0 where it is open.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is out of its range.</exception>
    public LifeUncertainty(WeibullLife estimate, double sdLogShape, double sdLogScale, double correlation, double shapeLower)
    {
        if (estimate.Shape is not > 0)
        {
            throw new ArgumentOutOfRangeException(nameof(estimate), estimate, "The estimate has no shape: it was never set.");
        }

        if (!(correlation is >= -1 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(correlation), correlation, "A correlation lies from -1 to 1.");
        }

        Estimate = estimate;
        SdLogShape = WeibullLife.NotNegative(sdLogShape, nameof(sdLogShape));
        SdLogScale = WeibullLife.NotNegative(sdLogScale, nameof(sdLogScale));
        Correlation = correlation;
        ShapeLower = WeibullLife.NotNegative(shapeLower, nameof(shapeLower));
    }

    /// <summary>The estimated life.</summary>
    public WeibullLife Estimate { get; }

    /// <summary>Standard deviation of ln shape.</summary>
    public double SdLogShape { get; }

    /// <summary>Standard deviation of ln scale.</summary>
    public double SdLogScale { get; }

    /// <summary>Correlation of ln shape and ln scale.</summary>
    public double Correlation { get; }

    /// <summary>Lower bound of the shape; 0 where it is open.</summary>
    public double ShapeLower { get; }

    /// <summary>The life at so many standard deviations from the estimate, in two independent standard normal directions.</summary>
    /// <param name="first">Along ln shape.</param>
    /// <param name="second">Along what of ln scale does not go with ln shape.</param>
    internal WeibullLife At(double first, double second)
    {
        double logShape = Math.Log(Estimate.Shape) + (SdLogShape * first);
        double rest = Math.Sqrt(1 - (Correlation * Correlation));
        double logScale = Math.Log(Estimate.Scale) + (SdLogScale * ((Correlation * first) + (rest * second)));

        // A spread of many powers of ten is no knowledge; the bounds keep it from leaving the range of numbers.
        return new WeibullLife(Math.Exp(Math.Clamp(logShape, Math.Log(0.05), Math.Log(1e4))), Math.Exp(Math.Clamp(logScale, -300, 300)));
    }
}

/// <summary>A possible life and its weight.</summary>
internal readonly record struct ParameterNode(double Weight, WeibullLife Life);

/// <summary>
/// Gauss-Hermite nodes for two normal parameters: the average over them of a smooth function is its mean over the parameters.
/// </summary>
internal static class ParameterNodes
{
    private const int Count = 40;
    private const double Negligible = 1e-16;

    private static readonly (double[] At, double[] Weight) Rule = Hermite(Count);

    /// <summary>The nodes; weights add up to 1.</summary>
    public static IReadOnlyList<ParameterNode> Of(LifeUncertainty life)
    {
        var nodes = new List<ParameterNode>();
        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < Count; j++)
            {
                double weight = Rule.Weight[i] * Rule.Weight[j];
                if (weight > Negligible)
                {
                    nodes.Add(new ParameterNode(weight, life.At(Rule.At[i], Rule.At[j])));
                }
            }
        }

        return nodes;
    }

    /// <summary>
    /// Roots of the Hermite polynomial for the standard normal weight by bisection between the roots of the one before (they
    /// interlace), and the weights n!/(n He(n-1))^2 in normalised polynomials (Abramowitz and Stegun 25.4.46).
    /// </summary>
    private static (double[] At, double[] Weight) Hermite(int count)
    {
        double[] roots = [0];
        for (int n = 2; n <= count; n++)
        {
            double end = 2 * Math.Sqrt(n);
            double[] fences = [-end, .. roots, end];
            roots = [.. Enumerable.Range(0, n).Select(i => Root(n, fences[i], fences[i + 1]))];
        }

        return (roots, [.. roots.Select(x => 1 / (count * Math.Pow(Normalised(count - 1, x), 2)))]);
    }

    private static double Root(int n, double low, double high)
    {
        int sign = Math.Sign(Normalised(n, high));
        for (int i = 0; i < 100; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = Math.Sign(Normalised(n, middle)) == sign ? (low, middle) : (middle, high);
        }

        return (low + high) / 2;
    }

    /// <summary>He(n)(x)/sqrt(n!): sqrt(n+1) h(n+1) = x h(n) - sqrt(n) h(n-1).</summary>
    private static double Normalised(int n, double x)
    {
        (double before, double at) = (0, 1);
        for (int k = 0; k < n; k++)
        {
            (before, at) = (at, ((x * at) - (Math.Sqrt(k) * before)) / Math.Sqrt(k + 1));
        }

        return at;
    }
}
