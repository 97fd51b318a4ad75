using System.Globalization;
using NodaTime;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

/// <summary>The table of cultures against the Unicode CLDR, as the platform carries it (ICU).</summary>
public sealed class ReadingCultureTests
{
    public static TheoryData<string> Codes() => [.. ReadingCulture.All.Select(culture => culture.Code)];

    [Theory]
    [MemberData(nameof(Codes))]
    public void Numbers_dates_weeks_and_clocks_are_those_of_the_cldr(string code)
    {
        ReadingCulture culture = ReadingCulture.Find(code)!;
        CultureInfo cldr = CultureInfo.GetCultureInfo(code);
        Assert.Equal(cldr.NumberFormat.NumberDecimalSeparator, culture.DecimalMark);
        // Several kinds of space that keep a number together look alike; ours is the one that every font has.
        Assert.Equal(cldr.NumberFormat.NumberGroupSeparator.Replace('\u202f', '\u00a0'), culture.GroupMark);
        Assert.Equal((int)cldr.DateTimeFormat.FirstDayOfWeek, (int)culture.FirstDay % 7);
        Assert.Equal(cldr.DateTimeFormat.ShortTimePattern.Contains('h', StringComparison.Ordinal), culture.TwelveHour);
        string date = cldr.DateTimeFormat.LongDatePattern.Replace("dddd", string.Empty, StringComparison.Ordinal);
        Assert.Equal(date.IndexOf('M', StringComparison.Ordinal) < date.IndexOf('d', StringComparison.Ordinal), culture.MonthFirst);
    }

    [Theory]
    [InlineData("en", "en-GB")]
    [InlineData("de", "de-DE")]
    public void Names_of_months_and_days_are_those_of_the_cldr(string language, string code)
    {
        DateTimeFormatInfo cldr = CultureInfo.GetCultureInfo(language).DateTimeFormat;
        DateTimeFormatInfo ours = ReadingCulture.Find(code)!.FormatIn(language).DateTimeFormat;
        Assert.Equal(cldr.MonthGenitiveNames, ours.MonthNames);
        Assert.Equal(cldr.AbbreviatedMonthGenitiveNames, ours.AbbreviatedMonthNames);
        Assert.Equal(cldr.DayNames, ours.DayNames);
        Assert.Equal(cldr.AbbreviatedDayNames, ours.AbbreviatedDayNames);
    }

    [Theory]
    [InlineData("de-LI", "de-DE")]
    [InlineData("en", "en-GB")]
    [InlineData("EN-us", "en-US")]
    [InlineData("fr-CA", "fr-FR")]
    [InlineData("ja", null)]
    [InlineData("*", null)]
    [InlineData("", null)]
    public void A_browsers_language_gets_its_country_or_the_main_one(string tag, string? code) => Assert.Equal(code, ReadingCulture.Nearest(tag)?.Code);

    [Fact]
    public void A_reader_gets_numbers_dates_and_times_in_the_own_way_and_others_as_before()
    {
        var at = new DateTimeOffset(2025, 6, 3, 12, 5, 0, TimeSpan.Zero);
        string[] Told() => [Text.Moment(at, "Europe/Vienna"), Text.Date(new DateOnly(2025, 6, 3)), Text.Number(1237.4), Text.Number(12.345), Text.Tick(0.5), Text.Share(0.004)];
        string[] standard = ["Tue 3 Jun 2025, 14:05", "3 Jun 2025", "1,240", "12.3", "0.5", "0.4 %"];
        Assert.Equal(standard, Told());
        using (ReaderPreferences.Use(new PreferenceChoice(Culture: "en-US").For([])))
        {
            Assert.Equal(["Tue, Jun 3, 2025, 2:05 PM", "Jun 3, 2025", "1,240", "12.3", "0.5", "0.4 %"], Told());
        }

        using (ReaderPreferences.Use(new PreferenceChoice(Culture: "de-DE", Language: "en").For([])))
        {
            // On a page in English the words of a date are English, however its numbers are written.
            Assert.Equal(["Tue 3 Jun 2025, 14:05", "3 Jun 2025", "1.240", "12,3", "0,5", "0,4 %"], Told());
        }

        using (ReaderPreferences.Use(new PreferenceChoice(Language: "de").For(["de-AT"])))
        {
            Assert.Equal(["Di, 3. Juni 2025, 14:05", "3. Juni 2025", "1\u00a0240", "12,3", "0,5", "0,4 %"], Told());
        }

        Assert.Equal(standard, Told());
    }

    [Fact]
    public void Keys_that_scripts_sort_by_are_the_same_for_everybody()
    {
        using (ReaderPreferences.Use(new PreferenceChoice(Culture: "de-DE").For([])))
        {
            Assert.Equal("1234.5", Text.SortKey(1234.5));
            Assert.Equal("1748952300", Text.SortKey(new DateTimeOffset(2025, 6, 3, 12, 5, 0, TimeSpan.Zero)));
        }
    }

    [Fact]
    public void A_clock_that_is_not_the_sites_says_its_name()
    {
        var at = new DateTimeOffset(2025, 6, 3, 12, 5, 0, TimeSpan.Zero);
        using (ReaderPreferences.Use(new PreferenceChoice(TimeZone: "America/New_York").For([])))
        {
            Assert.Equal("Tue 3 Jun 2025, 08:05 EDT", Text.Moment(at, "Europe/Vienna"));
            Assert.Equal("Tue 3 Jun 2025, 08:05", Text.Moment(at, "America/New_York"));
            Assert.Equal("2 Jun 2025", Text.Date(at.AddHours(-10), "Europe/Vienna"));
        }
    }

    [Fact]
    public void Kept_choices_come_back_and_what_cannot_be_chosen_is_left_out()
    {
        var choice = new PreferenceChoice("planner", "en-US", "de", "gallons", "fahrenheit", "grains_per_gallon", "sunday", "12", "America/New_York");
        Assert.Equal(choice, PreferenceChoice.Read(choice.Kept()));
        Assert.Equal(choice, PreferenceChoice.Holding(choice.For([])));
        Assert.Equal(new PreferenceChoice(Culture: "fr-FR"), PreferenceChoice.Read("culture=fr-FR volume=buckets time_zone=Nowhere/Here nonsense x=y"));
        Assert.Equal(PreferenceChoice.None, PreferenceChoice.Read(new string('x', 501)));
        Assert.Equal(IsoDayOfWeek.Sunday, new PreferenceChoice(Culture: "en-US").For([]).FirstDay);
        Assert.Equal("mg_per_l", PreferenceChoice.Holding(ReaderPreferences.Standard).Hardness);
    }

    [Fact]
    public async Task What_one_flow_of_work_writes_is_not_shaped_by_another_ones_reader()
    {
        using var begun = new SemaphoreSlim(0);
        using var read = new SemaphoreSlim(0);
        Task<string> german = Task.Run(async () =>
        {
            using (ReaderPreferences.Use(new PreferenceChoice(Culture: "de-DE").For([])))
            {
                begun.Release();
                await read.WaitAsync();
                return Text.Number(12.3);
            }
        });
        await begun.WaitAsync();
        Assert.Equal("12.3", Text.Number(12.3));
        read.Release();
        Assert.Equal("12,3", await german);
        Assert.Equal("12.3", Text.Number(12.3));
    }
}
