using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;

namespace Washwear.Analytics.Cleaning;

/// <summary>Values of the two one-sided sums, one entry an observation.</summary>
/// <param name="High">Sums that grow when the mean rises, 0 or more.</param>
/// <param name="Low">Sums that grow when the mean falls, 0 or more.</param>
public sealed record CusumPath(IReadOnlyList<double> High, IReadOnlyList<double> Low)
{
    /// <summary>Numbers (from 1) of the observations at which a sum lies above a limit.</summary>
    /// <param name="sums">One of the two paths.</param>
    /// <param name="limit">The limit; a sum that equals it is no signal.</param>
    public static IReadOnlyList<int> Above(IReadOnlyList<double> sums, double limit) =>
        [.. Enumerable.Range(1, sums.Count).Where(i => sums[i - 1] > limit)];
}

/// <summary>
/// Two one-sided cumulative sums from 0: high = max(0, high + x - target - k), low = max(0, low + target - k - x); a signal when a sum is
/// above h. The average run lengths are exact for independent normal observations with standard deviation 1 (so k and h in standard
/// deviations), by the integral equation of Page (1954) Biometrika 41, 100; both sides together by 1 / (1 / up + 1 / down), exact when the
/// sums cannot both be above 0 and signal (Kemp 1961). Lucas and Crosier (1982) Technometrics 24, 199 for the head start.
/// </summary>
public static class TabularCusum
{
    private const int Nodes = 128;

    /// <summary>Both sums over a series.</summary>
    /// <param name="values">The observations, in order.</param>
    /// <param name="target">Mean while nothing has changed.</param>
    /// <param name="k">Allowance, in the unit of the observations: half the shift to be found.</param>
    public static CusumPath Path(IEnumerable<double> values, double target, double k)
    {
        (double high, double low) = (0, 0);
        List<double> highs = [];
        List<double> lows = [];
        foreach (double x in values)
        {
            high = Math.Max(0, high + x - target - k);
            low = Math.Max(0, low + target - k - x);
            highs.Add(high);
            lows.Add(low);
        }

        return new CusumPath(highs, lows);
    }

    /// <summary>Average number of observations until the rising sum signals.</summary>
    /// <param name="k">Allowance in standard deviations, 0 or more.</param>
    /// <param name="h">Limit in standard deviations, above 0.</param>
    /// <param name="shift">By how many standard deviations the mean lies above target from the first observation on; negative =
    /// below.</param>
    /// <param name="headStart">Where the sum starts, 0 to h.</param>
    public static double RunLength(double k, double h, double shift, double headStart = 0)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(k);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(h);
        return new RunLengthEquation(
            0, h, Nodes, (u, y) => Normal.PDF(0, 1, y + k - u - shift), 0, u => Normal.CDF(0, 1, k - u - shift)).From(headStart);
    }

    /// <summary>Average number of observations until either sum signals.</summary>
    /// <param name="k">Allowance in standard deviations.</param>
    /// <param name="h">Limit in standard deviations.</param>
    /// <param name="shift">Shift of the mean in standard deviations.</param>
    public static double RunLengthTwoSided(double k, double h, double shift)
    {
        (double up, double down) = (RunLength(k, h, Math.Abs(shift)), DownRunLength(k, h, Math.Abs(shift)));
        return 1 / ((1 / up) + (1 / down));
    }

    /// <summary>The limit at which either sum signals once in so many observations while nothing has changed.</summary>
    /// <param name="k">Allowance in standard deviations.</param>
    /// <param name="averageRunLength">Average number of observations between false alarms, 5 to 1,000,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">The average lies outside its range.</exception>
    public static double LimitTwoSided(double k, double averageRunLength)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(averageRunLength, 5);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(averageRunLength, 1e6);

        // Step up to the root: far beyond it the run length outgrows what the equation can hold.
        double upper = 1;
        while (RunLength(k, upper, 0) / 2 < averageRunLength)
        {
            upper++;
        }

        return Brent.FindRoot(h => Math.Log(RunLength(k, h, 0) / 2 / averageRunLength), 0.01, upper, 1e-9, 200);
    }

    /// <summary>Siegmund's (1985) approximation of <see cref="RunLength"/> from a start at 0; tells where the exact one outgrows its
    /// digits.</summary>
    /// <param name="k">Allowance in standard deviations.</param>
    /// <param name="h">Limit in standard deviations.</param>
    /// <param name="shift">Shift of the mean in standard deviations.</param>
    public static double SiegmundRunLength(double k, double h, double shift)
    {
        (double drift, double b) = (shift - k, h + 1.166);
        return drift == 0 ? b * b : (Math.Exp(-2 * drift * b) + (2 * drift * b) - 1) / (2 * drift * drift);
    }

    private static double DownRunLength(double k, double h, double shift) =>
        SiegmundRunLength(k, h, -shift) > 1e9 ? double.PositiveInfinity : RunLength(k, h, -shift);
}
