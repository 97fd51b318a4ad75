using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Shell;

namespace Washwear.Dashboard.Tests.Planning;

public sealed class PlanningPagesTests
{
    [Fact]
    public async Task Parts_stand_by_what_is_best_each_with_its_lives_its_costs_and_its_plan()
    {
        IHtmlDocument document = await Pages.ParseAsync("plan parts, full");
        Assert.Equal(
            ["Replace these before they fail", "Let these run until they fail", "Of these nothing can be said yet"],
            document.QuerySelectorAll("section[aria-labelledby=parts] h3").Select(heading => heading.TextContent));
        IElement early = document.QuerySelector("section[aria-labelledby=parts] tbody tr")!;
        Assert.Contains("the cheapest age lies in: 360 to 470 washes", early.TextContent, StringComparison.Ordinal);
        Assert.Equal(
            [
                "/part-life?position=wash-pump", "/planning/parts?operator=harbour&position=wash-pump&model=T10&part_number=P%2F100-2#curve",
                "/planning?operator=harbour&position=wash-pump",
            ],
            early.QuerySelectorAll("a").Select(link => link.GetAttribute("href")));
    }

    [Fact]
    public async Task A_sorted_list_is_one_table_in_the_order_asked_for_without_what_stands_once()
    {
        PageContext sorted = Samples.Context with { Address = "/planning/parts?sort=-fitted" };
        IHtmlDocument document = await Markup.ParseAsync(typeof(PlanPartsPage), PlanningSamples.Parts, sorted);
        IElement section = document.QuerySelector("section[aria-labelledby=parts]")!;
        Assert.Empty(section.QuerySelectorAll("h3"));
        Assert.Equal("/planning/parts?sort=fitted", Assert.Single(section.QuerySelectorAll("th[aria-sort=descending] a")).GetAttribute("href"));
        Assert.Null(document.QuerySelector("#curve"));
        Assert.Null(document.QuerySelector("#together"));
    }

    [Fact]
    public async Task Pairs_have_a_list_of_their_own_that_is_sorted_by_the_server()
    {
        PlanPartsPageReport some = PlanningSamples.Parts with { Companions = PlanningSamples.Parts.Companions with { Next = "next" } };
        IElement below = (await Markup.ParseAsync(typeof(PlanPartsPage), some, Samples.Context)).QuerySelector("section[aria-labelledby=together]")!;
        Assert.Equal("/planning/parts?operator=harbour&list=together", below.QuerySelector("a.button")!.GetAttribute("href"));
        PageContext at = Samples.Context with { Address = "/planning/parts?operator=harbour&list=together" };
        IHtmlDocument own = await Markup.ParseAsync(typeof(PlanPartsPage), some with { List = PlanPartsList.Together }, at);
        Assert.Equal("1 pair is worth swapping together, of 1.", own.QuerySelector("h1")!.TextContent);
        Assert.Equal(["together"], own.QuerySelectorAll("main section").Select(section => section.GetAttribute("aria-labelledby")));
        Assert.Equal("/planning/parts?operator=harbour&list=together&sort=saved", own.QuerySelectorAll("a.sort")[1].GetAttribute("href"));
        Assert.Equal("/planning/parts?operator=harbour&list=together&after=next", own.QuerySelector("a.button")!.GetAttribute("href"));
    }

    [Fact]
    public async Task What_other_costs_would_change_is_told_and_a_saving_of_nothing_is_no_advice()
    {
        PlanPartsPageReport report = PlanningSamples.Parts with
        {
            Chosen = PlanningSamples.Early with { Sensitivity = [.. PlanningSamples.Early.Sensitivity, new("a price of nothing", PlanVerdict.ReplaceAtAge, 3520, 0.001)] },
        };
        IHtmlDocument document = await Markup.ParseAsync(typeof(PlanPartsPage), report, Samples.Context);
        Assert.Equal(
            ["replace it at 340 washes", "let it run until it fails: nothing worth telling would be saved", "let it run until it fails: nothing worth telling would be saved"],
            document.QuerySelectorAll("td[data-label='What is best then']").Select(cell => cell.TextContent));
    }

