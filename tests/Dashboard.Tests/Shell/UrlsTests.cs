using Washwear.Analytics.Cleaning;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Shell;

public sealed class UrlsTests
{
    [Theory]
    [InlineData("OV-1003", "/units/OV-1003")]
    [InlineData("a/b?c#d", "/units/a%2Fb%3Fc%23d")]
    [InlineData("Ü 1", "/units/%C3%9C%201")]
    [InlineData("{unit}", "/units/%7Bunit%7D")]
    public void A_code_stays_one_segment(string code, string address) => Assert.Equal(address, Urls.Unit(code));

    [Fact]
    public void Choices_that_are_not_made_are_left_out() => Assert.Equal("/cleaning", Urls.Cleaning(CleaningFilter.All));

    [Fact]
    public void Choices_that_are_made_have_an_address()
    {
        var filter = new CleaningFilter(CleaningState.LockedOut, "OP 1", "Nord & Süd", "model", 91);
        Assert.Equal(
            "/cleaning?state=locked_out&operator=OP%201&region=Nord%20%26%20S%C3%BCd&by=model&days=91&after=c1", Urls.Cleaning(filter,
                "c1"));
    }

    [Theory]
    [InlineData("/units", "/units?sort=-heard")]
    [InlineData("/units?q=N%26S%20%2B1&after=c1", "/units?q=N%26S%20%2B1&sort=-heard")]
    [InlineData("/units?sort=unit&q=a&q=b", "/units?q=a&q=b&sort=-heard")]
    public void An_address_in_another_order_keeps_every_other_choice(string address, string sorted)
    {
        string made = Urls.With(address, ("sort", "-heard"), ("after", null));
        Assert.Equal(sorted, made);
        Assert.Equal("-heard", Urls.Asked(made, "sort"));
        Assert.Null(Urls.Asked(made, "after"));
    }

    [Theory]
    [InlineData("en-GB", "")]
    [InlineData("de-CH", "")]
    [InlineData("de-DE", "decimal_mark=comma")]
    [InlineData("fr-FR", "decimal_mark=comma")]
    public void A_link_to_a_file_asks_for_the_marks_of_its_readers_country(string culture, string asked)
    {
        using IDisposable reader = ReaderPreferences.Use(new PreferenceChoice(Culture: culture).For([]));
        string more = asked.Length == 0 ? string.Empty : "&" + asked;
        Assert.Equal("/v1/alerts?format=csv" + more, Urls.AlertsCsv(null));
        Assert.Equal("/v1/people?format=csv" + more, Urls.PeopleCsv);
        Assert.Equal("/units?q=a&format=csv" + more, Urls.With("/units?q=a", ("format", "csv")));
        Assert.Equal("/import/templates/wash.csv" + (asked.Length == 0 ? string.Empty : "?" + asked), Urls.ImportTemplate("wash", "csv"));
        Assert.Equal("/import/templates/wash.xlsx", Urls.ImportTemplate("wash", "xlsx"));
        Assert.Equal("/charts/part-life/p/probability.csv" + (asked.Length == 0 ? string.Empty : "?" + asked), Urls.WeibullPlot(new PartLifeChoice("p"), "csv"));
        Assert.DoesNotContain("decimal_mark", Urls.WeibullPlot(new PartLifeChoice("p"), "png"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_chart_of_a_position_carries_the_choices_of_its_fit() => Assert.Equal(
        "/charts/part-life/wash-pump/survival.svg?model=H20&clock=washes&failure_mode=leak",
        Urls.SurvivalChart(new PartLifeChoice("wash-pump") { Model = "H20", Clock = "washes", FailureMode = "leak" }, "svg"));

    [Fact]
    public void States_are_spelt_as_the_api_spells_them() => Assert.Equal(
        ["clean", "due", "overdue", "locked_out", "silent", "closed", "out_of_service"],
        Enum.GetValues<CleaningState>().Select(state => Urls.StateCode(state)));
}
