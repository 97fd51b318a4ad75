namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// Where a pass stands after some of the checks: for each cause, were it the one that is present, the chance that the pass is still open,
/// and the chance that each other cause was not yet repaired in vain. Both depend on which checks were done and not on their order.
/// </summary>
internal sealed class PassState
{
    private readonly OrderProblem _problem;
    private readonly double[] _open;
    private readonly double[] _untouched;

    public PassState(OrderProblem problem)
        : this(problem, Ones(problem.Probabilities.Count), Ones(problem.Probabilities.Count * problem.Probabilities.Count))
    {
    }

    private PassState(OrderProblem problem, double[] open, double[] untouched) =>
        (_problem, _open, _untouched) = (problem, open, untouched);

    private int Causes => _open.Length;

    /// <summary>Probability that the pass is still open.</summary>
    public double Open => Enumerable.Range(0, Causes).Sum(OpenWith);

    /// <summary>Probability that it is still open and a cause is the one that is present.</summary>
    public double OpenWith(int cause) => _problem.Probabilities[cause] * _open[cause];

    /// <summary>The only cause that is left, where the problem spares its check; null: there are more, or none is spared.</summary>
    public int? Spared()
    {
        int[] left = [.. Enumerable.Range(0, Causes).Where(cause => OpenWith(cause) > 0)];
        return _problem.SparesTheLast && left.Length == 1 && left[0] != _problem.SomethingElse ? left[0] : null;
    }

    /// <summary>What the end of the list costs, minutes.</summary>
    public double EndMinutes() => Open * _problem.SecondVisitMinutes;

    /// <summary>Mean minutes that a check costs if it comes next: itself, and the repairs that it leads to, right and wrong.</summary>
    public double StepMinutes(int next)
    {
        DiagnosticCheck check = _problem.Checks[next];
        int[] tried = InOrderOfRepair(check);
        double minutes = 0;
        for (int cause = 0; cause < Causes; cause++)
        {
            bool speaksOf = tried.Contains(cause);
            double fires = speaksOf ? 1 - check.Miss : check.FalseAlarm;
            double repairs = 0;
            foreach (int other in speaksOf ? tried[..(Array.IndexOf(tried, cause) + 1)] : tried)
            {
                repairs += _problem.RepairMinutes[other] * (other == cause ? 1 : _untouched[(cause * Causes) + other]);
            }

            minutes += OpenWith(cause) * (check.Minutes + (fires * repairs));
        }

        return minutes;
    }

    /// <summary>The state after a check.</summary>
    public PassState After(int next)
    {
        DiagnosticCheck check = _problem.Checks[next];
        double[] open = [.. _open];
        double[] untouched = [.. _untouched];
        for (int cause = 0; cause < Causes; cause++)
        {
            if (check.SpeaksOf.Contains(cause))
            {
                open[cause] *= check.Miss;
                continue;
            }

            foreach (int other in check.SpeaksOf)
            {
                untouched[(cause * Causes) + other] *= 1 - check.FalseAlarm;
            }
        }

        return new PassState(_problem, open, untouched);
    }

    /// <summary>Probability that a check resolves per minute, in this state.</summary>
    public double IndexOf(int check) =>
        CheckOrder.ResolvedPerMinute([.. Enumerable.Range(0, Causes).Select(OpenWith)], _problem.Checks[check], _problem.RepairMinutes);

    // Of what a check speaks, the causes are tried by probability per minute of repair.
    private int[] InOrderOfRepair(DiagnosticCheck check) =>
    [
        .. check.SpeaksOf.OrderByDescending(
            cause => _problem.Probabilities[cause] / Math.Max(_problem.RepairMinutes[cause], double.Epsilon)),
    ];

    private static double[] Ones(int count) => [.. Enumerable.Repeat(1.0, count)];
}
