using MathNet.Numerics.LinearAlgebra;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// A one-sided cumulative sum that lives on whole numbers: S = max(0, S + step), a signal when S is at or above the limit. The steps are
/// independent and take few values, so the sum is a finite Markov chain and its average run length is the solution of a linear system:
/// exact, not approximate. Brook and Evans (1972) Biometrika 59, 539.
/// </summary>
public static class LatticeCusum
{
    /// <summary>Average number of steps to a signal, exact.</summary>
    /// <param name="steps">The steps and their chances, which add up to 1.</param>
    /// <param name="limit">The limit, 1 or more.</param>
    /// <param name="start">Where the sum starts, 0 to limit - 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The limit or the start lies outside its range.</exception>
    public static double RunLength(IReadOnlyList<(int Step, double Chance)> steps, int limit, int start = 0)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(limit, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(start);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(start, limit);
        var equation = Matrix<double>.Build.DenseIdentity(limit);
        for (int sum = 0; sum < limit; sum++)
        {
            foreach ((int step, double chance) in steps.Where(one => sum + one.Step < limit))
            {
                equation[sum, Math.Max(0, sum + step)] -= chance;
            }
        }

        return equation.Solve(Vector<double>.Build.Dense(limit, 1))[start];
    }

    /// <summary>The smallest limit with at least so many steps, on average, between false alarms.</summary>
    /// <param name="steps">The steps while nothing has changed, and their chances; one at least goes up.</param>
    /// <param name="averageRunLength">Least average number of steps between false alarms, 1 to 100,000.</param>
    /// <returns>The limit, and the average that it really has: the limit is whole, so that it jumps.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The average lies outside its range.</exception>
    public static (int Limit, double RunLength) Design(IReadOnlyList<(int Step, double Chance)> steps, double averageRunLength)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(averageRunLength, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(averageRunLength, 1e5);
        (int low, int high) = (1, steps.Max(one => one.Step) + 1);
        while (RunLength(steps, high) < averageRunLength)
        {
            (low, high) = (high + 1, high * 2);
        }

        // The average grows with the limit, so the smallest one that is enough is found by halving.
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = RunLength(steps, middle) < averageRunLength ? (middle + 1, high) : (low, middle);
        }

        return (high, RunLength(steps, high));
    }
}
