using MathNet.Numerics.LinearAlgebra;

namespace Washwear.Analytics.Recurrence;

/// <summary>
/// Contributions of each unit to its and the other groups' observed less expected events. With L the mean cumulative function over all
/// groups and p_g the share of group g among those at risk, a unit of group h contributes to group g: (own events - L gathered while
/// watched, if g = h) - (sum of p_g over own events - p_g dL gathered while watched). What is gathered is a difference of running sums at
/// entry and end, so the whole takes time in proportion to (units + events) x groups.
/// </summary>
internal sealed class GroupScores
{
    private readonly int _groups;
    private readonly int[] _groupOf;
    private readonly double[,] _own;
    private readonly double[] _running;
    private readonly int[] _atRisk;

    private GroupScores(int groups, int[] groupOf)
    {
        _groups = groups;
        _groupOf = groupOf;

        // Columns 0 to groups - 1 belong to p_g, the last to the whole.
        _own = new double[groupOf.Length, groups + 1];
        _running = new double[groups + 1];
        _atRisk = new int[groups];
        Expected = new double[groups];
        Variance = Matrix<double>.Build.Dense(groups, groups);
    }

    /// <summary>Expected events of each group.</summary>
    public double[] Expected { get; }

    /// <summary>Sum over units of products of their contributions, groups by groups.</summary>
    public Matrix<double> Variance { get; }

    /// <summary>Gathers the contributions of all units.</summary>
    public static GroupScores Of(IReadOnlyList<HistoryGroup> groups)
    {
        EventHistory[] all = [.. groups.SelectMany(g => g.Histories)];
        var scores = new GroupScores(groups.Count, [.. groups.SelectMany((g, i) => Enumerable.Repeat(i, g.Histories.Count))]);
        var sweep = new RecurrenceSweep(all, 0);
        bool[] watched = new bool[all.Length];
        while (sweep.Next())
        {
            scores.Move(sweep.Entered, watched, enters: true);
            scores.Move(sweep.Left, watched, enters: false);
            scores.AddEvents(sweep.EventUnits, sweep.AtRisk);
        }

        scores.Move([.. Enumerable.Range(0, all.Length).Where(i => watched[i])], watched, enters: false);
        scores.Close();
        return scores;
    }

    private void Move(ReadOnlySpan<int> units, bool[] watched, bool enters)
    {
        foreach (int unit in units)
        {
            watched[unit] = enters;
            _atRisk[_groupOf[unit]] += enters ? 1 : -1;
            for (int g = 0; g <= _groups; g++)
            {
                _own[unit, g] += enters ? _running[g] : -_running[g];
            }
        }
    }

    private void AddEvents(ReadOnlySpan<int> eventUnits, double atRisk)
    {
        double mean = eventUnits.Length / atRisk;
        foreach (int unit in eventUnits)
        {
            _own[unit, _groups] += 1;
            for (int g = 0; g < _groups; g++)
            {
                _own[unit, g] += _atRisk[g] / atRisk;
            }
        }

        _running[_groups] += mean;
        for (int g = 0; g < _groups; g++)
        {
            _running[g] += _atRisk[g] / atRisk * mean;
            Expected[g] += _atRisk[g] * mean;
        }
    }

    private void Close()
    {
        double[] score = new double[_groups];
        for (int unit = 0; unit < _groupOf.Length; unit++)
        {
            for (int g = 0; g < _groups; g++)
            {
                score[g] = (g == _groupOf[unit] ? _own[unit, _groups] : 0) - _own[unit, g];
            }

            for (int g = 0; g < _groups; g++)
            {
                for (int h = 0; h < _groups; h++)
                {
                    Variance[g, h] += score[g] * score[h];
                }
            }
        }
    }
}
