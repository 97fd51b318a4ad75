using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words for what forecasts are split by.</summary>
public static class ForecastWords
{
    /// <summary>One of what a forecast is split by.</summary>
    /// <param name="by">By what.</param>
    public static string One(ForecastBy by) => PlanForecastTexts.Now.Groups[by];

    /// <summary>Failures to be expected of all parts together: nobody acts on a tenth of one among many.</summary>
    /// <param name="expected">The number to be expected.</param>
    /// <returns>Whole from 10 on, else with one decimal.</returns>
    public static string Total(double expected) => double.IsFinite(expected) ? Text.Tick(Math.Round(expected, expected < 10 ? 1 : 0)) : Text.NotKnown;
}
