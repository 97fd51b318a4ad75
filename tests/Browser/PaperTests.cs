using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.Playwright;
using UglyToad.PdfPig;

namespace Washwear.Browser;

/// <summary>What is promised of paper on every day, tried with more than a kitchen or a catalogue of the invented fleet holds.</summary>
public sealed class PaperTests : VisitOnAPhone
{
    // Below it nobody reads a sheet in a cellar.
    private const double SmallestPoints = 6.5;

    private static readonly string[] Hazards = ["electric", "water", "hot", "caustic", "gas", "compressed_gas", "moving"];
    private static readonly string[] Papers = ["A4", "Letter"];
    private static readonly string[] Languages = ["en-GB", "de-DE"];

    [Fact(Timeout = Patience)]
    public async Task A_kitchen_of_eight_ovens_is_one_sheet_and_with_more_the_boxes_are_a_sheet_of_their_own()
    {
        await RegisterAsync(8, "eight");
        await RegisterAsync(9, "nine");
        foreach (string language in Languages)
        {
            await using IBrowserContext session = await SignInAsync(1280, locale: language);
            IPage page = await session.NewPageAsync();
            foreach (string paper in Papers)
            {
                Assert.Single(await PrintAsync(page, "/sites/eight", paper));
                string[] nine = await PrintAsync(page, "/sites/nine", paper);
                Assert.Equal(2, nine.Length);
                string boxes = await page.InnerTextAsync("#ticks");
                Assert.DoesNotContain(boxes, nine[0], StringComparison.Ordinal);
                Assert.Contains(boxes, nine[1], StringComparison.Ordinal);
            }
        }
    }

    [Fact(Timeout = Patience)]
    public async Task A_visit_sheet_of_a_long_catalogue_is_one_sheet_that_says_what_it_leaves_out_which_is_no_caution_and_no_proof()
    {
        await RegisterAsync(1, "one");
        foreach (string language in Languages)
        {
            await using IBrowserContext session = await SignInAsync(1280, locale: language);
            IPage page = await session.NewPageAsync();
            foreach (string paper in Papers)
            {
                string printed = Assert.Single(await PrintAsync(page, "/units/one-1/visit-sheet", paper));
                IReadOnlyList<string> kept = await page.Locator(".caution li b, .proofs b").AllInnerTextsAsync();
                Assert.True(kept.Count >= Hazards.Length + 4);
                Assert.All(kept, words => Assert.Contains(Plain(words), printed, StringComparison.Ordinal));
                Assert.Contains(language == "en-GB" ? "more on the screen" : "auf dem Bildschirm", printed, StringComparison.Ordinal);
            }
        }
    }

    [Fact(Timeout = Patience)]
    public async Task A_receipt_is_one_sheet_without_what_can_only_be_pressed()
    {
        using HttpResponseMessage sent = await Api.PostAsync("/v1/records", new StringContent(
            """[{"type":"visit","key":"v","unit":"OVEN-1","technician":"T 1","arrived_at":"2025-03-03T09:00:00Z","left_at":"2025-03-03T10:00:00Z","outcome":"no_fault_found"}]""",
            Encoding.UTF8,
            "application/json"));
        Assert.True(sent.IsSuccessStatusCode, await sent.Content.ReadAsStringAsync());
        await using IBrowserContext session = await SignInAsync(1280);
        IPage page = await session.NewPageAsync();
        string printed = Assert.Single(await PrintAsync(page, "/visits/v", "A4"));
        Assert.Contains("What was recorded", printed, StringComparison.Ordinal);
        IReadOnlyList<string> pressed = await page.Locator("main .button, #photos, #wrong").AllInnerTextsAsync();
        Assert.NotEmpty(pressed);
        Assert.All(pressed, words => Assert.DoesNotContain(Plain(words), printed, StringComparison.Ordinal));
    }

