using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Recurrence;

/// <summary>Sums over windows (f, s] of s^b - f^b and its first two derivatives by b.</summary>
/// <param name="Sum">Sum of s^b - f^b.</param>
/// <param name="ByLog">Sum of s^b ln s - f^b ln f.</param>
/// <param name="BySquare">Sum of s^b ln^2 s - f^b ln^2 f.</param>
internal readonly record struct PowerSums(double Sum, double ByLog, double BySquare);

/// <summary>Windows in units of a length, so that powers neither vanish nor grow beyond numbers.</summary>
internal sealed class PowerWindows
{
    private readonly (double LogEnd, double LogRatio, int Count)[] _windows;

    /// <summary>Takes windows down.</summary>
    /// <param name="windows">Begin, 0 or more, and end, above it.</param>
    /// <param name="length">The unit of length, above 0.</param>
    /// <exception cref="ArgumentException">No window, or one that begins below 0 or does not end after it began.</exception>
    public PowerWindows(IEnumerable<(double From, double To)> windows, double length)
    {
        (double From, double To)[] all = [.. windows];
        if (all.Length == 0 || all.Any(w => !(w.From >= 0 && w.To > w.From && double.IsFinite(w.To))))
        {
            throw new ArgumentException("Windows begin at an age of 0 or more and end above it; at least one is needed.", nameof(windows));
        }

        // Equal windows are taken once.
        _windows =
        [
            .. all.GroupBy(w => w).Select(g => (
                Math.Log(g.Key.To / length),
                g.Key.From == 0 ? double.NegativeInfinity : Elementary.LogOnePlus((g.Key.From - g.Key.To) / g.Key.To),
                g.Count())),
        ];
    }

    /// <summary>The sums at an exponent above 0, without differences of near-equal powers.</summary>
    public PowerSums At(double exponent)
    {
        double sum = 0, byLog = 0, bySquare = 0;
        foreach ((double logEnd, double logRatio, int count) in _windows)
        {
            double end = count * Math.Exp(exponent * logEnd);
            double begin = end * Math.Exp(exponent * logRatio);
            double gain = -end * Elementary.ExpMinusOne(exponent * logRatio);
            double ratio = begin == 0 ? 0 : logRatio;
            sum += gain;
            byLog += (gain * logEnd) - (begin * ratio);
            bySquare += (gain * logEnd * logEnd) - (begin * ratio * ((2 * logEnd) + ratio));
        }

        return new PowerSums(sum, byLog, bySquare);
    }
}
