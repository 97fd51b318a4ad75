namespace Washwear.Analytics.PartLife;

/// <summary>How well one clock explains the lives.</summary>
/// <param name="Clock">The clock.</param>
/// <param name="Fit">The curve fitted on it, or why there is none.</param>
/// <param name="LogLikelihoodOnBase">Log-likelihood with densities per unit of the base clock; null without a curve.</param>
/// <param name="Aic">Akaike's criterion from it; null as above.</param>
/// <param name="AicAboveBest">By how much it exceeds the best clock's; 0 for the best, null without a curve.</param>
public sealed record ClockFit(string Clock, LifeResult Fit, double? LogLikelihoodOnBase, double? Aic, double? AicAboveBest);

/// <summary>Which clock explains the lives best.</summary>
/// <param name="Account">Method, the base clock, counts and doubts.</param>
/// <param name="Best">The clock with the least criterion; null when no clock gives a curve.</param>
/// <param name="Decided">True when every other clock is worse by 2 or more, so that the data, not chance, chose.</param>
/// <param name="Clocks">All clocks, best first, those without a curve last.</param>
public sealed record ClockChoiceResult(ResultAccount Account, string? Best, bool Decided, IReadOnlyList<ClockFit> Clocks);

/// <summary>
/// Chooses the clock on which the same lives follow a Weibull curve best. Densities on different clocks have different units and cannot be
/// compared as they are: a failure density per wash becomes one per day by the factor washes per day at the failure, so each clock's
/// log-likelihood gains the sum over exact failures of ln(units of the clock per unit of the base clock). The part's use is taken as given
/// and its rate as steady while it was watched: (age - entry) on the clock over the same on the base. Censored lives and failures between
/// looks are probabilities and need no factor. All clocks have two parameters, so AIC ranks as the likelihood does; a difference below
/// 2 decides nothing (Burnham and Anderson 2002, 2.6). The order does not depend on the base. Sources: Oakes (1995), Lifetime Data
/// Analysis 1, 7-18; Duchesne and Lawless (2000), Lifetime Data Analysis 6, 157-179 (both cited from memory).
/// Where all parts are used alike, clocks tie.
/// </summary>
public static class ClockChoice
{
    private const double DecisiveDifference = 2;

    /// <summary>Fits all clocks and compares them.</summary>
    /// <param name="lives">The same lives on two or more clocks.</param>
    /// <param name="options">As for <see cref="WeibullFit.Fit"/>.</param>
    public static ClockChoiceResult Choose(MultiClockLives lives, WeibullFitOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(lives);
        ClockFit[] fits = [.. lives.Clocks.Select((clock, c) => FitOn(lives, c, clock, options))];
        double? least = fits.Min(f => f.Aic);
        ClockFit[] ranked = [.. fits.Select(f => f with { AicAboveBest = Above(f.Aic, least) })
            .OrderBy(f => f.AicAboveBest ?? double.PositiveInfinity)];
        string? best = least is null ? null : ranked[0].Clock;
        bool decided = ranked.Count(f => f.Aic is not null) > 1 && ranked.Skip(1).All(f => !(f.AicAboveBest < DecisiveDifference));
        ResultAccount account = ResultAccount.For(
            lives[0],
            "choice of clock by likelihood",
            $"densities per unit of '{lives.Clocks[0]}' through each part's own rate of use; least AIC",
            best is not null,
            Doubts(ranked, best));
        return new ClockChoiceResult(account, best, decided, ranked);
    }

    private static ClockFit FitOn(MultiClockLives lives, int clock, string name, WeibullFitOptions? options)
    {
        LifeResult result = WeibullFit.Fit(lives[clock], options);
        double? likelihood = result is FittedLife fit ? fit.LogLikelihood + lives.LogJacobian(clock) : null;
        return new ClockFit(name, result, likelihood, 4 - (2 * likelihood), null);
    }

    /// <summary>Differences of rounding size are ties, so that of clocks that say the same the first given is named.</summary>
    private static double? Above(double? aic, double? least) => aic - least is { } above ? (above < 1e-6 ? 0 : above) : null;

    private static IEnumerable<string> Doubts(ClockFit[] ranked, string? best)
    {
        if (best is null)
        {
            yield return "No clock gives a curve, so none can be chosen.";
        }

        string[] close = [.. ranked.Skip(1).Where(f => f.AicAboveBest < DecisiveDifference).Select(f => f.Clock)];
        if (close.Length > 0)
        {
            yield return $"The data do not tell '{best}' from '{string.Join("', '", close)}': choose the clock that is easier to read.";
        }

        foreach (ClockFit without in ranked.Where(f => f.Aic is null && best is not null))
        {
            yield return $"'{without.Clock}' gives no curve and was not compared.";
        }
    }
}
