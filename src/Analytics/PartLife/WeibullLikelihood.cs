using System.Numerics;
using System.Runtime.InteropServices;

using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>
/// Log-likelihood of lives under a Weibull curve with its first and second derivatives, in one pass over the data.
/// <para>
/// Parametrised by the line of the probability plot: ln H(t) = slope x l - offset with l = ln t - Centre, H the cumulative hazard;
/// slope = shape, offset = shape x (ln scale - Centre). An exact failure adds ln f, a censored life ln S, a failure between looks
/// ln(S(lo) - S(hi)), and each life entered late subtracts ln S(entry) (Lawless 2003, Statistical Models and Methods for Lifetime
/// Data, 2.4 and 3.5). Without delayed entry this is concave in (offset, slope): ln t has a log-concave density (Burridge 1981, JRSS B
/// 43, 41-45). With delayed entry and exact ages it is concave in (ln slope - offset, slope), because the hazard is then the
/// exponential of a linear function. So a stationary point is the maximum in both cases.
/// </para>
/// </summary>
internal sealed class WeibullLikelihood
{
    private const double SmallHazard = 1e-8;
    private const double LargeHazard = 700;

    private readonly LogAges _endLogs;
    private readonly LogAges _entryLogs;
    private readonly double[] _seenLogs;
    private readonly double[] _ratioLogs;
    private readonly LogAges _foundLogs;
    private readonly int _exact;
    private readonly double _sumFailedLogs;
    private readonly double _sumFailedLogAges;

    public WeibullLikelihood(Lives lives)
    {
        Lives = lives;
        _exact = lives.FailedAges.Length;
        _endLogs = new LogAges(Logs([lives.FailedAges, lives.RunningAges]));
        (double[] seen, double[] foundEntries) = WithoutLooksAtEntry(lives);
        _entryLogs = new LogAges(WithoutNew(Logs([lives.FailedEntries, foundEntries, lives.RunningEntries])));
        _seenLogs = Logs([seen]);
        _ratioLogs = Logs([lives.SeenWorkingAges]);
        _foundLogs = new LogAges(Logs([lives.FoundAges]));
        _sumFailedLogAges = Sum(_endLogs.Values[.._exact]);
        Centre = lives.Failures == 0 ? 0 : (_sumFailedLogAges + Sum(_foundLogs.Values)) / lives.Failures;
        Array.ForEach([_endLogs, _entryLogs, _foundLogs], logs => logs.Shift(-Centre));
        Array.ForEach([_seenLogs, _ratioLogs], logs => Shift(logs, -Centre));
        _sumFailedLogs = Sum(_endLogs.Values[.._exact]);
    }

    /// <summary>The lives; kept so that bounds need no second reading.</summary>
    public Lives Lives { get; }

    /// <summary>Mean log age of the failures, subtracted from all log ages so that the two parameters are nearly uncorrelated.</summary>
    public double Centre { get; }

    /// <summary>True when at least one life was entered late.</summary>
    public bool HasEntries => _entryLogs.Count > 0;

    /// <summary>Root mean square of the centred log ages of the failures; 0 when all are equal or there are none.</summary>
    public double DeviationOfFailures
    {
        get
        {
            double sum = SumOfSquares(_endLogs.Values[.._exact]) + SumOfSquares(_foundLogs.Values);
            return Lives.Failures == 0 ? 0 : Math.Sqrt(sum / Lives.Failures);
        }
    }

    /// <summary>Makes evaluations near a slope quick where the lives are many; to be called once, before the likelihood is shared.</summary>
    public void ExpandAt(double offset, double slope)
    {
        _endLogs.ExpandAt(offset, slope);
        _entryLogs.ExpandAt(offset, slope);
    }

    /// <summary>Value and derivatives at a point. The value is negative infinity where it cannot be computed.</summary>
    public Derivatives At(double offset, double slope)
    {
        HazardSums ends = _endLogs.Hazards(offset, slope);
        HazardSums entries = _entryLogs.Hazards(offset, slope);
        double h = ends.H - entries.H;
        double hl = ends.HL - entries.HL;
        double hll = ends.HLL - entries.HLL;
        var sum = new Derivatives(
            (_exact * (Math.Log(slope) - offset)) + (slope * _sumFailedLogs) - _sumFailedLogAges - h,
            h - _exact,
            (_exact / slope) + _sumFailedLogs - hl,
            -h,
            hl,
            -(_exact / (slope * slope)) - hll);
        for (int i = 0; i < _foundLogs.Count; i++)
        {
            sum += BetweenLooks(_seenLogs[i], _ratioLogs[i], _foundLogs[i], offset, slope);
        }

        return sum.IsFinite ? sum : Derivatives.Impossible;
    }

    /// <summary>Offset at which the model expects as many failures as there were, taking each failure at the age it was found.</summary>
    public double OffsetFor(double slope) => LogHazardAtZeroOffset(slope) - Math.Log(Lives.Failures);

