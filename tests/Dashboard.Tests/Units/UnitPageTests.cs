using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Units;

public sealed class UnitPageTests
{
    [Fact]
    public async Task The_calendars_table_holds_every_day_under_its_weekday()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(UnitPage), Samples.UnitPage, Samples.Context);
        IElement[] rows = [.. document.QuerySelectorAll("table.days tbody tr")];
        Assert.Equal("3 Jun 2024", rows[0].QuerySelector("th")!.TextContent);
        Assert.Equal(365, rows.SelectMany(row => row.QuerySelectorAll("td")).Count(cell => cell.TextContent.Length > 0));
        Assert.All(rows, row => Assert.True(row.Children[7].TextContent is "c" or "", row.TextContent));
    }

    [Fact]
    public async Task A_part_of_unknown_age_says_so_and_gives_no_chance()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(UnitPage), Samples.UnitPage, Samples.Context);
        IElement row = document.QuerySelectorAll("#parts ~ table tbody tr").Single(each => each.TextContent.Contains("P-2204",
            StringComparison.Ordinal));
        Assert.Contains("before records began", row.TextContent, StringComparison.Ordinal);
        Assert.Contains("Cannot be told", row.TextContent, StringComparison.Ordinal);
        Assert.Null(row.QuerySelector("svg"));
    }

    [Fact]
    public async Task A_voided_record_stays_on_the_page_and_says_that_it_is_voided()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(UnitPage), Samples.UnitPage, Samples.Context);
        Assert.Equal("Voided", document.QuerySelector("tr.voided .void-mark")!.TextContent);
        Assert.Equal("Wash by hand, attested by the kitchen.", document.QuerySelector("tr.voided s")!.TextContent);
    }
}
