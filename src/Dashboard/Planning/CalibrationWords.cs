using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>What the scores of kept forecasts mean, in words.</summary>
public static class CalibrationWords
{
    // Two standard deviations: further off happens to right forecasts in about one case of twenty.
    private const double FarOff = 2;

    // A gain below this share is none that anybody would notice.
    private const double Little = 0.02;

    /// <summary>How to read the scores.</summary>
    /// <param name="report">Scored forecasts.</param>
    /// <returns>Whether they beat saying the same of every part, and whether the chances fit.</returns>
    public static string Reading(CalibrationReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        ForecastScoresTexts texts = PlanForecastTexts.Now.Scores;
        string? chance = report.PValue is { } p && double.IsFinite(p) ? Fill.In(texts.ByChance, ("share", Text.Share(p))) : null;
        string? gain = report is { Brier: { } own, BrierUninformed: { } other } && double.IsFinite(own) && double.IsFinite(other)
            ? Fill.In(
                own < other * (1 - Little) ? texts.Helped : own <= other ? texts.Hardly : texts.DidNot, ("own", Text.Number(own)), ("other", Text.Number(other)))
            : null;
        string? fit = report.CalibrationZ is { } z && double.IsFinite(z) ? Fill.In(Math.Abs(z) <= FarOff ? texts.Fit : texts.NoFit, ("z", Text.Number(z))) : null;
        return string.Join(' ', new[] { chance, gain, fit }.OfType<string>());
    }
}
