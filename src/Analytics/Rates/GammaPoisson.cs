using MathNet.Numerics.RootFinding;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.Rates;

/// <summary>
/// Rates of many units from few events each: counts are Poisson, the units' rates gamma with shape a and rate b, which maximise the
/// marginal (negative binomial) likelihood; a unit's rate is then gamma with a + count and b + exposure. Empirical Bayes: bounds take a and
/// b for known, so with few units or few events they are somewhat too narrow; the standard deviation is also given with that error. Where
/// counts differ no more than by chance the maximum lies at an infinite shape: no difference between units is shown, and each is given
/// the pooled rate. Sources: Gaver and O'Muircheartaigh (1987) Technometrics 29, 1-15; Robbins (1956); Carlin and Louis (2000), Bayes and
/// Empirical Bayes Methods, ch. 3.
/// </summary>
public static class GammaPoisson
{
    /// <summary>Most events that one unit may have.</summary>
    public const int MostEvents = 1_000_000;

    // 1 / shape, the squared variation of the rates between units: from 0.1 % of the mean, which no fleet can show, in decades.
    private const double LeastDispersion = 1e-6;
    private const int GridSteps = 14;
    private static readonly double Step = Math.Log(10);

    /// <summary>Fits the fleet; units without exposure are left out and counted, also their events.</summary>
    /// <param name="counts">Events of each unit, 0 to 1,000,000.</param>
    /// <param name="exposures">Exposure of each unit, in the same order and one unit of measure, 0 or more.</param>
    /// <exception cref="ArgumentException">Counts and exposures differ in number, or a number lies outside its range.</exception>
    public static FleetRate Fit(IReadOnlyList<int> counts, IReadOnlyList<double> exposures)
    {
        RateArguments.Rows(counts, exposures);
        int[] used = [.. Enumerable.Range(0, counts.Count).Where(i => exposures[i] > 0)];
        int most = used.Length == 0 ? 0 : used.Max(i => counts[i]);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(most, MostEvents, nameof(counts));
        long events = used.Sum(i => (long)counts[i]);
        double exposure = used.Select(i => exposures[i]).Order().Sum();
        Estimate? pooled = PoissonRate.Exact(events, exposure);
        List<string> doubts = [.. Doubts(used.Length, counts.Count - used.Length, events)];
        if (pooled is null || events == 0)
        {
            return new FleetRate(
                used.Length, counts.Count - used.Length, events, exposure, pooled, null, pooled is null ? null : 0, pooled is null ? null : 1, doubts);
        }

        var likelihood = new MarginalLikelihood([.. used.Select(i => (counts[i], exposures[i])).Order()]);
        double same = likelihood.Pooled;
        RateSpread? spread = Maximise(likelihood, doubts);
        spread = spread?.LogLikelihood > same ? spread : null;
        double pValue = spread is null ? 1 : ChiSquare.UpperTail(2 * (spread.LogLikelihood - same), 1) / 2;
        return new FleetRate(used.Length, counts.Count - used.Length, events, exposure, pooled, spread, same, pValue, doubts);
    }

    /// <summary>The best of a grid of dispersions, then the root of the profile's slope beside it; null where the best is no dispersion.</summary>
    private static RateSpread? Maximise(MarginalLikelihood likelihood, List<string> doubts)
    {
        double from = Math.Log(LeastDispersion);
        double[] profile = [.. Enumerable.Range(0, GridSteps).Select(i => likelihood.At(Math.Exp(from + (i * Step))).Value)];
        int best = Array.IndexOf(profile, profile.Max());
        double middle = from + (best * Step);
        double Slope(double log) => likelihood.At(Math.Exp(log)).Slope * Math.Exp(log);
        double side = Slope(middle) > 0 ? Step : -Step;
        if (best == 0 && side < 0)
        {
            return null;
        }

        if (!Brent.TryFindRoot(Slope, Math.Min(middle, middle + side), Math.Max(middle, middle + side), 1e-13, 100, out double root))
        {
            doubts.Add("The search for how the units differ did not end; the nearest grid value stands.");
            root = middle;
        }

        return likelihood.SpreadAt(Math.Exp(root));
    }

    private static IEnumerable<string> Doubts(int units, int leftOut, long events)
    {
        if (leftOut > 0)
        {
            yield return leftOut == 1 ? "One that was not watched in this time is left out." : $"{leftOut} that were not watched in this time are left out.";
        }

        if (units is > 0 and < 5)
        {
            yield return units == 1 ? "With one there is nothing to compare." : $"{units} are too few to tell how they differ.";
        }

        if (events < 10)
        {
            yield return $"So few events ({events}) say little about differences.";
        }
    }
}
