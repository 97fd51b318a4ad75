using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.PartLife;

/// <summary>The survival curve just after one age at which parts failed.</summary>
/// <param name="Age">The age, in the unit of the clock.</param>
/// <param name="AtRisk">Parts at risk just before it.</param>
/// <param name="Failures">Parts that failed at it.</param>
/// <param name="Survival">Share that survives past it.</param>
/// <param name="NelsonAalen">Cumulative hazard up to and including it, the sum of failures / at risk.</param>
/// <param name="GreenwoodSum">Sum of failures / (at risk x (at risk - failures)); infinite where survival is 0; not for readers.</param>
/// <param name="NelsonAalenVariance">Sum of failures / at risk squared.</param>
/// <param name="Z">Normal quantile of the level of the bounds.</param>
public readonly record struct KaplanMeierStep(
    double Age, int AtRisk, int Failures, double Survival, double NelsonAalen, double GreenwoodSum, double NelsonAalenVariance, double Z)
{
    /// <summary>Greenwood's standard error of the survival; null where survival is 0.</summary>
    public double? StandardError => Survival > 0 ? Survival * Math.Sqrt(GreenwoodSum) : null;

    /// <summary>Lower bound on the complementary log-log scale; null where survival is 0.</summary>
    public double? Lower => Bound(Z);

    /// <summary>Upper bound on the complementary log-log scale; null where survival is 0.</summary>
    public double? Upper => Bound(-Z);

    /// <summary>Standard error of the cumulative hazard.</summary>
    public double NelsonAalenStandardError => Math.Sqrt(NelsonAalenVariance);

    private double? Bound(double z) => Survival > 0
        ? Math.Pow(Survival, Math.Exp(z * Math.Sqrt(GreenwoodSum) / -Math.Log(Survival)))
        : null;
}

/// <summary>Median life read from a survival curve; null where the curve, or its bound, never falls to one half.</summary>
/// <param name="Age">Median life.</param>
/// <param name="Lower">Lower bound.</param>
/// <param name="Upper">Upper bound.</param>
/// <param name="Level">Confidence level.</param>
public sealed record MedianLife(double? Age, double? Lower, double? Upper, double Level);

/// <summary>A survival curve without any model.</summary>
/// <param name="Account">Method, convention, clock, counts and doubts.</param>
/// <param name="FromAge">The curve speaks of parts that have survived to this age; 0 for new parts.</param>
/// <param name="Steps">One step for each distinct age at which parts failed, ascending.</param>
/// <param name="Median">Median life with bounds.</param>
/// <param name="LastAge">Greatest age at which any part was seen: the curve says nothing beyond it.</param>
/// <param name="RestartAge">
/// Where an early moment with few parts at risk drove the curve to 0 for good: the age from which to ask again; null otherwise.
/// </param>
public sealed record SurvivalCurve(
    ResultAccount Account,
    double FromAge,
    IReadOnlyList<KaplanMeierStep> Steps,
    MedianLife Median,
    double LastAge,
    double? RestartAge);

/// <summary>
/// The product-limit estimate of survival with delayed entry. A part is at risk at t when entry &lt; t &lt;= end; failures precede
/// censorings at equal ages. Standard error by Greenwood; bounds S^exp(-/+ z se/(S |ln S|)) on the complementary log-log scale. Sources:
/// Kaplan and Meier (1958), JASA 53, 457-481; Kalbfleisch and Prentice (2002), 1.4; median as Brookmeyer and Crowley (1982), Biometrics
/// 38, 29-41, on the same scale. Failures between two looks are placed where they were found, which a doubt then says.
/// </summary>
public static class KaplanMeier
{
    private const double Half = 0.5;
    private const double HalfTolerance = 1e-9;

