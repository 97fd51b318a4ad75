using MathNet.Numerics.Integration;
using MathNet.Numerics.LinearAlgebra;

namespace Washwear.Analytics.Cleaning;

/// <summary>
/// Average run length of a chart whose statistic wanders on an interval until it leaves it: L(u) = 1 + L(atom) a(u) + integral of L(y) d(u,
/// y) dy, solved by Gauss-Legendre quadrature (Nystroem). An atom is a point on which the statistic comes to rest with positive chance,
/// such as the zero of a one-sided sum. Page (1954) Biometrika 41, 100; Crowder (1987) Technometrics 29, 401.
/// </summary>
internal sealed class RunLengthEquation
{
    private readonly double[] _points;
    private readonly double[] _weights;
    private readonly double? _atom;
    private readonly Func<double, double> _atomChance;
    private readonly Func<double, double, double> _density;

    /// <param name="lower">Lower end of the interval.</param>
    /// <param name="upper">Upper end.</param>
    /// <param name="nodes">Number of quadrature points; 32, 64, 96, 100, 128, 256 are tabulated to full digits.</param>
    /// <param name="density">Density of going from the first argument to the second.</param>
    /// <param name="atom">Where the statistic comes to rest; null when nowhere.</param>
    /// <param name="atomChance">Chance of going from a value to the atom.</param>
    public RunLengthEquation(
        double lower, double upper, int nodes, Func<double, double, double> density, double? atom = null, Func<double, double>? atomChance = null)
    {
        GaussLegendreRule rule = new(lower, upper, nodes);
        (_atom, _atomChance, _density) = (atom, atomChance ?? (_ => 0), density);
        _points = atom is { } rest ? [rest, .. rule.Abscissas] : rule.Abscissas;
        _weights = atom is null ? rule.Weights : [0, .. rule.Weights];
    }

    /// <summary>Average number of steps until the statistic leaves the interval.</summary>
    /// <param name="start">Where it starts.</param>
    public double From(double start)
    {
        int n = _points.Length;
        var equation = Matrix<double>.Build.Dense(n, n, (i, j) => (i == j ? 1 : 0) - Chance(_points[i], j));
        Vector<double> solved = equation.Solve(Vector<double>.Build.Dense(n, 1));
        return 1 + Enumerable.Range(0, n).Sum(j => Chance(start, j) * solved[j]);
    }

    /// <summary>
    /// Average number of steps from the atom when the law changes from step to step: the sum over i of the chance of being still inside
    /// after i steps.
    /// </summary>
    /// <param name="atStep">The equation that holds at step 1, 2, ...; all on the same points.</param>
    public static double FromAtomChanging(Func<int, RunLengthEquation> atStep)
    {
        double[] mass = [1, .. new double[atStep(1)._points.Length - 1]];
        double sum = 0;
        for (int step = 1; mass.Sum() >= NegligibleChance; step++)
        {
            sum += mass.Sum();
            mass = atStep(step).Step(mass);
        }

        return sum;
    }

    private const double NegligibleChance = 1e-13;

    private double[] Step(double[] mass)
    {
        double[] next = new double[mass.Length];
        for (int i = 0; i < mass.Length; i++)
        {
            for (int j = 0; j < mass.Length; j++)
            {
                next[j] += mass[i] * Chance(_points[i], j);
            }
        }

        return next;
    }

    /// <summary>Chance of going from a value to the neighbourhood that the j-th point stands for.</summary>
    private double Chance(double from, int j) =>
        j == 0 && _atom is not null ? _atomChance(from) : _weights[j] * _density(from, _points[j]);
}
