using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>Every page of the demo fleet, opened by a person who is signed in.</summary>
public sealed class PagesTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int PhoneWidth = 390;
    private static readonly string[] Paths =
    [
        "/", "/?for=technician", "/?for=service", "/?for=planner", "/search", "/search?q=pump", "/search?q=nothing-like-it", "/cleaning", "/cleaning?state=overdue&by=operator&days=91", "/part-life", "/part-life?position=wash-pump&clock=washes",
        "/part-life?position=fill-valve&clock=washes&by=batch", "/part-life?position=wash-pump&at=365,730&shape=2.5", "/part-life/lives?position=wash-pump", "/units", "/units?q=OVEN-001", "/units/OVEN-0001", "/units/OVEN-0067/visit-sheet?fault=flow-low", "/units/OVEN-0002/visit-sheet", "/sites", "/sites?q=canteen", "/sites/S001", "/sites/S001/timeline", "/operators", "/operators/brindemoor", "/operators/brindemoor/report", "/operators/brindemoor/timeline?kinds=faults,visits", "/units/OVEN-0067/timeline", "/cleaning?whose_move=kitchen&site=S003", "/alerts", "/digest", "/failures", "/failures?of=parts&compare=model&by=part_number", "/failures/records", "/planning", "/planning/parts", "/planning/parts?position=wash-pump", "/planning/stock", "/planning/forecast", "/planning/forecast?days=30&by=site", "/planning/what-if", "/visits", "/visits/new?unit=OVEN-0001", "/units/OVEN-0001/ask",
    ];

    public static TheoryData<string> Pages => [.. Paths, "/reference"];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task A_page_opens_without_an_error_and_asks_nobody_else(string path)
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        List<string> troubles = Watch(page);

        IResponse? answer = await page.GotoAsync(new Uri(fleet.Address, path).ToString(), new() { WaitUntil = WaitUntilState.NetworkIdle });

        Assert.Equal(200, answer!.Status);
        Assert.Empty(troubles);
        if (!path.StartsWith("/reference", StringComparison.Ordinal))
        {
            Assert.Equal(1, await page.Locator("h1").CountAsync());
            Assert.Contains("invented", await page.InnerTextAsync("body"), StringComparison.OrdinalIgnoreCase);
        }

        else
        {
            // The library's own bar names its makers.
            Assert.False(await page.Locator(".topbar").IsVisibleAsync());
        }

        await KeepAsync(page, path, "desktop");
    }

    [Fact]
    public async Task On_a_phone_no_page_is_wider_than_the_screen_and_in_the_dark_none_is_light()
    {
        await using IBrowserContext session = await fleet.OpenAsync(PhoneWidth, dark: true);
        IPage page = await session.NewPageAsync();
        foreach (string path in Paths)
        {
            IResponse? answer = await page.GotoAsync(new Uri(fleet.Address, path).ToString());
            Assert.Equal(200, answer!.Status);
            int width = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth");
            Assert.True(width <= PhoneWidth, $"{path} is {width} pixels wide");
            string background = await page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor");
            int[] channels = [.. background.Split('(', ')')[1].Split(',').Take(3).Select(channel => int.Parse(channel.Trim(), CultureInfo.InvariantCulture))];
            Assert.True(channels.Max() < 80, $"{path} is {background} in the dark");
            await KeepAsync(page, path, "phone-dark");
        }
    }

    [Fact]
    public async Task Without_scripts_a_reader_goes_from_what_is_overdue_to_the_oven_and_filters_by_form()
    {
        await using IBrowserContext session = await fleet.OpenAsync(script: false);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/cleaning?state=overdue").ToString());
        await page.Locator("main a[href^='/units/OVEN-']:not([href*='/vis'])").First.ClickAsync();
        Assert.StartsWith("/units/", new Uri(page.Url).AbsolutePath, StringComparison.Ordinal);
        Assert.True(await page.Locator("svg[role=img]").CountAsync() >= 1);

        await page.GotoAsync(new Uri(fleet.Address, "/part-life").ToString());
        await page.SelectOptionAsync("select[name=clock]", "washes");
        await page.Locator("main form[method=get] button[type=submit]").First.ClickAsync();
        Assert.Contains("clock=washes", page.Url, StringComparison.Ordinal);
        Assert.Contains("washes", await page.InnerTextAsync("h1"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_planner_follows_one_swap_from_the_calendar_to_the_lives_behind_it_and_accepts_it()
    {
        await using IBrowserContext session = await fleet.OpenAsync(script: false);
        IAPIResponse calendar = await session.APIRequest.GetAsync(new Uri(fleet.Address, "/v1/plan/calendar.ics").ToString());
        string entry = (await calendar.TextAsync()).ReplaceLineEndings("\n").Replace("\n ", string.Empty, StringComparison.Ordinal)
            .Split('\n').First(line => line.StartsWith("URL:", StringComparison.Ordinal));
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, new Uri(entry["URL:".Length..]).PathAndQuery).ToString());
        ILocator job = page.Locator(".jobs > li").First;
        string part = await job.Locator("b").InnerTextAsync();

        await job.Locator("a:has-text('Why at this age')").ClickAsync();
        Assert.Contains(part, await page.InnerTextAsync("main table"), StringComparison.Ordinal);
        await page.Locator("a:has-text('The lives behind it')").First.ClickAsync();
        Assert.Equal("/part-life", new Uri(page.Url).AbsolutePath);
        Assert.Contains(part, await page.InnerTextAsync("main"), StringComparison.OrdinalIgnoreCase);

        await page.GoBackAsync();
        await page.GoBackAsync();
        await page.Locator(".visits-planned > li").First.Locator("form.decide:not(details form) button").ClickAsync();
        Assert.Contains("is planned for", await page.InnerTextAsync("[role=status]"), StringComparison.Ordinal);
        await page.Locator(".jobs summary:has-text('Accepted; change')").First.ClickAsync();
        await page.Locator(".jobs details[open] button[value=revoked]").First.ClickAsync();
        Assert.Contains("as if nothing had been decided", await page.InnerTextAsync("[role=status]"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_page_prints_on_paper()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        foreach (string path in Paths)
        {
            await page.GotoAsync(new Uri(fleet.Address, path).ToString());
            byte[] paper = await page.PdfAsync(new() { Format = "A4" });
            Assert.Equal("%PDF"u8, paper.AsSpan(0, 4));
            if (Folder is not null)
            {
                await File.WriteAllBytesAsync(Path.Combine(Folder, Name(path) + "-print.pdf"), paper);
            }
        }
    }

    [Fact]
    public async Task The_fullest_kitchens_print_on_one_sheet()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        using JsonDocument units = await ReadAsync(session, "/v1/units?limit=100");
        string[] largest = [.. units.RootElement.GetProperty("items").EnumerateArray().CountBy(unit => unit.GetProperty("site").GetString()!).OrderByDescending(site => site.Value).Take(15).Select(site => "/sites/" + site.Key)];
        await PrintOnOneSheetAsync(await LongestAsync(session, largest, "/kitchen", 5));
    }

    [Fact]
    public async Task The_fullest_visit_sheets_print_on_one_sheet()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        using JsonDocument units = await ReadAsync(session, "/v1/units?limit=100");
        string[] sheets = [.. units.RootElement.GetProperty("items").EnumerateArray().Select((unit, i) => $"/units/{unit.GetProperty("unit").GetString()}/visit-sheet" + (i % 3) switch { 0 => "?fault=flow-low", 1 => "?fault=leak-found", _ => null })];
        await PrintOnOneSheetAsync([.. await LongestAsync(session, sheets, string.Empty, 6), "/units/OVEN-0083/visit-sheet?fault=flow-low&result=pump-by-ear%3Apass", "/units/OVEN-0002/visit-sheet"]);
    }

    [Fact]
    public async Task Without_scripts_a_technician_tells_results_until_the_sheet_is_certain_and_sees_what_counts_above_the_fold()
    {
        await using IBrowserContext session = await fleet.OpenAsync(PhoneWidth, script: false);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, await OpenQuestionAsync(session)).ToString());
        foreach (string what in new[] { "h1", ".sheet-first dt:has-text('Fault')", ".sheet-first dt:has-text('Check first')", ".sheet-first dt:has-text('Bring')" })
        {
            LocatorBoundingBoxResult? box = await page.Locator(what).BoundingBoxAsync();
            Assert.True(box!.Y + box.Height < 844, $"{what} ends at {box.Y + box.Height}");
        }

        string before = await page.Locator(".causes li").First.InnerTextAsync();
        await page.Locator(".check-next .check-links a").Nth(1).ClickAsync();
        Assert.Contains("result=", page.Url, StringComparison.Ordinal);
        Assert.NotEqual(before, await page.Locator(".causes li").First.InnerTextAsync());
        Assert.Contains("before the checks", await page.InnerTextAsync(".causes"), StringComparison.Ordinal);
        for (int clicks = 0; clicks < 8 && await page.Locator(".check-next").CountAsync() > 0; clicks++)
        {
            await page.Locator(".check-next .check-links a").Nth(1).ClickAsync();
        }

        Assert.Contains("Stop checking", await page.InnerTextAsync(".sheet-causes"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_scripts_a_reader_goes_from_whose_move_to_the_kitchen_and_finds_what_to_do()
    {
        await using IBrowserContext session = await fleet.OpenAsync(PhoneWidth, script: false);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/cleaning").ToString());
        await page.Locator(".moves a").First.ClickAsync();
        Assert.Contains("whose_move=kitchen", page.Url, StringComparison.Ordinal);
        await page.Locator("table a[href^='/sites/']").First.ClickAsync();
        Assert.StartsWith("/sites/", new Uri(page.Url).AbsolutePath, StringComparison.Ordinal);
        Assert.NotEmpty(await page.Locator(".oven-do").First.InnerTextAsync());
        Assert.True(await page.Locator(".tick-box").CountAsync() > 0);
    }

    // Which oven's sheet leaves something to check turns with the day on which the fleet is made: the first one is looked for.
    private async Task<string> OpenQuestionAsync(IBrowserContext session)
    {
        using JsonDocument units = await ReadAsync(session, "/v1/units?limit=100");
        foreach (string unit in units.RootElement.GetProperty("items").EnumerateArray().Select(each => each.GetProperty("unit").GetString()!))
        {
            string sheet = $"/units/{unit}/visit-sheet?fault=flow-low";
            using JsonDocument report = await ReadAsync(session, "/v1" + sheet);
            JsonElement diagnosis = report.RootElement.GetProperty("diagnosis");
            if (diagnosis.GetProperty("next_check").ValueKind == JsonValueKind.String
                && diagnosis.GetProperty("causes").EnumerateArray().Count(cause => cause.GetProperty("probability").GetDouble() > 0.2) > 1)
            {
                return sheet;
            }
        }

        throw new InvalidOperationException("No sheet of the invented fleet leaves two causes to tell apart.");
    }

    private async Task PrintOnOneSheetAsync(string[] paths)
    {
        foreach (string language in new[] { "en-GB", "de-DE" })
        {
            await using IBrowserContext session = await fleet.OpenAsync(locale: language);
            IPage page = await session.NewPageAsync();
            foreach (string path in paths)
            {
                IResponse? answer = await page.GotoAsync(new Uri(fleet.Address, path).ToString());
                Assert.Equal(200, answer!.Status);
                foreach (string paper in new[] { "A4", "Letter" })
                {
                    byte[] pdf = await page.PdfAsync(new() { Format = paper });
                    if (Folder is not null)
                    {
                        await File.WriteAllBytesAsync(Path.Combine(Folder, Name(path) + "-" + paper + "-" + language + ".pdf"), pdf);
                    }

                    int pages = System.Text.RegularExpressions.Regex.Count(System.Text.Encoding.Latin1.GetString(pdf), "/Type ?/Page\\b");
                    Assert.True(pages == 1, $"{path} prints on {pages} pages of {paper} in {language}");
                }
            }
        }
    }

    // What has most to say takes most room.
    private async Task<string[]> LongestAsync(IBrowserContext session, string[] paths, string data, int most)
    {
        var lengths = new Dictionary<string, int>();
        foreach (string path in paths)
        {
            IAPIResponse answer = await session.APIRequest.GetAsync(new Uri(fleet.Address, "/v1" + path + data).ToString());
            Assert.True(answer.Ok, path);
            lengths[path] = (await answer.TextAsync()).Length;
        }

        return [.. lengths.OrderByDescending(pair => pair.Value).Take(most).Select(pair => pair.Key)];
    }

    private async Task<JsonDocument> ReadAsync(IBrowserContext session, string path)
    {
        IAPIResponse answer = await session.APIRequest.GetAsync(new Uri(fleet.Address, path).ToString());
        Assert.True(answer.Ok, path);
        return JsonDocument.Parse(await answer.TextAsync());
    }

    // Pictures to look at are kept where this names a folder.
    private static string? Folder => Environment.GetEnvironmentVariable("WASHWEAR_TEST_PICTURES");

    private static string Name(string path) => "page" + string.Concat(path.Select(letter => char.IsAsciiLetterOrDigit(letter) ? letter : '-'));

    private static async Task KeepAsync(IPage page, string path, string kind)
    {
        if (Folder is not null)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(Folder, $"{Name(path)}-{kind}.png"), FullPage = true });
        }
    }

    private List<string> Watch(IPage page)
    {
        var troubles = new List<string>();
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                troubles.Add("console: " + message.Text);
            }
        };
        page.PageError += (_, error) => troubles.Add("script: " + error);
        page.RequestFailed += (_, request) => troubles.Add("failed: " + request.Url);
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(fleet.Address.ToString(), StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal))
            {
                troubles.Add("elsewhere: " + request.Url);
            }
        };
        return troubles;
    }
}
