namespace Washwear.Analytics.Tests.Reference;

/// <summary>
/// Average run length of the one-sided sum by a Markov chain of N states, width 2h / (2N - 1): Brook and Evans (1972) Biometrika 59, 539.
/// Slow, plain elimination, its own normal distribution by series; shares nothing with the integral equation of the product.
/// </summary>
public static class CleaningRunLengthChain
{
    public static double OneSided(double k, double h, double shift, int states)
    {
        double width = 2 * h / ((2 * states) - 1);
        double[,] a = new double[states, states + 1];
        for (int i = 0; i < states; i++)
        {
            for (int j = 0; j < states; j++)
            {
                double upper = Phi(((j - i) * width) + (width / 2) + k - shift);
                double lower = j == 0 ? 0 : Phi(((j - i) * width) - (width / 2) + k - shift);
                a[i, j] = (i == j ? 1 : 0) - (upper - lower);
            }

            a[i, states] = 1;
        }

        return FirstOfSolution(a);
    }

    private static double FirstOfSolution(double[,] a)
    {
        int n = a.GetLength(0);
        for (int pivot = n - 1; pivot > 0; pivot--)
        {
            for (int row = 0; row < pivot; row++)
            {
                double factor = a[row, pivot] / a[pivot, pivot];
                for (int column = 0; column <= n; column++)
                {
                    a[row, column] -= factor * a[pivot, column];
                }
            }
        }

        return a[0, n] / a[0, 0];
    }

    /// <summary>Normal distribution: x - x^3/3 + ..., as x (1 + x^2/3 + x^4/(3 5) + ...) times the density (Marsaglia 2004).</summary>
    private static double Phi(double x)
    {
        if (Math.Abs(x) > 9)
        {
            return x > 0 ? 1 : 0;
        }

        (double sum, double term) = (x, x);
        for (int i = 3; sum + term != sum; i += 2)
        {
            term *= x * x / i;
            sum += term;
        }

        return 0.5 + (sum * Math.Exp(-x * x / 2) / Math.Sqrt(2 * Math.PI));
    }
}
