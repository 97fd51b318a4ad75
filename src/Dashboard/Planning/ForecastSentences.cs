using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Planning;

/// <summary>Words on forecasts.</summary>
public static class ForecastSentences
{
    /// <summary>How all parts together are called.</summary>
    public static string AllParts => PlanForecastTexts.Now.AllParts;

    /// <summary>The finding.</summary>
    /// <param name="total">All parts.</param>
    /// <param name="days">Days ahead.</param>
    /// <param name="level">Chance that the number lies in the interval.</param>
    public static string Finding(ForecastRow total, int days, double level)
    {
        ArgumentNullException.ThrowIfNull(total);
        ForecastFindingTexts texts = PlanForecastTexts.Now.Finding;
        if (total.Parts == 0)
        {
            return total.PartsWithoutChance == 0 ? texts.None : texts.NoneTold.For(total.PartsWithoutChance);
        }

        string about = texts.About.For(
            total.Parts,
            ("expected", ForecastWords.Total(total.Expected)),
            ("days", texts.Within.For(days)),
            ("lower", total.Lower.ToString(CultureInfo.InvariantCulture)),
            ("upper", total.Upper.ToString(CultureInfo.InvariantCulture)),
            ("share", Text.Share(level)));
        return total.PartsWithoutChance == 0 ? about : about + " " + texts.More.For(total.PartsWithoutChance);
    }
}
