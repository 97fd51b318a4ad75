using MathNet.Numerics.LinearAlgebra;
using Washwear.Analytics.Numerics;

namespace Washwear.Analytics.PartLife;

/// <summary>Failures in one band of age, seen and expected under the fitted curve.</summary>
/// <param name="FromAge">Ages above this one.</param>
/// <param name="ToAge">Ages up to and including this one.</param>
/// <param name="Observed">Failures seen.</param>
/// <param name="Expected">Failures expected from the time that parts were watched in the band.</param>
public sealed record AgeBand(double FromAge, double ToAge, int Observed, double Expected);

/// <summary>Whether a fitted curve suits the lives.</summary>
/// <param name="Account">Names the test that was used, or says why none was.</param>
/// <param name="Statistic">Anderson-Darling A-squared, or the chi-square of the age bands; null when no test was made.</param>
/// <param name="AdjustedStatistic">A-squared x (1 + 0.2/sqrt n), to compare with the critical values; null for age bands.</param>
/// <param name="DegreesOfFreedom">Of the chi-square; null for Anderson-Darling.</param>
/// <param name="PValue">Chance of so poor an agreement if the curve is right; approximate; null when no test was made.</param>
/// <param name="Bands">The age bands; empty for Anderson-Darling.</param>
public sealed record GoodnessOfFitResult(
    ResultAccount Account,
    double? Statistic,
    double? AdjustedStatistic,
    int? DegreesOfFreedom,
    double? PValue,
    IReadOnlyList<AgeBand> Bands);

/// <summary>
/// Goodness of fit of a Weibull curve.
/// <para>
/// Complete lives (every part failed at a known age and was watched from new): Anderson-Darling, A2 = -n - (1/n) sum (2i-1)(ln u_i +
/// ln(1-u_(n+1-i))), adjusted A2 (1 + 0.2/sqrt n) against the table for both parameters estimated (Stephens 1977, Biometrika 64,
/// 583-588); p about 1/(1 + exp(-0.1 + 1.24 ln A* + 4.48 A*)) (MIL-HDBK-17-1F).
/// </para>
/// <para>
/// Censored or late-entered lives: that table does not hold. Failures are counted in bands of age with about equal failures and compared
/// with those expected from the time watched in each band; the chi-square allows for the two fitted parameters (Hjort 1990, Annals of
/// Statistics 18, 1221-1258; cited from memory). Rough below about 30 failures. With failures between looks no test is made, and the
/// result says so.
/// </para>
/// </summary>
public static class GoodnessOfFit
{
    /// <summary>Critical values of the adjusted statistic by upper-tail chance (Stephens 1977).</summary>
    public static readonly IReadOnlyList<(double UpperTail, double AdjustedStatistic)> CriticalValues =
        [(0.25, 0.474), (0.10, 0.637), (0.05, 0.757), (0.025, 0.877), (0.01, 1.038)];

    private const int FailuresInBand = 8;
    private const int LeastBands = 3;
    private const int MostBands = 8;
    private const int ReliableFailures = 30;

    /// <summary>Tests the fit by the method that its records allow.</summary>
    /// <param name="fit">A fitted curve.</param>
    public static GoodnessOfFitResult Test(FittedLife fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        Lives lives = fit.Likelihood.Lives;
        if (lives.FailedBetweenLooks > 0)
        {
            return None(lives, "The fit was not tested: failures known only to lie between looks allow no sound simple test.");
        }

        return lives.Censored == 0 && lives.EnteredLate == 0 ? AndersonDarling(fit) : Banded(fit);
    }

