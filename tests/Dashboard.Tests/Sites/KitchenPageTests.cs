using AngleSharp.Html.Dom;
using Washwear.Dashboard.Sites;

namespace Washwear.Dashboard.Tests.Sites;

public sealed class KitchenPageTests
{
    [Theory]
    [InlineData(2, "kitchen")]
    [InlineData(3, "kitchen kitchen-some")]
    [InlineData(4, "kitchen kitchen-some")]
    [InlineData(5, "kitchen kitchen-many")]
    [InlineData(8, "kitchen kitchen-many")]
    [InlineData(9, "kitchen kitchen-many kitchen-long")]
    public async Task Paper_is_set_closer_the_more_ovens_there_are_up_to_eight_on_one_sheet(int ovens, string expected)
    {
        KitchenReport report = Samples.Kitchen with { Units = [.. Enumerable.Repeat(Samples.Kitchen.Units[0], ovens)] };

        IHtmlDocument page = await Markup.ParseAsync(typeof(KitchenPage), report, Samples.Context);

        Assert.Equal(expected, page.QuerySelector(".kitchen")!.ClassName);
        Assert.Equal(ovens, page.QuerySelectorAll(".tick-sheet tbody tr").Length);
    }
}