    /// <summary>ln of the hazard gathered by all lives at offset 0, found relative to the oldest part so that no power overflows.</summary>
    public double LogHazardAtZeroOffset(double slope)
    {
        if (Lives.Count == 0)
        {
            return double.NegativeInfinity;
        }

        double shift = slope * (Math.Log(Lives.OldestAge) - Centre);
        double ends = _endLogs.Hazards(shift, slope).H + _foundLogs.Hazards(shift, slope).H;
        return Math.Log(ends - _entryLogs.Hazards(shift, slope).H) + shift;
    }

    /// <summary>
    /// ln(S(lo) - S(hi)) = -H(lo) + ln(1 - e^-D), D = H(hi) - H(lo), written with r = D/(e^D - 1) and the moments of ln t over the
    /// interval so that nothing overflows or cancels when D is tiny or huge.
    /// </summary>
    /// <param name="survived">ln of the age survived to; minus infinity when that is no more than the entry.</param>
    /// <param name="seen">ln of the age last seen working; minus infinity for a part never looked at.</param>
    /// <param name="found">ln of the age found failed.</param>
    /// <param name="offset">Offset of the line.</param>
    /// <param name="slope">Slope of the line.</param>
    private static Derivatives BetweenLooks(double survived, double seen, double found, double offset, double slope)
    {
        bool fromNew = double.IsNegativeInfinity(seen);
        bool onlyEntry = double.IsNegativeInfinity(survived);
        double logHi = (slope * found) - offset;
        double hi = Math.Exp(logHi);
        double ratio = fromNew ? 0 : Math.Exp(slope * (seen - found));
        double gap = fromNew ? 1 : -Elementary.ExpMinusOne(slope * (seen - found));
        double lo = onlyEntry ? 0 : Math.Exp((slope * survived) - offset);
        double seenLog = fromNew ? 0 : seen;
        double d = hi * gap;
        double r = d > LargeHazard ? 0 : d < SmallHazard ? 1 - (d / 2) : d / Elementary.ExpMinusOne(d);
        double k = d > LargeHazard ? 0 : r * (r + d);
        double m1 = (found - (seenLog * ratio)) / gap;
        double m2 = ((found * found) - (seenLog * seenLog * ratio)) / gap;
        double logFailed = d < SmallHazard ? logHi + Math.Log(gap) - (d / 2) : Elementary.LogOnePlus(-Math.Exp(-d));
        return new Derivatives(
            logFailed - lo,
            lo - r,
            (r * m1) - (seenLog * lo),
            r - k - lo,
            (seenLog * lo) - ((r - k) * m1),
            (r * m2) - (k * m1 * m1) - (seenLog * seenLog * lo));
    }

    private static double Sum(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        return sum;
    }

    private static double SumOfSquares(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value * value;
        }

        return sum;
    }

    private static double[] Logs(double[][] columns)
    {
        double[] logs = new double[columns.Sum(c => c.Length)];
        int at = 0;
        foreach (double[] column in columns)
        {
            Array.Copy(column, 0, logs, at, column.Length);
            at += column.Length;
        }

        Span<Vector<double>> blocks = MemoryMarshal.Cast<double, Vector<double>>(logs.AsSpan());
        for (int i = 0; i < blocks.Length; i++)
        {
            blocks[i] = Vector.Log(blocks[i]);
        }

        for (int i = blocks.Length * Vector<double>.Count; i < logs.Length; i++)
        {
            logs[i] = Math.Log(logs[i]);
        }

        return logs;
    }

    private static void Shift(double[] values, double by)
    {
        for (int i = 0; i < values.Length; i++)
        {
            values[i] += by;
        }
    }

    /// <summary>
    /// A look at the entry itself cancels against the entry: both are dropped, because their hazards may be so large that the difference of
    /// the two sums would be rounding alone.
    /// </summary>
    private static (double[] Seen, double[] Entries) WithoutLooksAtEntry(Lives lives)
    {
        double[] seen = [.. lives.SeenWorkingAges];
        double[] entries = [.. lives.FoundEntries];
        for (int i = 0; i < entries.Length; i++)
        {
            if (seen[i] == entries[i])
            {
                (seen[i], entries[i]) = (0, 0);
            }
        }

        return (seen, entries);
    }

    /// <summary>An entry at 0 has no hazard behind it: it is left out of the sums.</summary>
    private static double[] WithoutNew(double[] logs) =>
        Array.Exists(logs, double.IsNegativeInfinity) ? Array.FindAll(logs, l => !double.IsNegativeInfinity(l)) : logs;
}

/// <summary>A log-likelihood with gradient and second derivatives in (offset, slope).</summary>
internal readonly record struct Derivatives(
    double Value, double Offset, double Slope, double OffsetOffset, double OffsetSlope, double SlopeSlope)
{
    public static readonly Derivatives Impossible = new(double.NegativeInfinity, 0, 0, 0, 0, 0);

    public bool IsFinite => double.IsFinite(Value + Offset + Slope + OffsetOffset + OffsetSlope + SlopeSlope);

    public static Derivatives operator +(Derivatives a, Derivatives b) => new(
        a.Value + b.Value, a.Offset + b.Offset, a.Slope + b.Slope,
        a.OffsetOffset + b.OffsetOffset, a.OffsetSlope + b.OffsetSlope, a.SlopeSlope + b.SlopeSlope);
}
