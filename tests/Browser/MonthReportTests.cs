using Microsoft.Playwright;
using UglyToad.PdfPig;

namespace Washwear.Browser;

/// <summary>A month of an operator of the demo fleet, printed.</summary>
public sealed class MonthReportTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int MostSheets = 4;

    // ISO 216: A4 is 210 mm by 297 mm; a point of a PDF is 1/72 inch (ISO 32000-1).
    private const double PointsPerMillimetre = 72 / 25.4;

    [Fact]
    public async Task It_prints_on_a_few_sheets_of_A4_with_its_words_and_the_mark_of_invented_data()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        IResponse? answer = await page.GotoAsync(new Uri(fleet.Address, "/operators/brindemoor/report").ToString());
        Assert.Equal(200, answer!.Status);
        string finding = await page.Locator("h1").InnerTextAsync();

        byte[] printed = await page.PdfAsync(new() { Format = "A4", PreferCSSPageSize = false, PrintBackground = true });

        using PdfDocument document = PdfDocument.Open(printed);
        Assert.InRange(document.NumberOfPages, 1, MostSheets);
        Assert.All(document.GetPages(), sheet =>
        {
            Assert.Equal(210 * PointsPerMillimetre, sheet.Width, 1.0);
            Assert.Equal(297 * PointsPerMillimetre, sheet.Height, 1.0);
        });
        string text = Words(document);
        Assert.Contains("Every operator, site, unit and record here is made up", text, StringComparison.Ordinal);
        Assert.Contains(string.Join(' ', finding.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Take(6)), text, StringComparison.Ordinal);
        foreach (string part in new[] { "Kitchens that missed most washes", "Ovens that could not wash", "Repairs done", "Parts changed", "Not heard from", "What is planned" })
        {
            Assert.Contains(part, text, StringComparison.Ordinal);
        }

        // What is for the screen alone stays there.
        foreach (string part in new[] { "Sign out", "Print or save as PDF", "Month before as" })
        {
            Assert.DoesNotContain(part, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_button_prints_and_without_scripts_leads_to_the_report_itself()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/operators/brindemoor").ToString());
        await page.GetByRole(AriaRole.Link, new() { Name = "Report of last month" }).ClickAsync();
        await page.EvaluateAsync("window.print = () => { document.title = 'printed'; }");
        await page.GetByRole(AriaRole.Link, new() { Name = "Print or save as PDF" }).ClickAsync();
        Assert.Equal("printed", await page.TitleAsync());

        await using IBrowserContext plain = await fleet.OpenAsync(script: false);
        IPage without = await plain.NewPageAsync();
        await without.GotoAsync(page.Url);
        await without.GetByRole(AriaRole.Link, new() { Name = "Print or save as PDF" }).ClickAsync();
        Assert.Contains("/operators/brindemoor/report?month=", without.Url, StringComparison.Ordinal);
    }

    private static string Words(PdfDocument document) =>
        string.Join(' ', document.GetPages().SelectMany(sheet => sheet.GetWords()).Select(word => word.Text));
}
