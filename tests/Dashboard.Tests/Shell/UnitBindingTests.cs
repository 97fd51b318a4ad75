using System.Buffers;
using System.Text;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Tests.Texts;

namespace Washwear.Dashboard.Tests.Shell;

/// <summary>On a page no line ends between a number and its unit; what is no text to read stays as it is.</summary>
public sealed class UnitBindingTests
{
    // What does not break is shown as '_'.
    [Theory]
    [InlineData("<p>5 % of 12 L/min in 3 days</p>", "<p>5_% of 12_L/min in 3_days</p>")]
    [InlineData("<p>12,5 % in 3 Tagen, 240 EUR</p>", "<p>12,5_% in 3_Tagen, 240_EUR</p>")]
    [InlineData("<p>65 &#xB0;C, 5.38 \u00B0dH; (88 to 95 %), 4 h.</p>", "<p>65_&#xB0;C, 5.38_\u00B0dH; (88 to 95_%), 4_h.</p>")]
    [InlineData("<p>9 Ger&#xE4;tejahre, 3.25 US gal</p>", "<p>9_Ger&#xE4;tejahre, 3.25_US_gal</p>")]
    [InlineData("<p>12 ovens, Canteen 4 North, <b>3</b> days</p>", "<p>12 ovens, Canteen 4 North, <b>3</b> days</p>")]
    [InlineData("<td data-label=\"5 % > 3 days\">5 %</td>", "<td data-label=\"5 % > 3 days\">5_%</td>")]
    [InlineData("<textarea>5 %</textarea><code>curl 5 h</code><select><option>7 days</option></select><svg><text>5 %</text></svg>5 %",
        "<textarea>5 %</textarea><code>curl 5 h</code><select><option>7 days</option></select><svg><text>5 %</text></svg>5_%")]
    [InlineData("<script>a = 5 % b</script><!-- 5 % --><title>5 %</title><span>5 %</span>", "<script>a = 5 % b</script><!-- 5 % --><title>5 %</title><span>5_%</span>")]
    [InlineData("<styled>5 %</styled>", "<styled>5_%</styled>")]
    [InlineData("5 ", "5 ")]
    [InlineData(" % <", " % <")]
    [InlineData("<p class=\"5 %", "<p class=\"5 %")]
    [InlineData("<code>5 %", "<code>5 %")]
    [InlineData("", "")]
    public void A_number_and_its_unit_stay_together(string page, string written) => Assert.Equal(written.Replace('_', '\u00A0'), Bound(page));

    [Theory]
    [InlineData("days")]
    [InlineData("washes")]
    [InlineData("operating_hours")]
    public void What_ages_are_counted_in_is_known_in_each_language(string clock)
    {
        Assert.Contains("7\u00A0", Bound("7 " + Text.ClockUnit(clock)), StringComparison.Ordinal);
        using (ReaderPreferences.Use(TextFileTests.German))
        {
            Assert.Contains("7\u00A0", Bound("7 " + Text.ClockUnit(clock)), StringComparison.Ordinal);
            Assert.Contains("7\u00A0", Bound("7 " + Text.ClockUnitAfter(clock)), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Durations_volumes_and_the_like_are_bound()
    {
        foreach (string said in new[] { Text.Duration(76), Text.Duration(5.3), Text.Volume(12.3), Text.Temperature(65), Text.Hardness(96), Text.Share(0.5), Text.Money(12.5, "EUR") })
        {
            Assert.DoesNotMatch(@"\d [^\d]", Bound(said));
        }
    }

    private static string Bound(string page)
    {
        var written = new ArrayBufferWriter<byte>();
        UnitBinding.Write(Encoding.UTF8.GetBytes(page), written);
        return Encoding.UTF8.GetString(written.WrittenSpan);
    }
}
