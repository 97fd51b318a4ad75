namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Running sums behind the mean cumulative function's variances. A unit's influence on the mean is its own events over the number at risk,
/// less V, the sum of events / at risk squared, gathered while it was watched. The sum over units of squared influences is carried from
/// age to age: with d events at r units at risk it grows by (r sum d_i^2 - d^2) / r^3 + 2 (sum d_i I_i - (d/r) sum I_i) / r, the sums
/// over units at risk, and the sum of influences changes only where a unit leaves. So an age costs what its own events cost.
/// </summary>
internal sealed class InfluenceSums(int units)
{
    // Own events / at risk since entry, plus V at entry: the influence is this less V.
    private readonly double[] _own = new double[units];
    private double _influences;
    private double _squares;
    private double _ownOfAtRisk;
    private double _nelson;
    private bool _alone;
    private bool _enteredLate;

    /// <summary>The mean cumulative function.</summary>
    public double Mean { get; private set; }

    /// <summary>V, the variance of the mean if all units were one and the same Poisson process.</summary>
    public double PoissonVariance { get; private set; }

    /// <summary>Robust standard error; null once a single unit was at risk. Rounding may bring a square of 0 below it.</summary>
    public double? SeRobust => _alone ? null : Math.Sqrt(Math.Max(0, _squares));

    /// <summary>Nelson's standard error; null where it is not defined.</summary>
    public double? SeNelson => _alone || _enteredLate || _nelson < 0 ? null : Math.Sqrt(_nelson);

    /// <summary>Adds the events of the age that the walk has reached.</summary>
    public void Add(RecurrenceSweep sweep)
    {
        _enteredLate |= Mean > 0 && sweep.Entered.Length > 0;
        foreach (int unit in sweep.Entered)
        {
            _own[unit] = PoissonVariance;
        }

        foreach (int unit in sweep.Left)
        {
            _influences -= _own[unit] - PoissonVariance;
            _ownOfAtRisk -= _own[unit];
        }

        _alone |= sweep.AtRisk == 1;
        AddEvents(sweep.EventUnits, sweep.AtRisk);
    }

    private void AddEvents(ReadOnlySpan<int> eventUnits, int atRisk)
    {
        double events = eventUnits.Length, byInfluence = 0, byOwn = 0;
        long squares = 0;
        for (int i = 0, own; i < eventUnits.Length; i += own)
        {
            int unit = eventUnits[i];
            for (own = 1; i + own < eventUnits.Length && eventUnits[i + own] == unit;)
            {
                own++;
            }

            byInfluence += own * (_own[unit] - PoissonVariance);
            byOwn += own * _own[unit];
            squares += (long)own * own;
            _own[unit] += (double)own / atRisk;
        }

        double mean = events / atRisk;
        double spread = ((double)((atRisk * squares) - ((long)eventUnits.Length * eventUnits.Length))) / atRisk;
        _squares += (spread / atRisk / atRisk) + (2 * (byInfluence - (mean * _influences)) / atRisk);
        _nelson += atRisk == 1 ? 0 : ((spread / atRisk) + (2 * (byOwn - (mean * _ownOfAtRisk)))) / (atRisk - 1);
        _ownOfAtRisk += mean;
        Mean += mean;
        PoissonVariance += mean / atRisk;
    }
}