    private static GoodnessOfFitResult AndersonDarling(FittedLife fit)
    {
        Lives lives = fit.Likelihood.Lives;
        int n = lives.Count;
        double[] hazards = [.. lives.FailedAges.Order().Select(fit.Curve.CumulativeHazardAt)];
        double sum = 0;
        for (int i = 0; i < n; i++)
        {
            double failed = -Elementary.ExpMinusOne(-hazards[i]);
            sum += ((2 * i) + 1) * (Math.Log(Math.Max(failed, double.Epsilon)) - hazards[n - 1 - i]);
        }

        double statistic = -n - (sum / n);
        double adjusted = (1 + (0.2 / Math.Sqrt(n))) * statistic;
        double pValue = 1 / (1 + Math.Exp(-0.1 + (1.24 * Math.Log(adjusted)) + (4.48 * adjusted)));
        ResultAccount account = ResultAccount.For(
            lives, "Anderson-Darling, both parameters estimated", "complete lives; adjusted by 1 + 0.2/sqrt n", true);
        return new GoodnessOfFitResult(account, statistic, adjusted, null, pValue, []);
    }

    private static GoodnessOfFitResult Banded(FittedLife fit)
    {
        Lives lives = fit.Likelihood.Lives;
        int count = Math.Min(MostBands, lives.Failures / FailuresInBand);
        if (count < LeastBands)
        {
            return None(lives, ResultAccount.Text(
                $"The fit was not tested: censored lives with {lives.Failures} failures give fewer than {LeastBands} bands of age."));
        }

        BandSums[] bands = Bands(fit, count);
        double? statistic = ChiSquareOf(fit, bands);
        if (statistic is not { } s)
        {
            return None(lives, "The fit was not tested: the bands of age do not tell the curve's two parameters apart.");
        }

        int degrees = bands.Length - 1;
        string[] doubts = lives.Failures < ReliableFailures
            ? [ResultAccount.Text($"With {lives.Failures} failures the p-value of the fit is rough, and only gross misfit would show.")]
            : [];
        return new GoodnessOfFitResult(
            ResultAccount.For(
                lives, "chi-square of failures by age band", "expected from the time watched; allows for the two fitted parameters", true,
                doubts),
            s, null, degrees, ChiSquare.UpperTail(s, degrees),
            [.. bands.Select(b => new AgeBand(b.FromAge, b.ToAge, b.Observed, b.Expected))]);
    }

    private static GoodnessOfFitResult None(Lives lives, string why) => new(
        ResultAccount.For(lives, "no test of fit", "none", false, [why]), null, null, null, null, []);

    /// <summary>Bands in which the curve expects equal numbers of failures.</summary>
    private static BandSums[] Bands(FittedLife fit, int count)
    {
        Lives lives = fit.Likelihood.Lives;
        var expected = new ExpectedFailures(fit);
        var bands = new BandSums[count];
        double from = 0;
        HazardMoments before = default;
        for (int k = 0; k < count; k++)
        {
            double to = k == count - 1 ? lives.OldestAge : expected.AgeWhen((k + 1) * (double)lives.Failures / count);
            HazardMoments upTo = expected.By(to);
            int observed = lives.FailedAges.Count(a => a > from && a <= to);
            bands[k] = new BandSums(from, to, observed, upTo.H - before.H, before.H - upTo.H, upTo.HL - before.HL);
            (from, before) = (to, upTo);
        }

        return bands;
    }

    /// <summary>(O - E)' V^-1 (O - E) over all bands but the last, V = diag(E) - C I^-1 C': all bands together add up to 0.</summary>
    private static double? ChiSquareOf(FittedLife fit, BandSums[] bands)
    {
        int k = bands.Length - 1;
        Matrix<double> variance = Matrix<double>.Build.Dense(k, k, (i, j) =>
        {
            (double offset, double slope) = fit.CovarianceWith(bands[j].ByOffset, bands[j].BySlope);
            return (i == j ? bands[i].Expected : 0) - (bands[i].ByOffset * offset) - (bands[i].BySlope * slope);
        });
        Vector<double> difference = Vector<double>.Build.Dense(k, i => bands[i].Observed - bands[i].Expected);
        if (variance.Rank() < k)
        {
            return null;
        }

        double statistic = difference.DotProduct(variance.Solve(difference));
        return double.IsFinite(statistic) && statistic >= 0 ? statistic : null;
    }

    private readonly record struct BandSums(double FromAge, double ToAge, int Observed, double Expected, double ByOffset, double BySlope);
}
