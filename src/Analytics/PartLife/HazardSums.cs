using System.Numerics;
using System.Runtime.InteropServices;

namespace Washwear.Analytics.PartLife;

/// <summary>Sums of H, H x l and H x l^2 over log ages l, H = e^(slope x l - offset).</summary>
internal readonly record struct HazardSums(double H, double HL, double HLL);

/// <summary>
/// Centred log ages and the sums of hazards over them, eight bytes a life and one vectorised exponential each. For many lives the sums
/// near one slope also come from a Taylor series there, whose coefficients are the moments of l weighted by H: bounds then need
/// no further pass over the lives. Immutable but for <see cref="ExpandAt"/>, which is called before a fit is handed out.
/// </summary>
internal sealed class LogAges(double[] logs)
{
    /// <summary>With fewer lives a pass is as quick as the series, and bounds reach too far for it.</summary>
    private const int ManyLives = 10_000;

    private Expansion? _expansion;

    public int Count => logs.Length;

    public ReadOnlySpan<double> Values => logs;

    public double this[int index] => logs[index];

    public void Shift(double by)
    {
        for (int i = 0; i < logs.Length; i++)
        {
            logs[i] += by;
        }
    }

    /// <summary>Prepares the series about a slope; without effect where the lives are few or the moments leave the range of numbers.</summary>
    public void ExpandAt(double offset, double slope) =>
        _expansion = logs.Length < ManyLives ? null : Expansion.At(logs, offset, slope);

    public HazardSums Hazards(double offset, double slope) => _expansion?.Sums(offset, slope) ?? Pass(offset, slope);

    private HazardSums Pass(double offset, double slope)
    {
        Vector<double> h = Vector<double>.Zero, hl = Vector<double>.Zero, hll = Vector<double>.Zero;
        ReadOnlySpan<Vector<double>> blocks = MemoryMarshal.Cast<double, Vector<double>>(logs.AsSpan());
        var slopes = new Vector<double>(slope);
        var offsets = new Vector<double>(offset);
        foreach (Vector<double> l in blocks)
        {
            Vector<double> e = Vector.Exp((slopes * l) - offsets);
            h += e;
            hl += e * l;
            hll += e * l * l;
        }

        double h0 = Vector.Sum(h), h1 = Vector.Sum(hl), h2 = Vector.Sum(hll);
        for (int i = blocks.Length * Vector<double>.Count; i < logs.Length; i++)
        {
            double e = Math.Exp((slope * logs[i]) - offset);
            h0 += e;
            h1 += e * logs[i];
            h2 += e * logs[i] * logs[i];
        }

        return new HazardSums(h0, h1, h2);
    }

    /// <summary>
    /// Sum of e^(slope x l - offset) l^j as a series in slope - Slope: the coefficient of (slope - Slope)^i / i! is the moment of order
    /// i + j. Used only where what the series leaves out is less than the rounding of a plain sum.
    /// </summary>
    private sealed class Expansion(double offset, double slope, double furthest, double[] moments)
    {
        /// <summary>Last power of the series; even, so that the moments that bound the rest have no terms of opposite sign.</summary>
        private const int Order = 10;

        private const double Negligible = 1e-16;

        public static Expansion? At(double[] logs, double offset, double slope)
        {
            Span<Vector<double>> sums = stackalloc Vector<double>[Order + 3];
            sums.Clear();
            ReadOnlySpan<Vector<double>> blocks = MemoryMarshal.Cast<double, Vector<double>>(logs.AsSpan());
            var slopes = new Vector<double>(slope);
            var offsets = new Vector<double>(offset);
            Vector<double> furthest = Vector<double>.Zero;
            foreach (Vector<double> l in blocks)
            {
                furthest = Vector.Max(furthest, Vector.Abs(l));
                Vector<double> term = Vector.Exp((slopes * l) - offsets);
                foreach (ref Vector<double> sum in sums)
                {
                    sum += term;
                    term *= l;
                }
            }

            double[] moments = new double[sums.Length];
            double most = 0;
            for (int i = 0; i < Vector<double>.Count; i++)
            {
                most = Math.Max(most, furthest[i]);
            }

            for (int j = 0; j < moments.Length; j++)
            {
                moments[j] = Vector.Sum(sums[j]);
            }

            for (int i = blocks.Length * Vector<double>.Count; i < logs.Length; i++)
            {
                most = Math.Max(most, Math.Abs(logs[i]));
                double term = Math.Exp((slope * logs[i]) - offset);
                for (int j = 0; j < moments.Length; j++, term *= logs[i])
                {
                    moments[j] += term;
                }
            }

            return double.IsFinite(moments.Sum()) && moments[0] > 0 ? new Expansion(offset, slope, most, moments) : null;
        }

        /// <summary>The sums at a point; null where the series does not reach it.</summary>
        public HazardSums? Sums(double atOffset, double atSlope)
        {
            double step = atSlope - slope;
            if (!Reaches(step))
            {
                return null;
            }

            double h = 0, hl = 0, hll = 0;
            for (int i = Order; i >= 0; i--)
            {
                double ratio = step / (i + 1);
                h = moments[i] + (ratio * h);
                hl = moments[i + 1] + (ratio * hl);
                hll = moments[i + 2] + (ratio * hll);
            }

            double factor = Math.Exp(offset - atOffset);
            return new HazardSums(factor * h, factor * hl, factor * hll);
        }

        /// <summary>
        /// With x = |step| x greatest |l| the rest after the last power is at most that power's term times x/(n+1) / (1 - x/(n+2)); for the
        /// sum with l^2 alike, and the one with l lies between them.
        /// </summary>
        private bool Reaches(double step)
        {
            double x = Math.Abs(step) * furthest;
            if (!(x < 1))
            {
                return false;
            }

            double rest = x / (Order + 1) / (1 - (x / (Order + 2)));
            for (int i = 1; i <= Order; i++)
            {
                rest *= Math.Abs(step) / i;
            }

            return rest * moments[Order] <= Negligible * moments[0] && rest * moments[Order + 2] <= Negligible * moments[2];
        }
    }
}
