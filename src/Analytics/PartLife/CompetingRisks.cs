using MathNet.Numerics.Distributions;

namespace Washwear.Analytics.PartLife;

/// <summary>Share of parts that one mode has ended, just after one failure age.</summary>
/// <param name="Age">The age, in the unit of the clock.</param>
/// <param name="Failures">Failures of this mode at this age.</param>
/// <param name="Incidence">Share of all parts that have failed of this mode by then, other modes at work.</param>
/// <param name="StandardError">Its standard error by the delta method.</param>
/// <param name="Lower">Lower bound on the complementary log-log scale; null where the incidence is 0 or 1.</param>
/// <param name="Upper">Upper bound; null as above.</param>
public readonly record struct IncidenceStep(double Age, int Failures, double Incidence, double StandardError, double? Lower, double? Upper);

/// <summary>Cumulative incidence of one failure mode.</summary>
/// <param name="Mode">The mode, or null for failures that name none.</param>
/// <param name="Failures">Failures of this mode.</param>
/// <param name="Steps">One step for each distinct age at which a part failed of any mode, ascending.</param>
public sealed record ModeIncidence(string? Mode, int Failures, IReadOnlyList<IncidenceStep> Steps);

/// <summary>How each mode ends parts while the others do too.</summary>
/// <param name="Account">Method, convention, clock, counts and doubts.</param>
/// <param name="Level">Confidence level of the bounds.</param>
/// <param name="Survival">Share that survives all modes, beside each step.</param>
/// <param name="Modes">Modes in order of first appearance, failures that name none last; incidences and survival add up to 1.</param>
public sealed record IncidenceResult(
    ResultAccount Account, double Level, IReadOnlyList<double> Survival, IReadOnlyList<ModeIncidence> Modes);

/// <summary>The life curve of one mode, all other modes censored.</summary>
/// <param name="Mode">The mode.</param>
/// <param name="Fit">Its curve, or why there is none.</param>
public sealed record ModeFit(string Mode, LifeResult Fit);

/// <summary>
/// Competing failure modes: cumulative incidence F_k(t), the sum over failure ages of S(t-) d_k / n, S the product-limit survival of all
/// modes together, with delayed entry. Variance by the delta method: sum of (F_k(t) - F_k(t_j))^2 d_j/(n_j (n_j - d_j)) + S(t_j-)^2
/// d_kj (n_j - d_kj)/n_j^3 - 2 (F_k(t) - F_k(t_j)) S(t_j-) d_kj/n_j^2. Sources: Aalen (1978), Annals of Statistics 6, 534-545; Marubini
/// and Valsecchi (1995), ch. 10. One minus Kaplan-Meier with other modes censored is not an incidence: it answers what would happen if
/// the other modes did not exist, and only if modes are independent, which no data on failed parts can show.
/// </summary>
public static class CompetingRisks
{
    /// <summary>Incidence of every mode.</summary>
    /// <param name="lives">Lives whose failures name modes.</param>
    /// <param name="level">Confidence level of the bounds, above 0 and below 1.</param>
    public static IncidenceResult Incidence(Lives lives, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(lives);
        FixedShapeFit.CheckConfidence(level);
        var risk = new RiskSet(lives);
        (double Age, int Failures, int AtRisk, double Before)[] ages = Ages(risk);
        Dictionary<string, Dictionary<double, int>> counts = CountsByMode(lives, out Dictionary<double, int> unnamed);
        var modes = lives.Modes.Select(m => Of(m, counts[m], ages, level)).ToList();
        if (unnamed.Count > 0)
        {
            modes.Add(Of(null, unnamed, ages, level));
        }

        return new IncidenceResult(
            ResultAccount.For(
                lives, "cumulative incidence (Aalen-Johansen)", "delta-method standard errors; complementary log-log bounds", true,
                Doubts(lives, unnamed.Values.Sum())),
            level,
            [.. ages.Select(a => a.Before * (a.AtRisk - a.Failures) / a.AtRisk)],
            modes);
    }