    // The words of each sheet of paper.
    private async Task<string[]> PrintAsync(IPage page, string path, string paper)
    {
        IResponse? answer = await page.GotoAsync(AddressOf(path));
        Assert.Equal(200, answer!.Status);
        byte[] printed = await page.PdfAsync(new() { Format = paper });
        if (Environment.GetEnvironmentVariable("WASHWEAR_TEST_PICTURES") is { } folder)
        {
            await File.WriteAllBytesAsync(Path.Combine(folder, "paper" + path.Replace('/', '-') + "-" + paper + "-" + await page.GetAttributeAsync("html", "lang") + ".pdf"), printed);
        }

        using PdfDocument document = PdfDocument.Open(printed);
        Assert.All(document.GetPages().SelectMany(sheet => sheet.Letters), letter => Assert.True(letter.PointSize > SmallestPoints - 0.05, $"{letter.Value} is {letter.PointSize} points"));
        return [.. document.GetPages().Select(sheet => string.Join(' ', sheet.GetWords().Select(word => word.Text)))];
    }

    private static string Plain(string shown) => string.Join(' ', shown.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    // A kitchen whose ovens are all locked out, of a model with ten positions and a fault with seven causes, ten checks and every hazard.
    private async Task RegisterAsync(int ovens, string site)
    {
        string[] units = [.. Enumerable.Range(1, ovens).Select(i => $"{site}-{i}")];
        string[] positions = [.. Enumerable.Range(1, 10).Select(i => $"position-{i}")];
        var registry = new
        {
            operators = Array.Empty<object>(),
            rules = Array.Empty<object>(),
            sites = new[] { new { site, @operator = "harbour", name = "Pier with a rather long name " + site, time_zone = "Europe/Vienna" } },
            models = new[]
            {
                new
                {
                    model = "T40",
                    name = "Forty-tray oven of many parts",
                    kind = "combi oven",
                    positions = positions.Select(position => new { position, name = "Circulation " + position, failure_modes = new[] { "leaks" }, part_numbers = new[] { "P/100-" + position } }),
                    programmes = new[] { new { programme = "night", grade = "standard", minutes = 74 } },
                    faults = new[]
                    {
                        new
                        {
                            code = "E21",
                            text = "No water circulates in the cavity",
                            locks_out_washing = true,
                            locks_out_cooking = true,
                            causes = positions.Take(7).Select(position => new { position, failure_mode = "leaks", cause = "hardened and split", prior_weight = 2 }),
                            checks = Enumerable.Range(1, 10).Select(i => new
                            {
                                check = "check-" + i.ToString(CultureInfo.InvariantCulture),
                                text = $"Bend hose {i} and look along it for cracks and for ends that are wet",
                                minutes = 4 + i,
                                positions = new[] { positions[i % 7] },
                                hazards = new[] { Hazards[i % 7] },
                            }),
                        },
                    },
                },
            },
            units = units.Select(unit => new { unit, site, model = "T40", serial = "S/" + unit, commissioned_on = "2023-05-01" }),
        };
        using HttpResponseMessage registered = await Api.PutAsync("/v1/registry", Json(registry));
        Assert.True(registered.IsSuccessStatusCode, await registered.Content.ReadAsStringAsync());
        string at = TimeProvider.System.GetUtcNow().AddDays(-2).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        object[] records =
        [
            .. units.Select(unit => new { type = "fault", key = "f-" + unit, unit, at, code = "E21" }),
            .. positions.Select(position => new { type = "part_change", key = "p-" + site + position, unit = units[0], at = "2025-01-07T09:00:00Z", position, fitted = new { part_number = "P/100-" + position } }),
        ];
        using HttpResponseMessage sent = await Api.PostAsync("/v1/records", Json(records));
        Assert.True(sent.IsSuccessStatusCode, await sent.Content.ReadAsStringAsync());
    }

    private static StringContent Json(object sent) => new(JsonSerializer.Serialize(sent), Encoding.UTF8, "application/json");
}
