using AngleSharp.Html.Dom;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Tests.Today;

public sealed class TodayPageTests
{
    [Fact]
    public async Task Each_ticket_says_how_long_which_unit_and_whose_move()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), Samples.Today, Samples.Context);
        string ticket = document.QuerySelector(".tickets-locked-out li")!.TextContent;
        Assert.Contains("8 days 5 h", ticket, StringComparison.Ordinal);
        Assert.Contains("OV-1003", ticket, StringComparison.Ordinal);
        Assert.Contains("Supplier", ticket, StringComparison.Ordinal);
    }

    [Fact]
    public async Task More_units_than_fit_are_one_link_away()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), Samples.Today, Samples.Context);
        Assert.Equal(6, document.QuerySelectorAll(".tickets-overdue li").Length);
        Assert.Contains(document.QuerySelectorAll("a"), link =>
            link.GetAttribute("href") == "/cleaning?state=overdue" && link.TextContent == "All 9, with filters");
    }

    [Fact]
    public async Task A_fresh_installation_says_what_to_do_next()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), Hostile.EmptyToday, Samples.Context);
        Assert.Equal("No units yet", document.QuerySelector(".empty h2")!.TextContent);
        Assert.Equal("/reference", document.QuerySelector(".empty a.button")!.GetAttribute("href"));
    }

    [Theory]
    [InlineData(true, 1)]
    [InlineData(false, 0)]
    public async Task Invented_data_say_so_on_top_of_the_page(bool invented, int banners)
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(TodayPage), Samples.Today,
            Samples.Context with { InventedData = invented });
        Assert.Equal(banners, document.QuerySelectorAll(".invented").Length);
    }
}