    [Fact]
    public async Task What_is_to_be_ordered_stands_first_with_the_risk_of_not_ordering()
    {
        IHtmlDocument document = await Pages.ParseAsync("plan stock, full");
        Assert.Equal(["order", "keep"], document.QuerySelectorAll("main section").Select(section => section.GetAttribute("aria-labelledby")));
        IElement order = document.QuerySelector("section[aria-labelledby=order]")!;
        Assert.Equal("4 parts of 1 part number, for about 1,240 EUR.", order.QuerySelector(".lead")!.TextContent);
        Assert.StartsWith("4 × P/100-2", Assert.Single(order.QuerySelectorAll("li")).TextContent, StringComparison.Ordinal);
        Assert.Contains("2 lie there, 6 are wanted; without an order they last the 14 days until more can be here", order.TextContent, StringComparison.Ordinal);
        Assert.Null((await Pages.ParseAsync("plan stock, empty")).QuerySelector("section[aria-labelledby=order]"));
    }

    [Fact]
    public void An_order_without_prices_or_a_currency_says_so()
    {
        Assert.Equal("4 parts of 1 part number, no price is told.", StockWords.Order([PlanningSamples.Short with { OrderCost = null }], "EUR"));
        Assert.Equal(
            "8 parts of 2 part numbers, for about 1,240 in your own currency, those without a price left out.",
            StockWords.Order([PlanningSamples.Short, PlanningSamples.Short with { OrderCost = null }], null));
        Assert.EndsWith("the 3 planned replacements alone need more.", StockWords.Risk(PlanningSamples.Short with { Planned = 3 }), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_forecast_is_chosen_by_links_that_keep_what_narrows_it()
    {
        IHtmlDocument document = await Pages.ParseAsync("plan forecast, full");
        Assert.Equal(
            ["/planning/forecast?stock_point=depot&days=30&by=part_number", "/planning/forecast?stock_point=depot&days=90&by=part_number"],
            document.QuerySelectorAll(".switch")[0].QuerySelectorAll("a").Take(2).Select(link => link.GetAttribute("href")));
        Assert.Equal(["90 days", "part number"], document.QuerySelectorAll(".switch a[aria-current=true]").Select(link => link.TextContent));
        Assert.Equal(2, document.QuerySelectorAll("figure").Length);
    }

    [Fact]
    public async Task A_group_without_a_chance_is_not_told_as_none()
    {
        IElement row = (await Pages.ParseAsync("plan forecast, full")).QuerySelectorAll("figure")[0].QuerySelectorAll("tbody tr")[^1];
        Assert.Equal(["X-1, Burner", "not known", "not known", "0", "2"], row.Children.Select(cell => cell.TextContent));
    }

    [Fact]
    public async Task Kept_forecasts_say_what_was_said_what_happened_and_when_they_were_made()
    {
        IElement kept = (await Pages.ParseAsync("plan forecast, full")).QuerySelector("section[aria-labelledby=kept]")!;
        Assert.Equal(
            ["the quarter goes on", "no, more failed", "no, fewer failed"], kept.QuerySelectorAll("table")[0].QuerySelectorAll("td[data-label=Within]").Select(cell => cell.TextContent));
        Assert.Equal(["so far"], kept.QuerySelectorAll("td[data-label=Happened] .under").Select(each => each.TextContent));
        Assert.Equal(["2024-Q4made afterwards"], kept.QuerySelectorAll("tbody th:has(.under)").Select(each => each.TextContent));
        Assert.Equal("P/100-2", Assert.Single(kept.QuerySelectorAll("details td[data-label='Part number']")).TextContent);
    }

    [Theory]
    [InlineData(0.08, 0.1, 0.4, "Telling parts apart helped", "fit what happened (Spiegelhalter's z 0.400)")]
    [InlineData(0.0995, 0.1, 0, "Telling parts apart made hardly a difference", "fit what happened (Spiegelhalter's z 0)")]
    [InlineData(0.12, 0.1, -2.5, "Telling parts apart did not help", "do not fit what happened (Spiegelhalter's z -2.50)")]
    public void Scores_are_told_in_words(double brier, double uninformed, double z, string gain, string fit)
    {
        string told = CalibrationWords.Reading(PlanningSamples.Calibration with { Brier = brier, BrierUninformed = uninformed, CalibrationZ = z });
        Assert.Contains(gain, told, StringComparison.Ordinal);
        Assert.Contains(fit, told, StringComparison.Ordinal);
    }
}
