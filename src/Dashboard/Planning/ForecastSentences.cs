using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on forecasts.</summary>
public static class ForecastSentences
{
    /// <summary>The finding.</summary>
    /// <param name="total">All parts.</param>
    /// <param name="days">Days ahead.</param>
    /// <param name="level">Chance that the number lies in the interval.</param>
    public static string Finding(ForecastRow total, int days, double level)
    {
        ArgumentNullException.ThrowIfNull(total);
        if (total.Parts == 0)
        {
            return total.PartsWithoutChance == 0 ? "No fitted part is on record here, so nothing is forecast."
                : $"Of none of the {Text.Counted(total.PartsWithoutChance, "fitted part")} the chance to fail can be told, so nothing is forecast.";
        }

        string without = total.PartsWithoutChance == 0 ? string.Empty
            : $" {Text.Counted(total.PartsWithoutChance, "more part", "more parts")}, of which no chance can be told, come on top.";
        return $"About {Text.Number(total.Expected)} of {Text.Counted(total.Parts, "fitted part")} will fail within {Text.Counted(days, "day")}: "
            + $"{total.Lower} to {total.Upper}, {Text.Share(level)} sure.{without}";
    }
}
