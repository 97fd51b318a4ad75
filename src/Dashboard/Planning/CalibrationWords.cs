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
        string gain = report is { Brier: { } own, BrierUninformed: { } other } && double.IsFinite(own) && double.IsFinite(other)
            ? $"Telling parts apart {(own < other * (1 - Little) ? "helped" : own <= other ? "made hardly a difference" : "did not help")}: the mean squared miss is "
                + $"{Text.Number(own)}, against {Text.Number(other)} had every part been given the same chance."
            : string.Empty;
        string fit = report.CalibrationZ is not { } z || !double.IsFinite(z) ? string.Empty
            : Math.Abs(z) <= FarOff ? $"The chances said fit what happened (Spiegelhalter's z {Text.Number(z)})."
            : $"The chances said do not fit what happened (Spiegelhalter's z {Text.Number(z)}).";
        string p = report.PValue is { } value && double.IsFinite(value)
            ? $"A total this far off comes by chance in {Text.Share(value)} of cases." : string.Empty;
        return string.Join(' ', new[] { p, gain, fit }.Where(part => part.Length > 0));
    }
}
