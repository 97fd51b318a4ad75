using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Tests.Today;

public sealed class TodayPageTests
{
    [Fact]
    public async Task Each_line_says_how_long_what_and_why_and_has_one_next_step()
    {
        IHtmlDocument document = await Pages.ParseAsync("today, full");
        IElement[] lines = [.. document.QuerySelectorAll(".lines-today > li")];
        Assert.NotEmpty(lines);
        Assert.All(lines, line =>
        {
            Assert.Single(line.QuerySelectorAll(".line-do a.button"));
            Assert.False(string.IsNullOrWhiteSpace(line.QuerySelector(".line-what")!.TextContent));
            Assert.False(string.IsNullOrWhiteSpace(line.QuerySelector(".line-why")!.TextContent));
        });
        Assert.Contains(lines, line => line.QuerySelector(".line-age")!.TextContent is "for 8 days 5 h" or "up to 8 days 5 h");
    }

    [Fact]
    public async Task Everybody_sees_each_role_with_few_lines_and_a_way_to_the_rest()
    {
        IHtmlDocument document = await Pages.ParseAsync("today, full");
        Assert.Equal(["Technician", "Service manager", "Operator of kitchens", "Planner"], document.QuerySelectorAll(".today-role h2").Select(heading => heading.FirstChild!.TextContent.Trim()));
        Assert.All(document.QuerySelectorAll(".lines-today"), list => Assert.InRange(list.Children.Length, 1, 3));
        Assert.Equal("/?for=all", document.QuerySelector(".switch a[aria-current]")!.GetAttribute("href"));
    }

    [Fact]
    public async Task A_role_sees_its_lines_alone_and_is_marked_as_chosen()
    {
        IHtmlDocument document = await Pages.ParseAsync("today, planner");
        Assert.Empty(document.QuerySelectorAll(".today-role"));
        Assert.Equal("/?for=planner", document.QuerySelector(".switch a[aria-current]")!.GetAttribute("href"));
        Assert.NotNull(document.QuerySelector("#wearing"));
        Assert.Null(document.QuerySelector("#unproven"));
    }

    [Fact]
    public async Task A_role_without_anything_is_told_what_was_looked_at()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), TodaySamples.Of(TodayRole.Planner) with { Lines = [] }, Samples.Context);
        Assert.StartsWith("Looked at: visits of the next 14 days", document.QuerySelector("main > .nothing")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_fresh_installation_says_what_to_do_next_and_offers_an_import_to_those_who_may()
    {
        Assert.Equal(["/import", "/import#templates", "/keys", "/people"], await FirstStepsOfAsync(Samples.Context with { MayImport = true }));
        Assert.Equal(["/import", "/import#templates", "/reference"], await FirstStepsOfAsync(Samples.Context with { MayImport = true, MayAdminister = false }));
        Assert.Empty(await FirstStepsOfAsync(Samples.Context with { MayAdminister = false }));
    }

    private static async Task<string[]> FirstStepsOfAsync(PageContext reader)
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), Hostile.EmptyToday, reader);
        Assert.Equal("How to begin", document.QuerySelector("#begin")!.TextContent);
        Assert.Empty(document.QuerySelectorAll(".basis"));
        return [.. document.QuerySelectorAll("section[aria-labelledby=begin] a.button").Select(link => link.GetAttribute("href")!)];
    }

    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 0)]
    public async Task Invented_data_say_so_on_top_of_the_page(bool invented, int banners)
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), Samples.Today, Samples.Context with { InventedData = invented });
        Assert.Equal(banners, document.QuerySelectorAll(".invented").Length);
    }
}
