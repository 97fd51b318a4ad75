namespace Washwear.Analytics.Tests.Reference;

/// <summary>One record: failed at Upper (Lower = Upper), failed in (Lower, Upper], or running at Lower (Upper infinite).</summary>
public readonly record struct ReferenceLife(double Lower, double Upper, double Entry);

/// <summary>
/// Slow second implementation of the Weibull fit and its profile bounds: the likelihood term by term from F, golden sections inside
/// golden sections for its maximum, bisection for the bounds. Shares nothing with the product: other parameters (ln scale, ln shape),
/// no derivatives, no sums of powers.
/// </summary>
public static class PartLifeWeibullReference
{
    private const double GoldenRatio = 0.6180339887498949;
    private const int GridCells = 40;

    public static double LogLikelihood(IEnumerable<ReferenceLife> lives, double logScale, double logShape)
    {
        double shape = Math.Exp(logShape);

        // Hazard gathered from one age to another, without the cancellation of a difference of two large hazards; where the first is nothing
        // against the second (and their quotient beyond numbers), the second alone.
        double Hazard(double from, double to) => from == 0 || shape * Math.Log(to / from) > 700
            ? Math.Exp(shape * (Math.Log(to) - logScale))
            : Math.Exp(shape * (Math.Log(from) - logScale)) * ExpMinusOne(shape * Math.Log(to / from));
        return lives.Sum(life => life.Lower == life.Upper
            ? logShape - logScale + ((shape - 1) * (Math.Log(life.Upper) - logScale)) - Hazard(life.Entry, life.Upper)
            : double.IsPositiveInfinity(life.Upper)
                ? -Hazard(life.Entry, life.Lower)
                : Math.Log(-ExpMinusOne(-Hazard(life.Lower, life.Upper))) - (life.Lower == 0 ? 0 : Hazard(life.Entry, life.Lower)));
    }

    /// <summary>Greatest log-likelihood over shapes from 1/1000 to 1000, with its place.</summary>
    public static (double LogScale, double LogShape, double Value) Maximise(IReadOnlyList<ReferenceLife> lives)
    {
        double logShape = Best(b => BestScale(lives, b).Value, -7, 7).At;
        (double logScale, double value) = BestScale(lives, logShape);
        return (logScale, logShape, value);
    }

    /// <summary>
    /// Profile bounds of a figure on its log scale. <paramref name="logScaleFor"/> turns the figure and ln shape into ln scale; for the
    /// shape itself pass null.
    /// </summary>
    public static (double? Lower, double? Upper) Bounds(
        IReadOnlyList<ReferenceLife> lives, double estimate, double fall, Func<double, double, double>? logScaleFor)
    {
        (_, double logShape, double top) = Maximise(lives);
        double Profile(double figure) => logScaleFor is null
            ? BestScale(lives, figure).Value
            : Best(b => LogLikelihood(lives, logScaleFor(figure, b), b), logShape - 6, logShape + 6).Value;
        return (Side(-1), Side(1));

        double? Side(int sign)
        {
            double inside = 0, outside = 0.01;
            while (Profile(estimate + (sign * outside)) > top - fall)
            {
                (inside, outside) = (outside, outside * 1.5);
                if (inside > Math.Log(1e6))
                {
                    return null;
                }
            }

            for (int i = 0; i < 45; i++)
            {
                double middle = (inside + outside) / 2;
                (inside, outside) = Profile(estimate + (sign * middle)) > top - fall ? (middle, outside) : (inside, middle);
            }

            return estimate + (sign * inside);
        }
    }

    /// <summary>
    /// Greatest log-likelihood over shapes from 1/1000 to 10 000 among the curves that give a figure one value, on the scale of
    /// <see cref="Bounds"/>; for the shape itself pass null.
    /// </summary>
    public static double Profile(IReadOnlyList<ReferenceLife> lives, double figure, Func<double, double, double>? logScaleFor) =>
        logScaleFor is null
            ? BestScale(lives, figure).Value
            : Best(b => LogLikelihood(lives, logScaleFor(figure, b), b), -7, 9.3, 4 * GridCells).Value;

    private static (double At, double Value) BestScale(IReadOnlyList<ReferenceLife> lives, double logShape)
    {
        double middle = lives.Average(l => Math.Log(double.IsPositiveInfinity(l.Upper) ? l.Lower : l.Upper));
        double halfWidth = 8 + (25 / Math.Exp(logShape));
        return Best(m => LogLikelihood(lives, m, logShape), middle - halfWidth, middle + halfWidth);
    }

    /// <summary>The best of a grid first: far from the maximum the likelihood is minus infinity, where a golden section is blind.</summary>
    private static (double At, double Value) Best(Func<double, double> f, double low, double high, int cells = GridCells)
    {
        double step = (high - low) / cells;
        double near = Enumerable.Range(0, cells + 1).Select(i => low + (i * step)).MaxBy(x => Finite(f(x)));
        double at = Golden(f, Math.Max(low, near - step), Math.Min(high, near + step));
        return (at, f(at));
    }

    private static double Golden(Func<double, double> f, double low, double high)
    {
        double a = high - (GoldenRatio * (high - low)), b = low + (GoldenRatio * (high - low));
        double fa = Finite(f(a)), fb = Finite(f(b));

        // A fixed number of cuts, to 2e-17 of the width: an absolute width would never be reached far from 0.
        for (int cut = 0; cut < 80 && high - low > 1e-9; cut++)
        {
            if (fa > fb)
            {
                (high, b, fb) = (b, a, fa);
                a = high - (GoldenRatio * (high - low));
                fa = Finite(f(a));
            }
            else
            {
                (low, a, fa) = (a, b, fb);
                b = low + (GoldenRatio * (high - low));
                fb = Finite(f(b));
            }
        }

        return (low + high) / 2;
    }

    /// <summary>e^x - 1 as 2 e^(x/2) sinh(x/2).</summary>
    private static double ExpMinusOne(double x) => x < -700 ? -1 : 2 * Math.Exp(x / 2) * Math.Sinh(x / 2);

    private static double Finite(double value) => double.IsNaN(value) ? double.NegativeInfinity : value;
}
