using System.Globalization;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>Every kind of page that links lead to, at a desk and on a phone, in light and in dark, with all that can be unfolded unfolded.</summary>
public sealed class AxeTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int DeskWidth = 1280;
    private const int PhoneWidth = 390;

    // The colours are all that differs in the dark; the size of what is touched is not among the rules that are asked by themselves.
    private static readonly object InTheDark = new { runOnly = new { type = "rule", values = new[] { "color-contrast", "link-in-text-block" } } };
    private static readonly object InTheLight = new { rules = new Dictionary<string, object> { ["target-size"] = new { enabled = true } } };

    // Pages that look otherwise with a question than without one.
    private static readonly string[] Asked =
    [
        "/cleaning?whose_move=kitchen", "/sites?q=canteen", "/part-life?position=door-gasket&by=model", "/units?q=OVEN-001", "/units/OVEN-0067/visit-sheet?fault=flow-low",
        "/planning/forecast?days=30&by=site", "/?for=technician", "/?for=service", "/?for=operator", "/?for=planner", "/search?q=pump", "/search?q=nothing-is-called-so",
    ];

    [Fact]
    public async Task Axe_finds_nothing_on_any_page_in_either_colour_at_either_width()
    {
        string[] addresses = await OneOfEachAsync();
        await using IBrowserContext session = await fleet.OpenAsync(DeskWidth);
        IPage page = await session.NewPageAsync();
        var found = new List<string>();
        foreach (string address in addresses)
        {
            IResponse? answer = await page.GotoAsync(new Uri(fleet.Address, address).ToString());
            Assert.True(answer!.Ok || answer.Status == 404, address);
            found.AddRange(await LookAsync(page, address));
        }

        Assert.True(addresses.Length >= 30, $"only {addresses.Length} pages: {string.Join(' ', addresses)}");
        Assert.True(found.Count == 0, string.Join('\n', found));
    }

    [Fact]
    public async Task Axe_finds_nothing_where_people_come_in()
    {
        await using IBrowserContext session = await fleet.OpenAsync(DeskWidth, signedIn: false);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/sign-in").ToString());

        Assert.Empty(await LookAsync(page, "/sign-in"));
    }

    [Fact]
    public async Task Axe_sees_what_cannot_be_read_or_touched()
    {
        await using IBrowserContext session = await fleet.OpenAsync(DeskWidth);
        IPage page = await session.NewPageAsync();
        await page.SetContentAsync(
            "<!DOCTYPE html><html lang=en><title>t</title><main><h1>t</h1><p style='color:#ccc;background:#fff'>pale</p><a href=/a>x</a><a href=/b>y</a></main><img src=/c>");

        string all = string.Join('\n', await LookAsync(page, "made up"));

        foreach (string fault in new[] { "1280 in the light: color-contrast", "390 in the dark: color-contrast", "390 in the light: target-size", "1280 in the light: image-alt", "1280 in the light: region" })
        {
            Assert.Contains(fault, all, StringComparison.Ordinal);
        }
    }

    // The first address of each route of pages, those beside them that show something else, and one that is not there.
    private async Task<string[]> OneOfEachAsync()
    {
        FleetWalk walk = await fleet.WalkAsync();
        IEnumerable<string> first = walk.Routes.Where(route => !FleetWalk.IsChart(route) && walk.Found.ContainsKey(route))
            .Select(route => walk.Found[route].FirstOrDefault(walk.Pages.Contains)).OfType<string>();
        return [.. first.Concat(fleet.Extra).Concat(Asked).Append("/units/NOT-THERE").Distinct()];
    }

    private static async Task<IReadOnlyList<string>> LookAsync(IPage page, string address)
    {
        var found = new List<string>();
        await page.EvaluateAsync("() => document.querySelectorAll('details').forEach(each => { each.open = true; })");
        foreach (int width in new[] { DeskWidth, PhoneWidth })
        {
            await page.SetViewportSizeAsync(width, 900);
            foreach (bool dark in new[] { true, false })
            {
                await page.EmulateMediaAsync(new() { ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light });
                string[] faults = await Axe.FaultsAsync(page, dark ? InTheDark : InTheLight);
                found.AddRange(faults.Select(fault => string.Create(CultureInfo.InvariantCulture, $"{address} at {width} in the {(dark ? "dark" : "light")}: {fault}")));
            }
        }

        await page.SetViewportSizeAsync(DeskWidth, 900);
        return found;
    }
}
