namespace Washwear.Analytics.Diagnosis;

/// <summary>
/// The best next check by dynamic programming over all results of up to <see cref="MostChecks"/> checks (3^checks states: not done, fires,
/// does not fire): least cost of a state = least over its checks of minutes + least cost after either result; a state ends where the
/// certainty is reached or no check can tell more, with the cost of the repairs that follow. All costs are weighed by the probability of
/// the results that led there, so that none needs scaling.
/// </summary>
internal sealed class SessionSearch
{
    /// <summary>Most checks that are looked at together.</summary>
    public const int MostChecks = 8;

    private readonly DiagnosisCase _case;
    private readonly DiagnosticCheck[] _checks;
    private readonly double[][] _fires;
    private readonly double[][] _passes;
    private readonly int[] _power;
    private readonly double[] _known;

    public SessionSearch(DiagnosisCase diagnosis, DiagnosticCheck[] checks)
    {
        _case = diagnosis;
        _checks = checks;
        int causes = diagnosis.Probabilities.Count;
        _fires = [.. checks.Select(check => check.ChanceOf(CheckOutcome.Fires, causes))];
        _passes = [.. checks.Select(check => check.ChanceOf(CheckOutcome.DoesNotFire, causes))];
        _power = [.. Enumerable.Range(0, checks.Length + 1).Select(k => (int)Math.Pow(3, k))];
        _known = new double[_power[^1]];
        Array.Fill(_known, double.NaN);
    }

    /// <summary>Least mean minutes if a check comes next, for each of the checks.</summary>
    public double[] MinutesByFirst(IReadOnlyList<double> probabilities) =>
        [.. _checks.Select((_, check) => MinutesWith(0, [.. probabilities], check))];

    /// <summary>Whether a check could change what is believed.</summary>
    public static bool Tells(DiagnosticCheck check, IReadOnlyList<double> joint)
    {
        if (!check.TellsApart)
        {
            return false;
        }

        double spokenOf = check.SpeaksOf.Sum(cause => joint[cause]);
        return spokenOf > 0 && Enumerable.Range(0, joint.Count).Any(cause => joint[cause] > 0 && !check.SpeaksOf.Contains(cause));
    }

    /// <summary>Whether some group of causes is as probable as the case asks.</summary>
    public static bool IsCertain(DiagnosisCase diagnosis, double[] joint, double sum)
    {
        foreach (IReadOnlyList<int> group in diagnosis.Groups)
        {
            double probability = 0;
            foreach (int cause in group)
            {
                probability += joint[cause];
            }

            if (probability >= diagnosis.Certainty * sum)
            {
                return true;
            }
        }

        return false;
    }

    private double Least(int state, double[] joint)
    {
        double sum = joint.Sum();
        if (sum <= 0)
        {
            return 0;
        }

        if (double.IsNaN(_known[state]))
        {
            int[] left = IsCertain(_case, joint, sum) ? [] : Left(state, joint);
            _known[state] = left.Length == 0
                ? RepairOrder.Of(joint, _case.RepairMinutes, _case.Options.SecondVisitMinutes).Minutes
                : left.Min(check => MinutesWith(state, joint, check));
        }

        return _known[state];
    }

    private double MinutesWith(int state, double[] joint, int check) => (_checks[check].Minutes * joint.Sum())
        + Least(state + _power[check], Times(joint, _fires[check]))
        + Least(state + (2 * _power[check]), Times(joint, _passes[check]));

    private int[] Left(int state, double[] joint) =>
        [.. Enumerable.Range(0, _checks.Length).Where(check => state / _power[check] % 3 == 0 && Tells(_checks[check], joint))];

    private static double[] Times(double[] joint, double[] chance)
    {
        double[] product = new double[joint.Length];
        for (int i = 0; i < product.Length; i++)
        {
            product[i] = joint[i] * chance[i];
        }

        return product;
    }
}
