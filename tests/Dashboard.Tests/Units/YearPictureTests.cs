using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using Washwear.Dashboard.Units;

namespace Washwear.Dashboard.Tests.Units;

/// <summary>The year as a picture inside the unit's page.</summary>
public sealed class YearPictureTests
{
    [Fact]
    public async Task Both_rooms_show_every_day_once_and_each_day_that_is_not_plain_by_its_letter()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(UnitPage), Samples.UnitPage, Samples.Context);
        IElement[] pictures = [.. document.QuerySelectorAll("#calendar-heading ~ figure .picture svg")];
        Assert.Equal(2, pictures.Length);
        foreach (IElement picture in pictures)
        {
            int cells = picture.QuerySelectorAll("path").Sum(path => path.GetAttribute("d")!.Count(letter => letter == 'M'));
            Assert.Equal(Samples.Days.Count, cells);
            foreach (IGrouping<WashDayKind, WashDay> kind in Samples.Days.Where(day => day.Kind != WashDayKind.Counted).GroupBy(day => day.Kind))
            {
                string letter = WashDayWords.Letter(kind.Key);
                IElement text = picture.QuerySelectorAll("text[text-anchor=middle]").Single(each => each.TextContent.StartsWith(letter, StringComparison.Ordinal));
                Assert.Equal(string.Concat(Enumerable.Repeat(letter, kind.Count())), text.TextContent);
                Assert.Equal(kind.Count(), text.GetAttribute("x")!.Split(' ').Length);
                Assert.Equal(kind.Count(), text.GetAttribute("y")!.Split(' ').Length);
            }

            Assert.True(picture.OuterHtml.Length < 60_000, picture.OuterHtml.Length.ToString(System.Globalization.CultureInfo.InvariantCulture));
        }
    }

    [Fact]
    public async Task Each_day_says_what_happened_to_who_points_at_it()
    {
        IHtmlDocument document = await Markup.ParseAsync(typeof(UnitPage), Samples.UnitPage, Samples.Context);
        IElement[] told = [.. document.QuerySelectorAll("#calendar-heading ~ figure svg.chart-wide .values circle")];
        Assert.Equal(Samples.Days.Count, told.Length);
        Assert.All(told, day => Assert.Matches(@"^\d{1,2} \w{3} \d{4}: \w", day.GetAttribute("data-words")!));
    }
}