    /// <summary>One Weibull curve for each mode, with failures of all other modes censored; see the caution above.</summary>
    /// <param name="lives">Lives whose failures name modes.</param>
    /// <param name="options">As for <see cref="WeibullFit.Fit"/>.</param>
    public static IReadOnlyList<ModeFit> FitEachMode(Lives lives, WeibullFitOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(lives);
        return [.. lives.Modes.Select(m => new ModeFit(m, WeibullFit.Fit(lives.ForMode(m), options)))];
    }

    private static (double Age, int Failures, int AtRisk, double Before)[] Ages(RiskSet risk)
    {
        double survival = 1;
        var ages = new List<(double, int, int, double)>();
        foreach ((double age, int failures) in risk.FailureSteps())
        {
            int atRisk = risk.AtRisk(age);
            ages.Add((age, failures, atRisk, survival));
            survival *= (double)(atRisk - failures) / atRisk;
        }

        return [.. ages];
    }

    private static Dictionary<string, Dictionary<double, int>> CountsByMode(Lives lives, out Dictionary<double, int> unnamed)
    {
        var counts = lives.Modes.ToDictionary(m => m, _ => new Dictionary<double, int>(), StringComparer.Ordinal);
        var none = new Dictionary<double, int>();
        void Count(double age, string? mode)
        {
            Dictionary<double, int> at = mode is null ? none : counts[mode];
            at[age] = at.GetValueOrDefault(age) + 1;
        }

        for (int i = 0; i < lives.FailedAges.Length; i++)
        {
            Count(lives.FailedAges[i], lives.ModeOfFailed(i));
        }

        for (int i = 0; i < lives.FoundAges.Length; i++)
        {
            Count(lives.FoundAges[i], lives.ModeOfFound(i));
        }

        unnamed = none;
        return counts;
    }

    private static ModeIncidence Of(
        string? mode, Dictionary<double, int> failuresAt, (double Age, int Failures, int AtRisk, double Before)[] ages, double level)
    {
        double z = Normal.InvCDF(0, 1, (1 + level) / 2);
        double f = 0, g = 0, fg = 0, ffg = 0, own = 0, cross = 0, fCross = 0;
        var steps = new IncidenceStep[ages.Length];
        for (int j = 0; j < ages.Length; j++)
        {
            (double age, int d, double n, double before) = ages[j];
            int dk = failuresAt.GetValueOrDefault(age);
            f += before * dk / n;

            // The sums over earlier ages of (F - F_j)^2 g_j and the like, opened up so that each age costs the same.
            double gj = n == d ? 0 : d / (n * (n - d));
            double cj = before * dk / (n * n);
            g += gj;
            fg += f * gj;
            ffg += f * f * gj;
            own += before * before * dk * (n - dk) / (n * n * n);
            cross += cj;
            fCross += f * cj;
            double variance = (f * f * g) - (2 * f * fg) + ffg + own - (2 * ((f * cross) - fCross));
            double error = Math.Sqrt(Math.Max(0, variance));
            steps[j] = new IncidenceStep(age, dk, f, error, Bound(f, error, z), Bound(f, error, -z));
        }

        return new ModeIncidence(mode, failuresAt.Values.Sum(), steps);
    }

    /// <summary>1 - (1 - F)^exp(-z se / ((1 - F) |ln(1 - F)|)): the survival bound turned over.</summary>
    private static double? Bound(double incidence, double error, double z) => incidence is > 0 and < 1
        ? 1 - Math.Pow(1 - incidence, Math.Exp(-z * error / ((1 - incidence) * -Math.Log(1 - incidence))))
        : null;

    private static IEnumerable<string> Doubts(Lives lives, int unnamed)
    {
        if (unnamed > 0)
        {
            yield return ResultAccount.Text($"Failures that name no mode are shown apart ({unnamed} of {lives.Failures}).");
        }

        if (lives.FailedBetweenLooks > 0)
        {
            yield return "Failures between two looks are placed where they were found.";
        }
    }
}
