using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on kept forecasts.</summary>
public static class CalibrationSentences
{
    private const double Rare = 0.05;

    /// <summary>The finding.</summary>
    /// <param name="quarters">Forecasts kept.</param>
    /// <param name="over">Of these, how many are of quarters that are over.</param>
    /// <param name="expected">Failures expected in these.</param>
    /// <param name="observed">Failures that came.</param>
    /// <param name="pValue">How often a total that far off would come by chance; null: nothing was scored.</param>
    public static string Finding(int quarters, int over, double expected, int observed, double? pValue)
    {
        if (quarters == 0)
        {
            return "No forecast of a quarter is kept yet; the first is kept within a minute of the start, if parts are on record.";
        }

        if (over == 0 || pValue is not { } p)
        {
            return $"{Text.Capital(Text.Counted(quarters, "forecast is", "forecasts are"))} kept; none can be scored before its quarter is over.";
        }

        string verdict = p < Rare ? "further off than chance allows: read the plan with care" : "as close as chance lets one expect";
        return $"In {Text.Counted(over, "quarter")} that {(over == 1 ? "is" : "are")} over {Text.Number(expected)} failures were expected and {observed} came, {verdict}.";
    }
}
