namespace Washwear.Dashboard.Shell;

public static partial class Text
{
    /// <summary>A volume, such as '12.3 L' or '3.25 US gal'.</summary>
    /// <param name="litres">The volume in litres; null: not known.</param>
    /// <returns>Three significant digits and the unit that the reader has chosen.</returns>
    public static string Volume(double? litres) => Measured(litres, "L");

    /// <summary>A temperature, such as '65 °C' or '149 °F'.</summary>
    /// <param name="celsius">The temperature in °C; null: not known.</param>
    /// <returns>Three significant digits and the unit that the reader has chosen.</returns>
    public static string Temperature(double? celsius) => Measured(celsius, "°C");

    /// <summary>Total hardness of water, such as '96 mg/L', '5.61 gpg', '5.38 °dH' or '9.6 °fH'.</summary>
    /// <param name="mgPerL">The hardness in mg/L as calcium carbonate; null: not known.</param>
    /// <returns>Three significant digits and the unit that the reader has chosen.</returns>
    public static string Hardness(double? mgPerL) =>
        Measured(mgPerL, Measure.HardnessSymbol).Replace(Measure.HardnessSymbol, "mg/L", StringComparison.Ordinal);

    /// <summary>A measured value with its unit, in the unit that the reader has chosen for it.</summary>
    /// <param name="value">The value; null: not known.</param>
    /// <param name="symbol">Symbol of its unit; null: none.</param>
    /// <returns>Three significant digits and the unit.</returns>
    public static string Measured(double? value, string? symbol)
    {
        if (value is not { } kept || !double.IsFinite(kept))
        {
            return NotKnown;
        }

        Measure? read = Measure.Read(symbol, ReaderPreferences.Current);
        return Join(Number(read?.FromKept(kept) ?? kept), read?.Symbol ?? symbol);
    }

    /// <summary>A reading as somebody took it down: all its digits, in the unit that the reader has chosen for it.</summary>
    /// <param name="value">The value.</param>
    /// <param name="symbol">Symbol of its unit; null: none.</param>
    /// <returns>The value without trailing zeros and the unit.</returns>
    public static string Reading(double value, string? symbol)
    {
        if (!double.IsFinite(value))
        {
            return NotKnown;
        }

        Measure? read = Measure.Read(symbol, ReaderPreferences.Current);
        return Join((read?.FromKept(value) ?? value).ToString("#,0.############", Culture), read?.Symbol ?? symbol);
    }
}