    /// <summary>Estimates the curve.</summary>
    /// <param name="lives">Lives on one clock; may be empty, which gives no steps.</param>
    /// <param name="level">Confidence level of the bounds, above 0 and below 1.</param>
    /// <param name="fromAge">Age, 0 or more, that the parts spoken of have survived to.</param>
    /// <exception cref="ArgumentOutOfRangeException">The level does not lie between 0 and 1.</exception>
    /// <exception cref="LifeRefusedException">The age is negative or not finite.</exception>
    public static SurvivalCurve Estimate(Lives lives, double level = 0.95, double fromAge = 0)
    {
        ArgumentNullException.ThrowIfNull(lives);
        FixedShapeFit.CheckConfidence(level);
        Lives watched = fromAge == 0 ? lives : lives.SurvivingTo(fromAge);
        var risk = new RiskSet(watched);
        KaplanMeierStep[] steps = Steps(risk, Normal.InvCDF(0, 1, (1 + level) / 2));
        double? restart = RestartAge(steps, risk);
        return new SurvivalCurve(
            ResultAccount.For(
                watched,
                "Kaplan-Meier",
                "at risk when entry < age <= end; failures before censorings at ties; Greenwood; complementary log-log bounds",
                true,
                Doubts(watched, steps, restart)),
            fromAge,
            steps,
            new MedianLife(
                FirstAtHalf(steps, s => s.Survival), FirstAtHalf(steps, s => s.Lower), FirstAtHalf(steps, s => s.Upper), level),
            risk.LastAge,
            restart);
    }

    private static KaplanMeierStep[] Steps(RiskSet risk, double z)
    {
        var steps = new List<KaplanMeierStep>();
        double survival = 1, hazard = 0, greenwood = 0, variance = 0;
        foreach ((double age, int failures) in risk.FailureSteps())
        {
            double atRisk = risk.AtRisk(age);
            survival *= (atRisk - failures) / atRisk;
            hazard += failures / atRisk;
            greenwood += failures / (atRisk * (atRisk - failures));
            variance += failures / (atRisk * atRisk);
            steps.Add(new KaplanMeierStep(age, (int)atRisk, failures, survival, hazard, greenwood, variance, z));
        }

        return [.. steps];
    }

    /// <summary>
    /// First age at which the curve is at most one half; the middle of the stretch where it is exactly one half and falls again later.
    /// </summary>
    private static double? FirstAtHalf(KaplanMeierStep[] steps, Func<KaplanMeierStep, double?> curve)
    {
        int first = Array.FindIndex(steps, s => curve(s) <= Half + HalfTolerance);
        if (first < 0)
        {
            return null;
        }

        double at = curve(steps[first])!.Value;
        int next = Array.FindIndex(steps, first, s => curve(s) < at - 1e-12);
        return Math.Abs(at - Half) < HalfTolerance && next >= 0 ? (steps[first].Age + steps[next].Age) / 2 : steps[first].Age;
    }

    private static double? RestartAge(KaplanMeierStep[] steps, RiskSet risk)
    {
        int empty = Array.FindIndex(steps, s => s.Survival == 0);
        return empty >= 0 && steps[empty].Age < risk.LastAge ? risk.NextEntryFrom(steps[empty].Age) : null;
    }

    private static IEnumerable<string> Doubts(Lives lives, KaplanMeierStep[] steps, double? restart)
    {
        if (restart is { } age)
        {
            KaplanMeierStep empty = steps.First(s => s.Survival == 0);
            yield return ResultAccount.Text(
                $"All parts watched at {empty.Age:G4} {lives.Clock} ({empty.AtRisk}) failed then, so the curve is 0 from there on although")
                + ResultAccount.Text($" older parts were watched: ask for the curve of parts that have survived to {age:G4}.");
        }

        if (lives.FailedBetweenLooks > 0)
        {
            yield return ResultAccount.Text(
                $"Failures known only to lie between two looks ({lives.FailedBetweenLooks}) are placed where they were found:")
                + " the curve is late.";
        }
    }
}
