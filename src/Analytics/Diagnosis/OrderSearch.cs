using System.Numerics;

namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// The best order by dynamic programming: the least cost from a set of checks done to the end is the least, over the next check, of its own
/// cost and the least cost from there. Sets are bit masks; 2^checks states.
/// </summary>
internal sealed class OrderSearch(OrderProblem problem)
{
    private readonly int _checks = problem.Checks.Count;

    public int[] Best()
    {
        PassState[] states = States();
        int all = states.Length - 1;
        double[] least = new double[states.Length];
        int[] next = new int[states.Length];
        for (int done = all; done >= 0; done--)
        {
            (least[done], next[done]) = From(done, states[done], least);
        }

        List<int> order = [];
        for (int done = 0; done != all; done |= 1 << next[done])
        {
            order.Add(next[done]);
        }

        return [.. order];
    }

    private PassState[] States()
    {
        var states = new PassState[1 << _checks];
        states[0] = new PassState(problem);
        for (int done = 1; done < states.Length; done++)
        {
            int lowest = BitOperations.TrailingZeroCount(done);
            states[done] = states[done & (done - 1)].After(lowest);
        }

        return states;
    }

    private (double Minutes, int Next) From(int done, PassState state, double[] least)
    {
        int[] left = [.. Enumerable.Range(0, _checks).Where(check => (done >> check & 1) == 0)];
        if (state.Spared() is { } cause)
        {
            return (state.OpenWith(cause) * problem.RepairMinutes[cause], left.FirstOrDefault());
        }

        // Checks that cost the same either way come in the order of the list.
        return left.Length == 0
            ? (state.EndMinutes(), 0)
            : left.Select(check => (Minutes: state.StepMinutes(check) + least[done | 1 << check], check)).MinBy(way => way.Minutes);
    }
}
