namespace Washwear.Dashboard.Planning;

/// <summary>Words for what forecasts are split by.</summary>
public static class ForecastWords
{
    /// <summary>One of what a forecast is split by.</summary>
    /// <param name="by">By what.</param>
    public static string One(ForecastBy by) => PlanForecastTexts.Now.Groups[by];
}
