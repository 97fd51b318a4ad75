namespace Washwear.Analytics.PartLife;

/// <summary>A failure on the probability plot.</summary>
/// <param name="Age">Age at failure, in the unit of the clock.</param>
/// <param name="AdjustedRank">Its order number, adjusted for the parts that left before it; null where lives enter late.</param>
/// <param name="FailedShare">Plotting position, the share of parts taken to have failed by this age.</param>
public sealed record PlottedFailure(double Age, double? AdjustedRank, double FailedShare);

/// <summary>The probability plot and the straight lines through it.</summary>
/// <param name="Account">Method, convention, clock, counts and doubts.</param>
/// <param name="Points">One point a failure, ascending in age.</param>
/// <param name="AgeOnRank">
/// Line that minimises squared distances along ln age (x on y), the usual choice; null with fewer than two distinct ages.
/// </param>
/// <param name="RankOnAge">Line that minimises squared distances along ln(-ln(1 - share)) (y on x); null as above.</param>
/// <param name="RSquared">Squared correlation of the plotted points, from 0 to 1; null as above.</param>
public sealed record ProbabilityPlot(
    ResultAccount Account, IReadOnlyList<PlottedFailure> Points, Weibull? AgeOnRank, Weibull? RankOnAge, double? RSquared);

/// <summary>
/// Median-rank regression, for the plot that people know; bounds and decisions come from <see cref="WeibullFit"/>. Benard's ranks
/// (j - 0.3)/(n + 0.4), order numbers j adjusted for suspensions by Johnson's increment (n + 1 - previous)/(1 + parts from this failure
/// on); tied failures keep successive ranks and come before suspensions of the same age. Sources: Johnson (1964), The Statistical
/// Treatment of Fatigue Experiments; Abernethy, The New Weibull Handbook, ch. 2; NIST/SEMATECH e-Handbook 8.2.2.1. Where lives enter
/// late no order number exists: the points then stand at the middle of the Kaplan-Meier step (Meeker and Escobar 1998, 6.4.1).
/// </summary>
public static class MedianRanks
{
    private const string RankConvention =
        "Benard's median ranks (j - 0.3)/(n + 0.4), Johnson's adjusted order numbers; ln age against ln(-ln(1 - rank))";

    private const string StepConvention =
        "middle of each Kaplan-Meier step, because lives enter late; ln age against ln(-ln(1 - share))";

    /// <summary>Plots the failures and fits both lines.</summary>
    /// <param name="lives">Lives on one clock; may be empty, which gives no points.</param>
    public static ProbabilityPlot Plot(Lives lives)
    {
        ArgumentNullException.ThrowIfNull(lives);
        bool late = lives.EnteredLate > 0;
        PlottedFailure[] points = late ? StepPoints(lives) : RankPoints(lives);
        (Weibull? ageOnRank, Weibull? rankOnAge, double? rSquared) = Lines(points);
        ResultAccount account = ResultAccount.For(
            lives, "median-rank regression", late ? StepConvention : RankConvention, true, Doubts(lives, ageOnRank));
        return new ProbabilityPlot(account, points, ageOnRank, rankOnAge, rSquared);
    }

    private static PlottedFailure[] RankPoints(Lives lives)
    {
        var risk = new RiskSet(lives);
        double n = lives.Count, previous = 0;
        var points = new List<PlottedFailure>(risk.FailureAges.Length);
        foreach ((double age, int failures) in risk.FailureSteps())
        {
            int from = risk.AtRisk(age);
            for (int i = 0; i < failures; i++)
            {
                previous += (n + 1 - previous) / (1 + from - i);
                points.Add(new PlottedFailure(age, previous, (previous - 0.3) / (n + 0.4)));
            }
        }

        return [.. points];
    }

    private static PlottedFailure[] StepPoints(Lives lives)
    {
        double before = 1;
        var points = new List<PlottedFailure>();
        foreach (KaplanMeierStep step in KaplanMeier.Estimate(lives).Steps)
        {
            // Once an early moment with few at risk has brought the curve to 0, later failures have no place on the plot.
            if (before > 0)
            {
                double share = 1 - ((before + step.Survival) / 2);
                points.AddRange(Enumerable.Repeat(new PlottedFailure(step.Age, null, share), step.Failures));
            }

            before = step.Survival;
        }

        return [.. points];
    }

    private static (Weibull? AgeOnRank, Weibull? RankOnAge, double? RSquared) Lines(PlottedFailure[] points)
    {
        double[] x = [.. points.Select(p => Math.Log(p.Age))];
        double[] y = [.. points.Select(p => Math.Log(-Math.Log(1 - p.FailedShare)))];
        double meanX = x.Length == 0 ? 0 : x.Average(), meanY = y.Length == 0 ? 0 : y.Average();
        double sxx = x.Sum(v => (v - meanX) * (v - meanX));
        double syy = y.Sum(v => (v - meanY) * (v - meanY));
        double sxy = x.Zip(y, (a, b) => (a - meanX) * (b - meanY)).Sum();
        return sxx > 0 && syy > 0 && sxy > 0
            ? (Line(syy / sxy, meanX, meanY), Line(sxy / sxx, meanX, meanY), Math.Min(1, sxy * sxy / (sxx * syy)))
            : (null, null, null);
    }

    private static Weibull? Line(double shape, double meanX, double meanY)
    {
        double scale = Math.Exp(meanX - (meanY / shape));
        return double.IsFinite(shape) && double.IsFinite(scale) && scale > 0 ? new Weibull(scale, shape) : null;
    }

    private static IEnumerable<string> Doubts(Lives lives, Weibull? line)
    {
        if (line is null)
        {
            yield return "No line can be drawn: it needs failures at two or more different ages.";
        }

        if (lives.FailedBetweenLooks > 0)
        {
            yield return ResultAccount.Text(
                $"Failures known only to lie between two looks ({lives.FailedBetweenLooks}) are plotted where they were found.");
        }
    }
}
