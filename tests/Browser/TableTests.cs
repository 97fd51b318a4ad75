using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>Every table of every page of the invented fleet: named, in bounds, sorted, taken along, and sent to a colleague as it stands.</summary>
public sealed class TableTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int MostRows = 100;

    private const string LookAtTables =
        """
        most => Array.from(document.querySelectorAll('main table')).flatMap(table => {
          const faults = [];
          const name = table.caption?.textContent.trim();
          const rows = table.tBodies[0]?.rows.length ?? 0;
          if (!name) faults.push('has no caption');
          if (Array.from(table.querySelectorAll('th')).some(th => !['col', 'row'].includes(th.scope))) faults.push('has a head without a scope');
          if (rows > most) faults.push('has ' + rows + ' rows');
          const why = table.dataset.order;
          if (rows > 1 && !why && !table.tHead?.querySelector('.sort')) faults.push('can not be sorted and does not say why');
          const near = table.closest('figure') ?? table.closest('.scroll') ?? table;
          let foot = near.localName === 'figure' ? near.querySelector('.figure-links') : near.nextElementSibling;
          // Tables that follow each other are parts of one list and share its foot.
          while (foot && (foot.localName === 'table' || foot.localName === 'h3')) foot = foot.nextElementSibling;
          const file = foot && (foot.matches("a[href*='csv']") || foot.querySelector("a[href*='csv'], .table-file"));
          if (rows > 1 && !why && !file) faults.push('can not be taken along');
          return faults.map(fault => '"' + (name ?? table.outerHTML.slice(0, 80)) + '" ' + fault);
        })
        """;

    private const string SortEachColumn =
        """
        () => Array.from(document.querySelectorAll('main table')).filter(table => table.tHead).flatMap((table, t) => {
          const rows = Array.from(table.tBodies[0].rows);
          rows.forEach((row, i) => { row.dataset.first = i; });
          return Array.from(table.tHead.rows[0].cells).flatMap((head, c) => {
            const button = head.querySelector('button.sort');
            if (!button || !rows.every(row => /^[-−\d]/.test(row.cells[c]?.textContent.trim() ?? ''))) return [];
            button.click();
            return [t + '.' + c + ': ' + Array.from(table.tBodies[0].rows, row => row.dataset.first).join(' ')];
          });
        })
        """;

    [Fact]
    public async Task Every_table_is_named_in_bounds_can_be_sorted_or_says_why_not_and_can_be_taken_along()
    {
        FleetWalk walk = await fleet.WalkAsync();
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        var faults = new List<string>();
        int tables = 0;
        foreach (string address in walk.Pages)
        {
            await page.GotoAsync(new Uri(fleet.Address, address).ToString());
            tables += await page.Locator("main table").CountAsync();
            faults.AddRange((await page.EvaluateAsync<string[]>(LookAtTables, MostRows)).Select(fault => address + ": " + fault));
        }

        Assert.True(tables > 60, $"only {tables} tables were found");
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Theory]
    [InlineData("/units", "heard")]
    [InlineData("/units", "model")]
    [InlineData("/sites", "waiting")]
    [InlineData("/cleaning", "past")]
    [InlineData("/failures/records", "locked_out")]
    [InlineData("/part-life/lives?position=wash-pump", "days")]
    [InlineData("/planning/stock", "part")]
    public async Task A_list_with_pages_is_sorted_over_all_its_pages_without_scripts(string path, string column)
    {
        await using IBrowserContext session = await fleet.OpenAsync(script: false);
        IPage page = await session.NewPageAsync();
        string join = path.Contains('?', StringComparison.Ordinal) ? "&" : "?";
        await page.GotoAsync(new Uri(fleet.Address, path).ToString());
        string[] usual = await RowsAsync(page);
        await FollowAsync(page, page.Locator($"thead a.sort[href$='sort={column}']"));
        Assert.Equal("ascending", await page.Locator("th[aria-sort]").GetAttributeAsync("aria-sort"));
        string[] least = await RowsAsync(page);
        await FollowAsync(page, page.Locator("th[aria-sort] a.sort"));
        Assert.EndsWith(join + "sort=-" + column, page.Url, StringComparison.Ordinal);
        string[] greatest = await RowsAsync(page);
        Assert.NotEqual(least, greatest);
        Assert.True(usual.Length > 10 && greatest.Length == usual.Length);

        var seen = new List<string>(greatest);
        for (ILocator next = page.Locator("a.button:has-text('Next page')"); await next.CountAsync() > 0;)
        {
            await FollowAsync(page, next);
            Assert.Contains("sort=-" + column, page.Url, StringComparison.Ordinal);
            seen.AddRange(await RowsAsync(page));
        }

        Assert.True(seen.Count > usual.Length);
        Assert.Equal(seen.Count, seen.Distinct().Count());

        // What is still fitted grows older between two looks; its head does not.
        Assert.Contains(seen, row => row.Split('\t')[0] == least[0].Split('\t')[0]);
        string file = (await page.Locator(".after-table a[href*='csv']").First.GetAttributeAsync("href"))!;
        Assert.True((await fleet.ReadAsync(file)).Split("\r\n").Length > 10, file);
    }

    [Fact]
    public async Task A_column_that_no_list_has_is_refused_with_those_it_has()
    {
        foreach (string path in new[] { "/units", "/sites", "/cleaning", "/failures/records", "/part-life/lives?position=wash-pump", "/planning/parts", "/planning/stock" })
        {
            using HttpResponseMessage answer = await fleet.GetAsync(path + (path.Contains('?', StringComparison.Ordinal) ? "&" : "?") + "sort=nonsense");
            Assert.Equal(400, (int)answer.StatusCode);
            Assert.Contains("nonsense", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_file_of_a_list_holds_what_its_filter_leaves()
    {
        string[] all = (await fleet.ReadAsync("/units?format=csv")).Trim().Split("\r\n");
        string[] some = (await fleet.ReadAsync("/units?q=OVEN-001&format=csv")).Trim().Split("\r\n");
        Assert.True(some.Length > 1 && some.Length < all.Length);
        Assert.All(some[1..], line => Assert.Contains("OVEN-001", line, StringComparison.OrdinalIgnoreCase));
        Assert.True((await fleet.ReadAsync("/sites?format=csv")).Trim().Split("\r\n").Length > 10);
    }

    [Fact]
    public async Task How_a_whole_table_is_sorted_stands_in_the_address_and_a_colleague_sees_the_same()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/failures").ToString());
        ILocator table = page.Locator("#pareto ~ figure table, section[aria-labelledby=pareto] figure table").First;
        await page.Locator("section[aria-labelledby=pareto] figure summary").ClickAsync();
        ILocator head = table.Locator("thead th").Nth(6).Locator("button");
        await head.ClickAsync();
        await head.ClickAsync();
        Assert.EndsWith("#sort=pareto.1.6-", page.Url, StringComparison.Ordinal);
        IReadOnlyList<string> sorted = await table.Locator("tbody th").AllInnerTextsAsync();

        IPage other = await session.NewPageAsync();
        await other.GotoAsync(page.Url);
        ILocator same = other.Locator("section[aria-labelledby=pareto] figure table").First;
        Assert.True(await same.IsVisibleAsync());
        Assert.Equal("descending", await same.Locator("thead th").Nth(6).GetAttributeAsync("aria-sort"));
        Assert.Equal(sorted, await same.Locator("tbody th").AllInnerTextsAsync());
    }

    [Theory]
    [InlineData("/failures")]
    [InlineData("/part-life?position=wash-pump")]
    public async Task Numbers_are_sorted_alike_however_a_reader_has_them_written(string path)
    {
        string[] english = await SortedAsync(path, "en-GB");
        Assert.True(english.Length > 10, string.Join('\n', english));
        Assert.Equal(english, await SortedAsync(path, "de-DE"));
    }

    [Fact]
    public async Task A_table_without_an_address_of_its_own_is_taken_along_as_it_is_shown()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, "/approvals").ToString());
        ILocator button = page.Locator(".table-file").Last;
        ILocator table = page.Locator("main table:has(+ .after-table .table-file)").Last;
        IDownload download = await page.RunAndWaitForDownloadAsync(() => button.ClickAsync());
        string[] lines = (await File.ReadAllTextAsync(await download.PathAsync())).Trim('\uFEFF', '\r', '\n').Split("\r\n");
        Assert.Equal(await table.Locator("tr").CountAsync(), lines.Length);
        Assert.Contains(await table.Locator("tbody th").First.InnerTextAsync(), lines[1], StringComparison.Ordinal);
    }

    // Where the rows of each column of numbers come to lie when it is sorted.
    private async Task<string[]> SortedAsync(string path, string language)
    {
        await using IBrowserContext session = await fleet.OpenAsync(locale: language);
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(new Uri(fleet.Address, path).ToString());
        Assert.Equal(language[..2], await page.Locator("html").GetAttributeAsync("lang"));
        return await page.EvaluateAsync<string[]>(SortEachColumn);
    }

    // A click does not wait for the rows of the next page.
    private static async Task FollowAsync(IPage page, ILocator link) =>
        await page.GotoAsync(new Uri(new Uri(page.Url), await link.GetAttributeAsync("href")).ToString());

    private static async Task<string[]> RowsAsync(IPage page) =>
        [.. (await page.Locator("main table tbody").First.Locator("tr").AllInnerTextsAsync())];
}
