namespace Washwear.Dashboard.Shell;

/// <summary>A unit of measure that somebody may read and type, and the one that is kept in its place.</summary>
/// <param name="Symbol">As it is read and typed.</param>
/// <param name="KeptAs">Symbol of the unit that is kept.</param>
/// <param name="Scale">How many of the kept unit one of this is.</param>
/// <param name="Zero">What is taken off before it is scaled.</param>
public sealed record Measure(string Symbol, string KeptAs, double Scale, double Zero = 0)
{
    /// <summary>Litres in a US gallon: 231 cubic inches of 2.54 cm (NIST Handbook 44, appendix C; 3.785411784 L exactly).</summary>
    public const double LitresPerGallon = 3.785411784;

    /// <summary>Milligrams in a grain (NIST Handbook 44, appendix C; exactly).</summary>
    public const double MilligramsPerGrain = 64.79891;

    /// <summary>mg/L of calcium carbonate in a grain per US gallon.</summary>
    public const double MgPerLPerGrain = MilligramsPerGrain / LitresPerGallon;

    /// <summary>mg/L of calcium carbonate in a German degree: 10 mg/L of calcium oxide, by the molar masses 100.087 and 56.077 g/mol of the two.</summary>
    public const double MgPerLPerGermanDegree = 10 * 100.087 / 56.077;

    /// <summary>mg/L of calcium carbonate in a French degree, by its definition.</summary>
    public const double MgPerLPerFrenchDegree = 10;

    /// <summary>Symbol under which hardness is kept.</summary>
    public const string HardnessSymbol = "mg/L CaCO3";

    private static readonly Measure Gallons = new("US gal", "L", LitresPerGallon);
    private static readonly Measure GallonsPerMinute = new("US gal/min", "L/min", LitresPerGallon);
    private static readonly Measure Fahrenheit = new("°F", "°C", 5.0 / 9.0, 32);
    private static readonly Measure Hardness = new(HardnessSymbol, HardnessSymbol, 1);

    private static readonly Measure[] Hardnesses =
    [
        Hardness, new("gpg", HardnessSymbol, MgPerLPerGrain), new("°dH", HardnessSymbol, MgPerLPerGermanDegree),
        new("°fH", HardnessSymbol, MgPerLPerFrenchDegree),
    ];

    private static readonly Measure[] All = [Gallons, GallonsPerMinute, Fahrenheit, .. Hardnesses];

    /// <summary>A unit by what is typed.</summary>
    /// <param name="symbol">Its symbol; null: none.</param>
    /// <returns>Null where it is kept as it is.</returns>
    public static Measure? Typed(string? symbol) => All.FirstOrDefault(measure => measure.Symbol == symbol);

    /// <summary>The unit in which somebody reads what is kept in another one.</summary>
    /// <param name="kept">Symbol of the unit that is kept; null: none.</param>
    /// <param name="reader">Who reads.</param>
    /// <returns>Null where it is read as it is kept.</returns>
    public static Measure? Read(string? kept, ReaderPreferences reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        return kept switch
        {
            "L" when reader.Volume == VolumeUnit.Gallons => Gallons,
            "L/min" when reader.Volume == VolumeUnit.Gallons => GallonsPerMinute,
            "°C" when reader.Temperature == TemperatureUnit.Fahrenheit => Fahrenheit,
            HardnessSymbol => Hardnesses[(int)reader.Hardness],
            _ => null,
        };
    }

    /// <summary>What is kept of a value that was typed in this unit.</summary>
    /// <param name="typed">The value.</param>
    /// <returns>The value in the kept unit.</returns>
    public double ToKept(double typed) => Rounded((typed - Zero) * Scale, 0, 13);

    /// <summary>How a value that is kept reads in this unit.</summary>
    /// <param name="kept">The value.</param>
    /// <returns>The value in this unit, rid of the dust of calculating back and forth: what was typed with up to ten digits comes back as typed.</returns>
    public double FromKept(double kept) => Rounded((kept / Scale) + Zero, Zero, 11);

    private static double Rounded(double value, double zero, int digits)
    {
        double size = Math.Max(Math.Abs(value), Math.Abs(zero));
        return size == 0 || !double.IsFinite(value) ? value : Math.Round(value, Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(size)), 0, 15));
    }
}
