using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.PartLife;

/// <summary>Whether the probability plot is one straight line or two.</summary>
/// <param name="Account">Method, counts and, when the plot bends, the warning in words among the doubts.</param>
/// <param name="AtAge">Age at which the two lines would meet: the median age at failure; null when no test was made.</param>
/// <param name="ZScore">Signed test statistic: below 0 the line flattens with age, above 0 it steepens; null when no test was made.</param>
/// <param name="PValue">Two-sided p-value of one straight line; null when no test was made.</param>
/// <param name="ShapeBefore">Shape of parts up to that age, all older life censored; null where none can be fitted.</param>
/// <param name="ShapeAfter">Shape of parts from that age on; null where none can be fitted.</param>
/// <param name="Warning">One sentence when the plot bends at the level asked; null otherwise.</param>
public sealed record PlotBendResult(
    ResultAccount Account, double? AtAge, double? ZScore, double? PValue, double? ShapeBefore, double? ShapeAfter, string? Warning);

/// <summary>
/// Warns of mixed lives. A mixture of weak and strong parts flattens the Weibull plot where the weak ones run out and steepens it
/// again later; a second cause that sets in late steepens it (Jiang and Murthy 1995, IEEE Trans. Reliability 44, 477-488; volume and
/// pages from memory). The test embeds the fitted line ln H = slope x l - offset in two lines that meet at the median failure age m, ln H + c max(0, l - ln m), and
/// asks by Rao's score test whether c = 0 (Cox and Hinkley 1974, Theoretical Statistics, 9.3), with the observed information. One degree of
/// freedom, nothing iterated. A likelihood ratio against a fitted two-Weibull mixture is not used: its reference
/// distribution is not chi-square and it needs more data. A bend is a warning, not proof: other departures bend the plot too.
/// </summary>
public static class PlotBend
{
    private const int LeastFailures = 10;

    /// <summary>Tests the plot for a bend.</summary>
    /// <param name="fit">A fitted curve.</param>
    /// <param name="alarmLevel">p-value below which to warn; the share of false alarms on straight plots. Above 0 and below 1.</param>
    public static PlotBendResult Test(FittedLife fit, double alarmLevel = 0.05)
    {
        ArgumentNullException.ThrowIfNull(fit);
        FixedShapeFit.CheckConfidence(alarmLevel);
        Lives lives = fit.Likelihood.Lives;
        if (lives.FailedBetweenLooks > 0 || lives.Failures < LeastFailures)
        {
            return None(lives, lives.Failures < LeastFailures
                ? ResultAccount.Text($"Not tested for mixed lives: {lives.Failures} failures, {LeastFailures} are needed.")
                : "Not tested for mixed lives: failures are known only to lie between looks.");
        }

        double[] ages = [.. lives.FailedAges.Order()];
        double age = ages[(ages.Length - 1) / 2];
        if (Score(fit, Math.Log(age) - fit.Likelihood.Centre) is not { } z || age == ages[^1])
        {
            return None(lives, "Not tested for mixed lives: the failures stand at too few different ages.");
        }

        double pValue = Math.Min(1, 2 * Normal.CDF(0, 1, -Math.Abs(z)));
        double? before = ShapeOf(CensoredAt(lives, age)), after = ShapeOf(lives.SurvivingTo(age));
        string? warning = pValue < alarmLevel ? Warning(z, age, lives.Clock) : null;
        return new PlotBendResult(Account(lives, true, warning), age, z, pValue, before, after, warning);
    }

    /// <summary>U / sqrt(V) for the second line's extra slope; null where it cannot be told from the first line.</summary>
    private static double? Score(FittedLife fit, double bend)
    {
        Lives lives = fit.Likelihood.Lives;
        double slope = fit.Maximum.Slope, centre = fit.Likelihood.Centre;
        double score = 0, own = 0, withOffset = 0, withSlope = 0;
        void AddHazards(double[] ages, int sign)
        {
            foreach (double age in ages)
            {
                double log = age > 0 ? Math.Log(age) - centre : double.NegativeInfinity;
                double beyond = log - bend;
                if (beyond > 0)
                {
                    double hazard = sign * Math.Exp((slope * log) - fit.Maximum.Offset);
                    score -= hazard * beyond;
                    own += hazard * beyond * beyond;
                    withOffset -= hazard * beyond;
                    withSlope += hazard * beyond * log;
                }
            }
        }

        AddHazards(lives.FailedAges, 1);
        AddHazards(lives.RunningAges, 1);
        AddHazards(lives.FailedEntries, -1);
        AddHazards(lives.RunningEntries, -1);
        double[] late = [.. lives.FailedAges.Select(a => Math.Log(a) - centre - bend).Where(b => b > 0)];
        score += late.Sum() + (late.Length / slope);
        own += late.Length / (slope * slope);
        withSlope += late.Length / (slope * slope);
        (double offset, double bySlope) = fit.CovarianceWith(withOffset, withSlope);
        double variance = own - (withOffset * offset) - (withSlope * bySlope);
        return variance > 1e-9 * own && double.IsFinite(score) ? score / Math.Sqrt(variance) : null;
    }

    private static double? ShapeOf(Lives lives) => WeibullFit.Fit(lives) is FittedLife fit ? fit.Curve.Shape : null;

    private static Lives CensoredAt(Lives lives, double age)
    {
        var builder = new LivesBuilder(lives.Clock);
        void Add(double end, double enteredAt, bool failed)
        {
            if (enteredAt < age)
            {
                _ = failed && end <= age ? builder.FailedAt(end, enteredAt) : builder.StillRunningAt(Math.Min(end, age), enteredAt);
            }
        }

        for (int i = 0; i < lives.FailedAges.Length; i++)
        {
            Add(lives.FailedAges[i], Lives.EntryAt(lives.FailedEntries, i), true);
        }

        for (int i = 0; i < lives.RunningAges.Length; i++)
        {
            Add(lives.RunningAges[i], Lives.EntryAt(lives.RunningEntries, i), false);
        }

        return builder.Build();
    }

    private static string Warning(double z, double age, string clock) => z < 0
        ? ResultAccount.Text($"The plot flattens after about {age:G3} {clock}: weak and strong parts may be mixed (a bad batch, faulty")
            + " fitting); compare groups before acting on one curve."
        : ResultAccount.Text($"The plot steepens after about {age:G3} {clock}: either a second cause of failure sets in,")
            + " or a weak batch failed before; look at failure modes and groups apart before acting on one curve.";

    private static PlotBendResult None(Lives lives, string why) => new(Account(lives, false, why), null, null, null, null, null, null);

    private static ResultAccount Account(Lives lives, bool tested, string? said) => ResultAccount.For(
        lives, "score test of a bend in the Weibull plot", "two lines that meet at the median failure age; observed information", tested,
        said is null ? [] : [said]);
}
