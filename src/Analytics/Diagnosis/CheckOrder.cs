namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// The order in which one pass through the checks costs least. Exactly one cause is present. A check that fires leads to the repair of
/// what it speaks of, by probability per minute of repair, without what was already repaired in vain; the right repair is proven and ends
/// the visit, wrong ones are paid for and the pass goes on; the end of the list means a second visit. Checks err independently once the
/// cause is given. With one check a cause, decreasing p (1 - miss) / (minutes + chance of a false alarm x repair minutes) costs least, by
/// exchange of neighbours; for perfect checks that is p / minutes: Smith (1956) Naval Research Logistics Quarterly 3, 59-66. Where checks
/// share causes or the last one is spared, that order need not be best: up to <see cref="MostCompared"/> checks all orders are compared,
/// by dynamic programming over the sets of checks done.
/// </summary>
public static class CheckOrder
{
    /// <summary>Most checks of which all orders are compared.</summary>
    public const int MostCompared = 12;

    /// <summary>
    /// Probability that a check resolves per minute: (1 - miss) x probability that it speaks of the cause / (its minutes + chance of a
    /// false alarm x minutes to repair all it speaks of). Per minute, 0 or more.
    /// </summary>
    /// <param name="probabilities">Probability of each cause.</param>
    /// <param name="check">The check.</param>
    /// <param name="repairMinutes">Minutes to repair each cause; empty: 0 for all.</param>
    public static double ResolvedPerMinute(
        IReadOnlyList<double> probabilities, DiagnosticCheck check, IReadOnlyList<double> repairMinutes)
    {
        ArgumentNullException.ThrowIfNull(check);
        ArgumentNullException.ThrowIfNull(repairMinutes);
        double inVain = repairMinutes.Count == 0 ? 0 : check.FalseAlarm * check.SpeaksOf.Sum(cause => repairMinutes[cause]);
        return check.ProbabilityItSpeaksOf(probabilities) * (1 - check.Miss) / (check.Minutes + inVain);
    }

    /// <summary>What an order costs.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="order">Indices of different checks, first one first; those left out are not done.</param>
    /// <exception cref="ArgumentException">A check comes twice or does not exist.</exception>
    public static OrderCost CostOf(OrderProblem problem, IReadOnlyList<int> order)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(order);
        if (order.Distinct().Count() != order.Count || order.Any(check => check < 0 || check >= problem.Checks.Count))
        {
            throw new ArgumentException("An order names each check once at most.", nameof(order));
        }

        double minutes = 0;
        PassState state = new(problem);
        foreach (int check in order)
        {
            if (state.Spared() is { } cause)
            {
                return new OrderCost(minutes + (state.OpenWith(cause) * problem.RepairMinutes[cause]), 0);
            }

            minutes += state.StepMinutes(check);
            state = state.After(check);
        }

        return state.Spared() is { } last
            ? new OrderCost(minutes + (state.OpenWith(last) * problem.RepairMinutes[last]), 0)
            : new OrderCost(minutes + state.EndMinutes(), state.Open);
    }

    /// <summary>Always next the check that resolves most probability per minute; ties: the list's order.</summary>
    /// <param name="problem">The problem.</param>
    public static OrderedChecks ByIndex(OrderProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        PassState state = new(problem);
        List<int> left = [.. Enumerable.Range(0, problem.Checks.Count)];
        List<int> order = [];
        while (left.Count > 0)
        {
            int next = left.MaxBy(state.IndexOf);
            left.Remove(next);
            order.Add(next);
            state = state.After(next);
        }

        return new OrderedChecks(order, CostOf(problem, order), IndexIsBest(problem));
    }

    /// <summary>
    /// The order that costs least: exactly up to <see cref="MostCompared"/> checks; beyond, the order by probability per minute, tried with
    /// each check moved to the end, which is exact for one check a cause.
    /// </summary>
    /// <param name="problem">The problem.</param>
    public static OrderedChecks Best(OrderProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        if (problem.Checks.Count <= MostCompared)
        {
            int[] order = new OrderSearch(problem).Best();
            return new OrderedChecks(order, CostOf(problem, order), true);
        }

        OrderedChecks byIndex = ByIndex(problem);
        return byIndex.Order.Select(last => (int[])[.. byIndex.Order.Where(check => check != last), last])
            .Select(order => new OrderedChecks(order, CostOf(problem, order), byIndex.Exact))
            .Append(byIndex)
            .MinBy(candidate => candidate.Cost.ExpectedMinutes)!;
    }

    private static bool IndexIsBest(OrderProblem problem) =>
        !problem.SparesTheLast && problem.Checks.All(check => check.SpeaksOf.Count <= 1)
        && problem.Checks.SelectMany(check => check.SpeaksOf).GroupBy(cause => cause).All(causes => causes.Count() == 1);
}
