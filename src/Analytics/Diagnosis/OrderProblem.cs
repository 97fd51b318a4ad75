namespace Washwear.Analytics.Diagnosis;

/// <summary>One pass through a list of checks, to be put in order. Immutable.</summary>
public sealed record OrderProblem
{
    /// <summary>A problem.</summary>
    /// <param name="probabilities">Probability of each cause. What they lack to 1 belongs to a cause that no check speaks of.</param>
    /// <param name="checks">The checks.</param>
    /// <param name="repairMinutes">Minutes to repair each cause and prove it, 0 or more; empty: 0 for all.</param>
    /// <param name="secondVisitMinutes">What it costs to leave without success, minutes, 0 or more.</param>
    /// <param name="sparesTheLast">Whether a cause is repaired without a check once it is the only one that is left. It never is while a
    /// check that spoke of another may have missed it, nor while something else may be the cause.</param>
    /// <exception cref="ArgumentException">A number lies outside its range, the probabilities add to more than 1, or the counts do not
    /// agree.</exception>
    public OrderProblem(
        IReadOnlyList<double> probabilities, IReadOnlyList<DiagnosticCheck> checks, IReadOnlyList<double>? repairMinutes = null,
        double secondVisitMinutes = 0, bool sparesTheLast = false)
    {
        ArgumentNullException.ThrowIfNull(checks);
        _ = Requirements.Normalised(probabilities);
        Requirements.InRange(secondVisitMinutes, 0, double.MaxValue, nameof(secondVisitMinutes));
        double rest = 1 - probabilities.Sum();
        Requirements.InRange(rest, -Rounding, 1, "1 - sum of the probabilities");
        double[] repairs = repairMinutes is { Count: > 0 } ? [.. repairMinutes] : new double[probabilities.Count];
        if (repairs.Length != probabilities.Count)
        {
            throw new ArgumentException($"{repairs.Length} repairs were given for {probabilities.Count} causes.", nameof(repairMinutes));
        }

        Array.ForEach(repairs, minutes => Requirements.InRange(minutes, 0, double.MaxValue, nameof(repairMinutes)));
        Probabilities = rest > Rounding ? [.. probabilities, rest] : [.. probabilities];
        SomethingElse = rest > Rounding ? probabilities.Count : null;
        RepairMinutes = rest > Rounding ? [.. repairs, 0] : repairs;
        Checks = [.. checks];
        foreach (DiagnosticCheck check in Checks)
        {
            check.RequireCauses(probabilities.Count);
        }

        SecondVisitMinutes = secondVisitMinutes;
        SparesTheLast = sparesTheLast;
    }

    private const double Rounding = 1e-9;

    /// <summary>Probability of each cause, 'something else' last where there is any.</summary>
    public IReadOnlyList<double> Probabilities { get; }

    /// <summary>Index of 'something else' in <see cref="Probabilities"/>; null: the probabilities that were given add to 1.</summary>
    public int? SomethingElse { get; }

    /// <summary>The checks.</summary>
    public IReadOnlyList<DiagnosticCheck> Checks { get; }

    /// <summary>Minutes to repair each cause and prove it.</summary>
    public IReadOnlyList<double> RepairMinutes { get; }

    /// <summary>What it costs to leave without success, minutes.</summary>
    public double SecondVisitMinutes { get; }

    /// <summary>Whether the last cause left is repaired without a check.</summary>
    public bool SparesTheLast { get; }
}

/// <summary>What an order costs.</summary>
/// <param name="ExpectedMinutes">Mean minutes over all causes and results.</param>
/// <param name="ChanceOfSecondVisit">Chance that the pass ends without success, 0 to 1. It is the same for every order of all checks,
/// unless the last one is spared.</param>
public sealed record OrderCost(double ExpectedMinutes, double ChanceOfSecondVisit);

/// <summary>An order of checks.</summary>
/// <param name="Order">Indices of the checks, first one first.</param>
/// <param name="Cost">What it costs.</param>
/// <param name="Exact">Whether no order costs less; false: too many checks to compare all, and no theorem covers them.</param>
public sealed record OrderedChecks(IReadOnlyList<int> Order, OrderCost Cost, bool Exact);
