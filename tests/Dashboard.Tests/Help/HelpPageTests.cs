using AngleSharp.Html.Dom;
using Washwear.Dashboard.Help;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.Tests.Texts;
using Washwear.Dashboard.Today;

namespace Washwear.Dashboard.Tests.Help;

/// <summary>Where to begin: the reader's own work first, and every step told, with its link where it has one.</summary>
public sealed class HelpPageTests
{
    [Theory]
    [InlineData(ReaderRole.Planner, TodayRole.Planner)]
    [InlineData(ReaderRole.Operator, TodayRole.Operator)]
    [InlineData(ReaderRole.All, TodayRole.Technician)]
    public void The_readers_own_guide_stands_first_and_none_is_missing(ReaderRole reader, TodayRole first)
    {
        IReadOnlyList<HelpGuide> guides = HelpReport.For(reader).Guides;
        Assert.Equal(first, guides[0].Role);
        Assert.Equal(Enum.GetValues<TodayRole>(), guides.Select(guide => guide.Role).Order());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Every_step_is_told_and_leads_where_it_says(bool german)
    {
        IHtmlDocument page = await Pages.ParseAsync("help", german ? TextFileTests.German : ReaderPreferences.Standard);
        HelpStep[] steps = [.. HelpReport.For(ReaderRole.All).Guides.SelectMany(guide => guide.Steps)];
        Assert.Equal(
            steps.Select(step => step.Href),
            page.QuerySelectorAll("main ol > li").Select(line => line.QuerySelector("a")?.GetAttribute("href")));
        Assert.All(page.QuerySelectorAll("main ol > li"), line => Assert.DoesNotContain("{", line.TextContent, StringComparison.Ordinal));
    }
}
