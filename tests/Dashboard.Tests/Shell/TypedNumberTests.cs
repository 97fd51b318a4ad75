using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class TypedNumberTests
{
    [Theory]
    [InlineData("1.5", "en-US", 1.5)]
    [InlineData("1,5", "en-US", 1.5)]
    [InlineData("1,240", "en-US", 1240.0)]
    [InlineData("1.240", "en-US", 1.24)]
    [InlineData("0,240", "en-US", 0.24)]
    [InlineData("1,234.5", "de-DE", 1234.5)]
    [InlineData("1.234,5", "en-US", 1234.5)]
    [InlineData("1.240", "de-DE", 1240.0)]
    [InlineData("1,240", "de-DE", 1.24)]
    [InlineData("1\u00a0240,5", "fr-FR", 1240.5)]
    [InlineData("1’240.5", "de-CH", 1240.5)]
    [InlineData("1.234.567", "en-US", 1234567.0)]
    [InlineData("-3,5", "de-DE", -3.5)]
    [InlineData("−3,5", "de-DE", -3.5)]
    [InlineData("7", "de-DE", 7.0)]
    [InlineData("1.2.3", "en-US", null)]
    [InlineData("seven", "en-US", null)]
    [InlineData("", "en-US", null)]
    [InlineData(",", "en-US", null)]
    [InlineData("1e999", "en-US", null)]
    public void A_number_is_read_as_the_reader_writes_it(string typed, string culture, double? number) =>
        Assert.Equal(number, TypedNumber.Read(typed, new PreferenceChoice(Culture: culture).For([])));

    [Fact]
    public void What_a_page_shows_can_be_typed_back()
    {
        foreach (ReadingCulture culture in ReadingCulture.All)
        {
            ReaderPreferences reader = new PreferenceChoice(Culture: culture.Code).For([]);
            using (ReaderPreferences.Use(reader))
            {
                foreach (double number in new[] { 0, 0.5, 12.25, 999, 1234, 1234.5, 65_000, 1_234_567.75 })
                {
                    Assert.Equal(number, TypedNumber.Read(Text.Reading(number, null), reader));
                }
            }
        }
    }
}
