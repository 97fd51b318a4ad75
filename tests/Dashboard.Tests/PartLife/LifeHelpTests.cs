using AngleSharp.Dom;
using AngleSharp.Html.Dom;

namespace Washwear.Dashboard.Tests.PartLife;

/// <summary>Each statistic of part life is explained beside it, with a figure of the reader's own parts.</summary>
public sealed class LifeHelpTests
{
    [Theory]
    [InlineData("part life, full", "figures", "Here: 41 failures say that 10 of 100 have failed by 411 days")]
    [InlineData("part life, full", "survival-at", "Here: of new parts, 92 % (90 to 94 %) still work at 365 days.")]
    [InlineData("part life, full", "groups", "Here: B17, 0.310 (0.248 to 0.391) times as long.")]
    [InlineData("part life, full", "survival-heading", "Here: at 799 days, 1 of 93 parts under watch failed")]
    [InlineData("part life, full", "probability-heading", "Here: the failure at 799 days stands at 34 %.")]
    [InlineData("part life, full", "modes-heading", "Here: No pressure, 40 % (30 to 50 %).")]
    [InlineData("part life, full", "clocks", "Here: days are 14.2 above the best.")]
    [InlineData("part life, too few", "fixed-shape", "Here: with 2 failures so far, one in ten parts fails no earlier than 560 days")]
    public async Task A_statistic_is_explained_in_place_with_one_of_the_readers_own(string page, string heading, string here)
    {
        IHtmlDocument document = await Pages.ParseAsync(page);
        IElement section = document.GetElementById(heading)!.Closest("section")!;
        IElement help = Assert.Single(section.QuerySelectorAll("details.method"));
        Assert.Contains(here, help.TextContent, StringComparison.Ordinal);
    }
}
