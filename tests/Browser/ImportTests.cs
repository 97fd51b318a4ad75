using System.Text;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>A person brings a spreadsheet, with a browser that runs no scripts.</summary>
public sealed class ImportTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const string Sheet = "Geräte-Nr.;Datum;Beginn;Ende;Ergebnis;Bemerkung\noven 0001;02/03/2026;22:15;23:50;fertig;\nOVEN_0002;03/03/2026;22:05;23:40;abgebrochen;Koch\nOVEN-9999;03/03/2026;22:05;23:40;fertig;\n";

    [Fact]
    public async Task A_sheet_is_brought_questioned_and_taken_in_without_scripts()
    {
        await using IBrowserContext session = await fleet.OpenAsync(script: false);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/import").ToString());
        await page.SetInputFilesAsync("input[name=file]", new FilePayload { Name = "washes.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Sheet) });
        await page.SelectOptionAsync("select[name=kind]", "wash");
        await page.ClickAsync("text=Look at it");

        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("has to be said");
        await page.CheckAsync("input[value=day_first]");
        await page.ClickAsync("button[value=check]");
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("2 of 3 rows would be taken in");

        await page.ClickAsync("button[value=start]");
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("2 rows taken in, 1 refused");
        await Assertions.Expect(page.Locator("a[href$='refused.csv']")).ToBeVisibleAsync();
    }

    [Theory]
    [InlineData(1280, false)]
    [InlineData(390, true)]
    public async Task The_pages_are_accessible_and_fit_the_screen(int width, bool dark)
    {
        await using IBrowserContext session = await fleet.OpenAsync(width, dark);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/import").ToString());
        await LookAsync(page, width, "start", dark);
        await page.SetInputFilesAsync("input[name=file]", new FilePayload { Name = "washes.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Sheet) });
        await page.SelectOptionAsync("select[name=kind]", "wash");
        await page.ClickAsync("text=Look at it");
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("has to be said");
        await LookAsync(page, width, "map", dark);
    }

    private static async Task LookAsync(IPage page, int width, string name, bool dark)
    {
        if (Environment.GetEnvironmentVariable("WASHWEAR_TEST_PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"import-{name}-{width}{(dark ? "-dark" : string.Empty)}.png"), FullPage = true });
        }

        Assert.True(await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth") <= width, name + " is wider than the screen");
        Assert.Empty(await Axe.FaultsAsync(page));
    }
}
