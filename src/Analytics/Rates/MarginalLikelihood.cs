using MathNet.Numerics;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>The profile of the marginal likelihood at a dispersion.</summary>
internal readonly record struct DispersionProfile(double Value, double Slope, double LogMean);

/// <summary>
/// Negative binomial log-likelihood by the units' mean rate m and dispersion d = 1 / shape: the sum over units of
/// sum(j &lt; count) ln(1 + d j) - (count + 1/d) ln(1 + d m t) + count ln(m t) - ln count!. This form goes over into the Poisson one as d
/// falls to 0, without cancellation.
/// </summary>
internal sealed class MarginalLikelihood
{
    // Newton's steps square: after one this small nothing is left to gain.
    private const double Settled = 1e-9;

    private readonly (int Count, double Exposure)[] _units;
    private readonly int[] _withMore;
    private readonly double _constant;
    private readonly double _events;
    private readonly double _pooledLog;

    /// <summary>Units with exposure, at least one of them with an event.</summary>
    public MarginalLikelihood((int Count, double Exposure)[] units)
    {
        _units = units;
        _withMore = new int[units.Max(u => u.Count)];
        foreach ((int count, _) in units.Where(u => u.Count > 0))
        {
            _withMore[count - 1]++;
        }

        for (int j = _withMore.Length - 2; j >= 0; j--)
        {
            _withMore[j] += _withMore[j + 1];
        }

        _constant = units.Sum(u => u.Count == 0 ? 0 : (u.Count * Math.Log(u.Exposure)) - SpecialFunctions.GammaLn(u.Count + 1.0));
        _events = units.Sum(u => (double)u.Count);
        _pooledLog = Math.Log(_events / units.Sum(u => u.Exposure));
    }

    /// <summary>Log-likelihood of one rate for all units.</summary>
    public double Pooled => _constant + (_events * _pooledLog) - _events;

    /// <summary>Greatest value over the mean, and its slope by the dispersion, at a dispersion above 0.</summary>
    public DispersionProfile At(double dispersion)
    {
        double log = BestLogMean(dispersion), mean = Math.Exp(log);
        double value = _constant + (_events * log), slope = 0;
        for (int j = 1; j < _withMore.Length; j++)
        {
            double growth = 1 + (dispersion * j);
            value += _withMore[j] * Math.Log(growth);
            slope += _withMore[j] * j / growth;
        }

        foreach ((int count, double exposure) in _units)
        {
            double expected = mean * exposure, z = dispersion * expected, growth = Elementary.LogOnePlus(z);
            value -= (count * growth) + (z == 0 ? expected : growth / dispersion);
            slope += Remainder(dispersion, expected, growth) - (count * expected / (1 + z));
        }

        return new DispersionProfile(value, slope, log);
    }

    /// <summary>The spread at a dispersion, with the errors that the observed information by shape and rate gives.</summary>
    public RateSpread SpreadAt(double dispersion)
    {
        DispersionProfile profile = At(dispersion);
        double a = 1 / dispersion, b = a / Math.Exp(profile.LogMean);
        double aa = 0, ab = 0, bb = 0;
        for (int j = 0; j < _withMore.Length; j++)
        {
            aa += _withMore[j] / (a + j) / (a + j);
        }

        foreach ((int count, double exposure) in _units)
        {
            ab -= exposure / b / (b + exposure);
            bb += (a / b / b) - ((a + count) / (b + exposure) / (b + exposure));
        }

        double determinant = (aa * bb) - (ab * ab);
        bool known = determinant > 1e-12 * aa * bb && aa > 0 && bb > 0;
        return new RateSpread(
            a,
            b,
            known ? Math.Sqrt(bb / determinant) : null,
            known ? Math.Sqrt(aa / determinant) : null,
            known ? -ab / determinant : null,
            profile.Value);
    }

    /// <summary>Newton's method in ln m, in which the likelihood is concave, kept between the points where its slope changes sign.</summary>
    private double BestLogMean(double dispersion)
    {
        double at = _pooledLog, low = double.NegativeInfinity, high = double.PositiveInfinity;
        for (int i = 0; i < 200; i++)
        {
            (double slope, double fall) = SlopeByLogMean(at, dispersion);
            (low, high) = slope > 0 ? (at, high) : (low, at);
            double next = at + Math.Clamp(slope / fall, -2, 2);
            next = next > low && next < high ? next : double.IsFinite(low + high) ? (low + high) / 2 : at;
            double moved = Math.Abs(next - at);
            at = next;
            if (!(moved > Settled * Math.Max(1, Math.Abs(at))))
            {
                break;
            }
        }

        return at;
    }

    private (double Slope, double Fall) SlopeByLogMean(double log, double dispersion)
    {
        double mean = Math.Exp(log), slope = 0, fall = 0;
        foreach ((int count, double exposure) in _units)
        {
            double expected = mean * exposure, growth = 1 + (dispersion * expected);
            slope += (count - expected) / growth;
            fall += expected * (1 + (dispersion * count)) / growth / growth;
        }

        return (slope, fall);
    }

    /// <summary>(ln(1 + z) - z / (1 + z)) / dispersion^2 with z = dispersion x expected, by its series where the difference cancels.</summary>
    private static double Remainder(double dispersion, double expected, double logOnePlus)
    {
        double z = dispersion * expected;
        return z < 1e-3
            ? expected * expected * (0.5 - (z * ((2.0 / 3) - (z * ((3.0 / 4) - (z * ((4.0 / 5) - (z * 5 / 6))))))))
            : (logOnePlus - (z / (1 + z))) / dispersion / dispersion;
    }
}
