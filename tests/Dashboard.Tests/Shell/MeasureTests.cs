using System.Globalization;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class MeasureTests
{
    private static readonly ReaderPreferences American =
        new PreferenceChoice(Culture: "en-US", Volume: "gallons", Temperature: "fahrenheit", Hardness: "grains_per_gallon").For([]);

    // NIST Handbook 44, appendix C: 1 gallon (US) = 3.785 411 784 L, exactly. NIST SP 811, B.8: gallon (US) to litre 3.785 412 E+00, gallon per
    // minute 3.785 412 L/min, printed to seven digits.
    [Theory]
    [InlineData("US gal", 1, 3.785411784, 1e-12)]
    [InlineData("US gal", 1, 3.785412, 5e-7)]
    [InlineData("US gal/min", 1, 3.785412, 5e-7)]
    [InlineData("US gal", 10, 37.85412, 5e-6)]
    public void A_us_gallon_is_231_cubic_inches(string symbol, double typed, double litres, double within) =>
        Assert.Equal(litres, Measure.Typed(symbol)!.ToKept(typed), within);

    // Fixed points as published: NIST SP 811, B.8 (t/°C = (t/°F - 32)/1.8), and the points at which the scales are known to agree.
    [Theory]
    [InlineData(32, 0)]
    [InlineData(212, 100)]
    [InlineData(-40, -40)]
    [InlineData(98.6, 37)]
    [InlineData(-459.67, -273.15)]
    public void Fahrenheit_meets_celsius_at_the_published_points(double fahrenheit, double celsius)
    {
        Assert.Equal(celsius, Measure.Typed("°F")!.ToKept(fahrenheit), 1e-10);
        Assert.Equal(fahrenheit, Measure.Typed("°F")!.FromKept(celsius), 1e-10);
    }

    // Published: 1 gpg = 17.118 mg/L (64.79891 mg in 3.785 412 L; tables round to 17.1); 1 °dH = 17.848 mg/L, 1 °fH = 10 mg/L of calcium carbonate
    // (conversion tables of water hardness). Classes of the US Geological Survey in mg/L: 60, 120, 180, which its tables give as 3.5, 7.0 and 10.5 gpg.
    [Theory]
    [InlineData("gpg", 1, 17.118, 0.0005)]
    [InlineData("°dH", 1, 17.848, 0.0005)]
    [InlineData("°fH", 1, 10, 1e-12)]
    [InlineData("mg/L CaCO3", 1, 1, 0)]
    [InlineData("gpg", 3.5, 60, 0.1)]
    [InlineData("gpg", 10.5, 180, 0.3)]
    public void Hardness_is_kept_as_mg_per_litre_of_calcium_carbonate(string symbol, double typed, double mgPerL, double within) =>
        Assert.Equal(mgPerL, Measure.Typed(symbol)!.ToKept(typed), within);

    [Fact]
    public void What_is_typed_is_read_as_it_was_typed()
    {
        foreach (string symbol in new[] { "US gal", "US gal/min", "°F", "gpg", "°dH", "°fH", "mg/L CaCO3" })
        {
            Measure measure = Measure.Typed(symbol)!;
            for (int i = -5000; i <= 50_000; i++)
            {
                double typed = i / 100.0;
                double kept = double.Parse(measure.ToKept(typed).ToString("R", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
                Assert.Equal(typed, measure.FromKept(kept));
            }
        }
    }

    [Fact]
    public void A_reader_gets_each_measure_in_the_chosen_unit()
    {
        Assert.Equal("37.9 L", Text.Volume(37.854));
        Assert.Equal("65 °C", Text.Reading(65, "°C"));
        Assert.Equal("96 mg/L", Text.Hardness(96).Replace(".0", string.Empty, StringComparison.Ordinal));
        using (ReaderPreferences.Use(American))
        {
            Assert.Equal("10.0 US gal", Text.Volume(37.85411784));
            Assert.Equal("149 °F", Text.Reading(65, "°C"));
            Assert.Equal("5.61 gpg", Text.Hardness(96));
            Assert.Equal("2.5 bar", Text.Reading(2.5, "bar"));
            Assert.Equal("7", Text.Reading(7, null));
            Assert.Equal("not known", Text.Temperature(null));
        }
    }
}
