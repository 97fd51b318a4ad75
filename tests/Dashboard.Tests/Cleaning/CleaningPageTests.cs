using AngleSharp.Html.Dom;
using Washwear.Dashboard.Cleaning;

namespace Washwear.Dashboard.Tests.Cleaning;

public sealed class CleaningPageTests
{
    [Fact]
    public async Task A_choice_without_a_unit_is_not_told_as_a_fleet_without_rules()
    {
        CleaningPageReport report = Hostile.EmptyCleaning with { Filter = CleaningFilter.All with { Operator = "nobody" } };
        IHtmlDocument document = await Markup.ParseAsync(typeof(CleaningPage), report, Samples.Context);
        Assert.Equal("No unit under a cleaning rule matches this choice.", document.QuerySelector("h1")!.TextContent);
        Assert.NotNull(document.QuerySelector("#narrow"));
        Assert.Null(document.QuerySelector(".empty"));
    }

    [Fact]
    public async Task A_fleet_without_units_says_what_to_send_and_offers_no_choices()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(CleaningPage), Hostile.EmptyCleaning, Samples.Context);
        Assert.NotNull(document.QuerySelector(".empty"));
        Assert.Empty(document.QuerySelectorAll("#narrow, .basis, .moves"));
    }
}
