using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on kept forecasts.</summary>
public static class CalibrationSentences
{
    private const double Rare = 0.05;

    /// <summary>Why parts are left out that were taken out working.</summary>
    public static string TakenOutWorking => PlanTexts.Now.TakenOutWorking;

    /// <summary>The finding.</summary>
    /// <param name="quarters">Forecasts kept.</param>
    /// <param name="over">Of these, how many are of quarters that are over.</param>
    /// <param name="expected">Failures expected in these.</param>
    /// <param name="observed">Failures that came.</param>
    /// <param name="pValue">How often a total that far off would come by chance; null: nothing was scored.</param>
    public static string Finding(int quarters, int over, double expected, int observed, double? pValue)
    {
        ForecastKeptTexts texts = PlanForecastTexts.Now.Kept;
        return quarters == 0 ? texts.None
            : over == 0 || pValue is not { } p ? texts.NoneScored.For(quarters)
            : (p < Rare ? texts.Off : texts.Close).For(
                over, ("expected", Text.Number(expected)), ("observed", observed.ToString(CultureInfo.InvariantCulture)));
    }
}
