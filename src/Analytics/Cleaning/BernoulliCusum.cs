using MathNet.Numerics.RootFinding;

namespace Washwear.Analytics.Cleaning;

/// <summary>A Bernoulli chart and what it does on average.</summary>
/// <param name="BaseShare">p0, share of bad washes while nothing has changed.</param>
/// <param name="WorseShare">p1, share that the chart is tuned to, so that its steps are whole multiples of 1 / m.</param>
/// <param name="StepsPerBadWash">m: a bad wash adds m - 1 units, a good one takes 1 away.</param>
/// <param name="LimitUnits">H: a signal when the sum reaches so many units of 1 / m.</param>
/// <param name="WashesToFalseAlarm">Average number of washes to a signal while nothing has changed; exact.</param>
/// <param name="WashesToSignalWhenWorse">Average number of washes to a signal when the share is p1 from the first wash on; exact.</param>
public sealed record BernoulliDesign(
    double BaseShare,
    double WorseShare,
    int StepsPerBadWash,
    int LimitUnits,
    double WashesToFalseAlarm,
    double WashesToSignalWhenWorse)
{
    /// <summary>False alarms that the chart really has in a unit-year.</summary>
    /// <param name="washesPerYear">Washes of a unit in a year, above 0.</param>
    public double FalseAlarmsPerYear(double washesPerYear) => washesPerYear / WashesToFalseAlarm;
}

/// <summary>
/// Cumulative sum on good and bad washes: B = max(0, B + x - 1 / m) with x = 1 for a bad wash and 0 for a good one; a signal when B is at
/// or above H / m. The reference value is gamma = r1 / r2 with r1 = -ln((1 - p1) / (1 - p0)) and r2 = ln(p1 (1 - p0) / (p0 (1 - p1))),
/// brought to 1 / m by a small change of p1, so that the sum lives on multiples of 1 / m and its run lengths are exact. Reynolds and
/// Stoumbos (1999) J. Quality Technology 31, 87; Brook and Evans (1972) Biometrika 59, 539. H is whole, so the false-alarm rate jumps: the
/// rate reached is returned.
/// </summary>
public static class BernoulliCusum
{
    private const double LargestShare = 0.95;

    /// <summary>gamma = r1 / r2, the share between p0 and p1 at which the sum neither rises nor falls.</summary>
    /// <param name="baseShare">p0, above 0 and below p1.</param>
    /// <param name="worseShare">p1, below 1.</param>
    public static double ReferenceValue(double baseShare, double worseShare)
    {
        if (!(baseShare > 0 && baseShare < worseShare && worseShare < 1))
        {
            throw new ArgumentOutOfRangeException(
                nameof(worseShare), worseShare, $"0 < {baseShare} < {worseShare} < 1 must hold: share while sound, share when worse.");
        }

        double r1 = -Math.Log((1 - worseShare) / (1 - baseShare));
        double r2 = Math.Log(worseShare * (1 - baseShare) / (baseShare * (1 - worseShare)));
        return r1 / r2;
    }

    /// <summary>p1 for which the reference value is exactly 1 / m; null when that needs more than 95 % bad washes.</summary>
    /// <param name="baseShare">p0, above 0 and below 1 / m.</param>
    /// <param name="steps">m, 2 or more.</param>
    public static double? WorseShareFor(double baseShare, int steps) =>
        1.0 / steps <= baseShare || ReferenceValue(baseShare, LargestShare) < 1.0 / steps
            ? null
            : Brent.FindRoot(p => ReferenceValue(baseShare, p) - (1.0 / steps), baseShare * 1.0001, LargestShare, 1e-15, 500);

    /// <summary>Average number of washes to a signal, exact.</summary>
    /// <param name="steps">m, 2 or more.</param>
    /// <param name="limitUnits">H, 1 or more.</param>
    /// <param name="share">Share of bad washes, above 0 and below 1.</param>
    /// <param name="startUnits">Where the sum starts, 0 to H - 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static double RunLength(int steps, int limitUnits, double share, int startUnits = 0)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(steps, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(limitUnits, 1);
        ProportionChart.RequireChance(share, nameof(share));
        return LatticeCusum.RunLength([(steps - 1, share), (-1, 1 - share)], limitUnits, startUnits);
    }

    /// <summary>The chart with the smallest limit that has at least so many washes between false alarms.</summary>
    /// <param name="baseShare">p0, 0.002 to 0.3.</param>
    /// <param name="worseShare">p1 to be found, above p0 and below 1.</param>
    /// <param name="washesToFalseAlarm">Least average number of washes between false alarms, 1 to 100,000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public static BernoulliDesign Design(double baseShare, double worseShare, double washesToFalseAlarm)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(baseShare, 0.002);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(baseShare, 0.3);
        ArgumentOutOfRangeException.ThrowIfLessThan(washesToFalseAlarm, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(washesToFalseAlarm, 1e5);
        int steps = Math.Max(2, (int)Math.Round(1 / ReferenceValue(baseShare, worseShare)));
        double tuned = WorseShareFor(baseShare, steps) ?? worseShare;
        (int limit, double between) = LatticeCusum.Design([(steps - 1, baseShare), (-1, 1 - baseShare)], washesToFalseAlarm);
        return new BernoulliDesign(baseShare, tuned, steps, limit, between, RunLength(steps, limit, tuned));
    }
}
