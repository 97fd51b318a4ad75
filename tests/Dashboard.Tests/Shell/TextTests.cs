using Washwear.Analytics.Numerics;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class TextTests
{
    [Theory]
    [InlineData(0, "less than a minute")]
    [InlineData(0.2, "12 min")]
    [InlineData(1, "1 h")]
    [InlineData(5.3333333, "5 h 20 min")]
    [InlineData(23.9999, "1 day")]
    [InlineData(24, "1 day")]
    [InlineData(76, "3 days 4 h")]
    [InlineData(1540, "64 days")]
    [InlineData(-76, "3 days 4 h")]
    [InlineData(double.NaN, "not known")]
    [InlineData(double.PositiveInfinity, "not known")]
    public void A_duration_is_told_in_its_two_largest_units(double hours, string words) => Assert.Equal(words, Text.Duration(hours));

    [Theory]
    [InlineData(0, "0")]
    [InlineData(1237.4, "1,240")]
    [InlineData(999.6, "1,000")]
    [InlineData(411.3, "411")]
    [InlineData(12.345, "12.3")]
    [InlineData(2.134, "2.13")]
    [InlineData(0.04561, "0.0456")]
    [InlineData(-1237.4, "-1,240")]
    [InlineData(1e20, "1E+20")]
    [InlineData(double.NaN, "not known")]
    [InlineData(double.NegativeInfinity, "not known")]
    public void A_measured_number_has_three_significant_digits(double value, string words) => Assert.Equal(words, Text.Number(value));

    [Fact]
    public void A_count_keeps_all_its_digits() => Assert.Equal("12,347", Text.Count(12347));

    [Theory]
    [InlineData(0.917, "92 %")]
    [InlineData(0.9999, "over 99.9 %")]
    [InlineData(0.995, "99.5 %")]
    [InlineData(0.0004, "under 0.1 %")]
    [InlineData(0.004, "0.4 %")]
    [InlineData(0.0, "0 %")]
    [InlineData(1.0, "100 %")]
    public void A_share_reads_as_all_or_none_only_when_it_is(double share, string words) => Assert.Equal(words, Text.Share(share));

    [Fact]
    public void An_estimate_comes_with_its_bounds()
    {
        Assert.Equal("1,240 days (980 to 1,610)", Text.Estimated(new Estimate(1238, 980.2, 1611, 0.95, "profile"), "days"));
        Assert.Equal("1,240 days (at least 980)", Text.Estimated(new Estimate(1238, 980.2, null, 0.95, "profile"), "days"));
        Assert.Equal("1,240 days (at most 1,610)", Text.Estimated(new Estimate(1238, double.NegativeInfinity, 1611, 0.95, "profile"),
            "days"));
        Assert.Equal("2.13 (no bounds)", Text.Estimated(new Estimate(2.13, null, double.NaN, 0.95, "profile")));
        Assert.Equal("not known", Text.Estimated(new Estimate(double.NaN, 1, 2, 0.95, "profile"), "days"));
        Assert.Equal("92 % (88 to 95 %)", Text.Share(new Estimate(0.92, 0.88, 0.95, 0.95, "logit")));
    }

    [Fact]
    public void Figures_and_their_bounds_are_told_in_the_readers_language()
    {
        using IDisposable reader = ReaderPreferences.Use(Texts.TextFileTests.German);
        Assert.Equal("nicht bekannt", Text.Number(null));
        Assert.Equal("unter 0,1 %", Text.Share(0.0004));
        Assert.Equal("über 99,9 %", Text.Share(0.9999));
        Assert.Equal("p unter 0,001", Text.PValue(0.0001));
        Assert.Equal("p 0,0230", Text.PValue(0.023));
        Assert.Equal("92 % (88 bis 95 %)", Text.Share(new Estimate(0.92, 0.88, 0.95, 0.95, "logit")));
        Assert.Equal("mindestens 980", Text.Range(new Estimate(1238, 980.2, null, 0.95, "profile")));
        Assert.Equal("höchstens 120", Text.Range(new Estimate(100, null, 120, 0.95, "profile")));
        Assert.Equal("ohne Grenzen", Text.Range(new Estimate(2.13, null, double.NaN, 0.95, "profile")));
        Assert.Equal("seit 3 Tagen 4 h", "seit " + Text.DurationAfter(76));
        Assert.Equal(("Tage", "Tagen", "Alter, Betriebsstunden"), (Text.ClockUnit(null), Text.ClockUnitAfter("days"), Text.AgeAxis("operating_hours")));
        Assert.Equal("Waschpumpe", Text.Inside("Waschpumpe"));
    }

    [Fact]
    public void A_code_that_several_folders_share_has_its_own_words_in_each_language_and_any_other_reads_as_it_is_spelled()
    {
        SortedDictionary<string, string> codes = Texts.TextFileTests.Texts("Shell", ReaderPreferences.English);
        foreach ((string key, string words) in codes.Where(pair => pair.Key.StartsWith("codes/", StringComparison.Ordinal)))
        {
            string plain = key["codes/".Length..].Replace('_', ' ');
            Assert.Equal(char.ToUpperInvariant(plain[0]) + plain[1..], words);
        }

        Assert.Equal("Weak flow", Text.Words("weak-flow"));
        using IDisposable reader = ReaderPreferences.Use(Texts.TextFileTests.German);
        Assert.Equal(("Küche", "Weak flow"), (Text.Words("kitchen"), Text.Words("weak-flow")));
    }

    // Central European Summer Time began on 30 March 2025 at 01:00 UTC (IANA time zone database).
    [Theory]
    [InlineData("2025-03-30T00:59:00Z", "Sun 30 Mar 2025, 01:59")]
    [InlineData("2025-03-30T01:00:00Z", "Sun 30 Mar 2025, 03:00")]
    public void An_instant_is_told_on_the_sites_own_wall_clock(string instant, string words) =>
        Assert.Equal(words, Text.Moment(DateTimeOffset.Parse(instant, System.Globalization.CultureInfo.InvariantCulture), "Europe/Vienna"));

    [Fact]
    public void A_zone_that_is_not_known_is_told_in_UTC_and_says_so() =>
        Assert.Equal("Tue 3 Jun 2025, 07:30 UTC", Text.Moment(Samples.AsOf, "No/Such_Zone"));

    [Fact]
    public void The_ends_of_time_do_not_break_a_page()
    {
        Assert.NotEmpty(Text.Moment(DateTimeOffset.MinValue, "America/New_York"));
        Assert.NotEmpty(Text.Date(DateTimeOffset.MaxValue, "Pacific/Kiritimati"));
    }

    [Theory]
    [InlineData("it fails more often as it ages (wear-out)", "It fails more often as it ages (wear-out).")]
    [InlineData("It wears out.", "It wears out.")]
    [InlineData(" ", "")]
    public void A_clause_becomes_a_sentence(string clause, string sentence) => Assert.Equal(sentence, Text.Sentence(clause));

    [Fact]
    public void A_name_is_cut_between_whole_characters()
    {
        Assert.Equal("Wash pump", Text.Cut("Wash pump", 9));
        Assert.Equal("Was…", Text.Cut("Wash pump", 4));
        Assert.Equal("👩‍🍳…", Text.Cut("👩‍🍳👩‍🍳👩‍🍳", 2));
        Assert.Equal("WP-10, Wash pump", Text.FirstParts("WP-10, Wash pump, Small electric combi oven", 30));
        Assert.Equal("WP-10, Wash pump", Text.FirstParts("WP-10, Wash pump", 16));
        Assert.Equal("WP-10-of-a…", Text.FirstParts("WP-10-of-a-maker, Wash pump", 11));
    }

    [Theory]
    [InlineData("Wash pump", "Wash pump")]
    [InlineData("Door gasket, left", "Door gasket,\nleft")]
    [InlineData("Door sensor reports open", "Door sensor\nreports open")]
    [InlineData("Door sensor reports it open for a long while", "Door sensor\nreports it open\nfor a long whi…")]
    [InlineData("Umwälzpumpenlaufrad", "Umwälzpumpenla…")]
    public void A_name_takes_three_lines_before_it_is_cut(string name, string lines) => Assert.Equal(lines, Text.InLines(name, 15));

    [Theory]
    [InlineData(0.5220, "p 0.522")]
    [InlineData(0.0010, "p 0.00100")]
    [InlineData(0.00099, "p under 0.001")]
    [InlineData(1.2e-16, "p under 0.001")]
    [InlineData(null, "p not known")]
    [InlineData(double.NaN, "p not known")]
    public void A_small_p_value_is_not_read_digit_by_digit(double? p, string words) => Assert.Equal(words, Text.PValue(p));
}
