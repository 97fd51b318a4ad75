using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>Search and navigation, with and without scripts, at a desk and on a phone.</summary>
public sealed class SearchTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    [Fact]
    public async Task The_slash_leads_to_the_search_from_every_page_and_is_a_letter_where_something_is_typed()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/cleaning").ToString());
        await page.Keyboard.PressAsync("/");
        Assert.Equal("frame-find", await page.EvaluateAsync<string>("() => document.activeElement.id"));
        await page.Keyboard.TypeAsync("oven/0001");
        Assert.Equal("oven/0001", await page.InputValueAsync("#frame-find"));
        await page.FillAsync("#frame-find", "oven 0001");
        await page.Keyboard.PressAsync("Enter");
        await Chromium.AtAsync(page, "/units/OVEN-0001");

        await page.GotoAsync(new Uri(fleet.Address, "/units").ToString());
        await page.FocusAsync("main input[name=q]");
        await page.Keyboard.TypeAsync("a/b");
        Assert.Equal("a/b", await page.InputValueAsync("main input[name=q]"));
    }

    [Theory]
    [InlineData(390)]
    [InlineData(1280)]
    public async Task Without_scripts_every_page_is_found_by_the_search_and_by_the_navigation(int width)
    {
        await using IBrowserContext session = await fleet.OpenAsync(width, script: false);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(fleet.Address.ToString());
        await page.FillAsync("#frame-find", "pump");
        await page.ClickAsync("form.find button");
        Assert.Contains("match 'pump'", await page.InnerTextAsync("h1"), StringComparison.Ordinal);
        await page.ClickAsync(".hits a >> nth=0");
        Assert.StartsWith("/failures/records", new Uri(page.Url).PathAndQuery, StringComparison.Ordinal);

        if (width < 700)
        {
            await page.ClickAsync("details.menu summary");
            await page.ClickAsync("details.menu a[href='/planning/stock']");
        }
        else
        {
            await page.ClickAsync(".nav-main a[href='/planning']");
            await page.ClickAsync(".nav-pages a[href='/planning/stock']");
        }

        Assert.Equal("/planning/stock", new Uri(page.Url).AbsolutePath);
        Assert.Equal(0, await page.EvaluateAsync<int>("() => Math.max(0, document.documentElement.scrollWidth - window.innerWidth)"));
    }

    [Fact]
    public async Task The_navigation_stands_in_one_row_at_the_width_of_a_narrow_desk()
    {
        await using IBrowserContext session = await fleet.OpenAsync(width: 800);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(fleet.Address.ToString());
        double[] tops = await page.EvaluateAsync<double[]>("() => [...document.querySelectorAll('.nav-main a')].map(a => a.getBoundingClientRect().top)");
        Assert.True(tops.Length >= 5);
        Assert.Single(tops.Distinct());
    }
}
