using System.Numerics;
using System.Runtime.InteropServices;

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
    private const double CloseEntry = 0.9;

    private readonly LogAges _endLogs;
    private readonly LogAges _entryLogs;
    private readonly double[] _seenLogs;
    private readonly LogAges _foundLogs;
    private readonly AgeStretch[] _intervals;
    private readonly AgeStretch[] _closeEntries;
    private readonly double[] _closeFailedLogs;
    private readonly int _exact;
    private readonly int _exactApart;
    private readonly double _sumFailedLogs;
    private readonly double _sumFailedLogAges;

    public WeibullLikelihood(Lives lives)
    {
        Lives = lives;
        _exact = lives.FailedAges.Length;
        var close = new List<AgeStretch>();
        (double[] failed, double[] failedEntries) = WithoutClose(lives.FailedAges, lives.FailedEntries, close);
        _closeFailedLogs = [.. close.Select(c => c.LogEnd)];
        _exactApart = failed.Length;
        (double[] running, double[] runningEntries) = WithoutClose(lives.RunningAges, lives.RunningEntries, close);
        (double[] seen, double[] foundEntries) = LooksWithoutClose(lives, close);
        _endLogs = new LogAges(Logs([failed, running]));
        _entryLogs = new LogAges(WithoutNew(Logs([failedEntries, foundEntries, runningEntries])));
        _seenLogs = Logs([seen]);
        _foundLogs = new LogAges(Logs([lives.FoundAges]));
        _sumFailedLogAges = Sum(_endLogs.Values[.._exactApart]) + Sum(_closeFailedLogs);
        Centre = lives.Failures == 0 ? 0 : (_sumFailedLogAges + Sum(_foundLogs.Values)) / lives.Failures;
        Array.ForEach([_endLogs, _entryLogs, _foundLogs], logs => logs.Shift(-Centre));
        Array.ForEach([_seenLogs, _closeFailedLogs], logs => Shift(logs, -Centre));
        _intervals = [.. lives.FoundAges.Select((age, i) => Centred(AgeStretch.Between(lives.SeenWorkingAges[i], age)))];
        _closeEntries = [.. close.Select(Centred)];
        _sumFailedLogs = Sum(_endLogs.Values[.._exactApart]) + Sum(_closeFailedLogs);
    }

    /// <summary>The lives; kept so that bounds need no second reading.</summary>
    public Lives Lives { get; }

    /// <summary>Mean log age of the failures, subtracted from all log ages so that the two parameters are nearly uncorrelated.</summary>
    public double Centre { get; }

    /// <summary>True when at least one life was entered late.</summary>
    public bool HasEntries => _entryLogs.Count > 0 || _closeEntries.Length > 0;

    /// <summary>Root mean square of the centred log ages of the failures; 0 when all are equal or there are none.</summary>
    public double DeviationOfFailures
    {
        get
        {
            double sum = SumOfSquares(_endLogs.Values[.._exactApart]) + SumOfSquares(_closeFailedLogs) + SumOfSquares(_foundLogs.Values);
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
        for (int i = 0; i < _intervals.Length; i++)
        {
            sum += _intervals[i].HazardAt(offset, slope).Failed + SurvivedTo(_seenLogs[i], offset, slope);
        }

        foreach (AgeStretch stretch in _closeEntries)
        {
            sum += stretch.HazardAt(offset, slope).Survived;
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
        double close = _closeEntries.Sum(stretch => stretch.HazardAt(shift, slope).D);
        return Math.Log(ends + close - _entryLogs.Hazards(shift, slope).H) + shift;
    }

    /// <summary>Contribution -H of a part that works at an age; nothing for an age of 0 (minus infinity).</summary>
    private static Derivatives SurvivedTo(double logAge, double offset, double slope)
    {
        if (double.IsNegativeInfinity(logAge))
        {
            return default;
        }

        double h = Math.Exp((slope * logAge) - offset);
        return new Derivatives(-h, h, -h * logAge, -h, h * logAge, -h * logAge * logAge);
    }

    private AgeStretch Centred(AgeStretch stretch) => stretch with { LogEnd = stretch.LogEnd - Centre };

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
    /// Takes out the lives that were entered shortly before they ended: their two hazards may be so large that the difference of the two sums
    /// would be rounding alone, so their stretch is kept as one.
    /// </summary>
    private static (double[] Ends, double[] Entries) WithoutClose(double[] ends, double[] entries, List<AgeStretch> close)
    {
        bool[] isClose = [.. entries.Select((entry, i) => entry > CloseEntry * ends[i])];
        if (!isClose.Contains(true))
        {
            return (ends, entries);
        }

        close.AddRange(ends.Zip(entries).Where((_, i) => isClose[i]).Select(life => AgeStretch.Between(life.Second, life.First)));
        return ([.. ends.Where((_, i) => !isClose[i])], [.. entries.Where((_, i) => !isClose[i])]);
    }

    /// <summary>The same for looks; a look at the entry itself says nothing, so that both are dropped.</summary>
    private static (double[] Seen, double[] Entries) LooksWithoutClose(Lives lives, List<AgeStretch> close)
    {
        double[] seen = [.. lives.SeenWorkingAges];
        double[] entries = [.. lives.FoundEntries];
        for (int i = 0; i < entries.Length; i++)
        {
            if (entries[i] > CloseEntry * seen[i])
            {
                close.AddRange(seen[i] > entries[i] ? [AgeStretch.Between(entries[i], seen[i])] : []);
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
