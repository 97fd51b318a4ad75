using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>One fault from the first look at the sheet to the proven repair, on a phone, with the signal gone in the middle; and what
/// everybody else sees of it afterwards.</summary>
public sealed class WholeVisitTests : VisitOnAPhone
{
    [Fact(Timeout = 2 * Patience)]
    public async Task From_the_sheet_to_the_proof_and_what_it_changes_for_everybody_else()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await ArriveKnowingAsync(page);
        await FindTheCauseAsync(page);
        page = await LeaveToWaitWithoutASignalAsync(phone, page);
        await GrantAsync(page);
        await RepairAndProveAsync(page);
        await TheUnitShowsItAsync(page);
        await PartLifeShowsItAsync(page);
        await ApprovalsShowItAsync(page);
        await RepairQualityShowsItAsync(page);
    }

    // On the way: what it is, what to check first, what to bring.
    private async Task ArriveKnowingAsync(IPage page)
    {
        await page.GotoAsync(Of("/units/OVEN-1"));
        await page.ClickAsync("main a[href*='visit-sheet']");
        string sheet = await page.InnerTextAsync("main");
        Assert.Contains("No water circulates", sheet, StringComparison.Ordinal);
        Assert.Matches("Check first\\s+Turn the impeller by hand", sheet);
        Assert.Contains("wash pump", await page.InnerTextAsync("dl.sheet-first div:has(dt:has-text('Bring'))"), StringComparison.Ordinal);
        Assert.True(await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth") <= PhoneWidth);
        await KeepAsync(page, "whole-sheet");
    }

    // At the unit: the result of the first check leaves one cause.
    private static async Task FindTheCauseAsync(IPage page)
    {
        await page.ClickAsync(".check-next a:has-text('Fails')");
        Assert.Contains("wash pump", await page.InnerTextAsync(".sheet-causes li:first-child"), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("100", await page.InnerTextAsync(".sheet-causes li:first-child"), StringComparison.Ordinal);
        await KeepAsync(page, "whole-result");
        await page.ClickAsync("text=Close out the visit");
    }

    // The first visit ends with a question about money; the signal goes while it is written down, and the page is closed.
    private async Task<IPage> LeaveToWaitWithoutASignalAsync(IBrowserContext phone, IPage page)
    {
        await KeptAsync(page);
        Assert.True(await page.IsCheckedAsync("input[name=fault][value=E21]"));
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        await page.FillAsync("input[name=arrived]", Wall(now.AddHours(-2)));
        await FoldAsync(page, "Checks");
        await ChooseAsync(page, "check/turn-impeller/result", "fail");
        await FoldAsync(page, "What was found");
        await page.ClickAsync("label.segment:has-text('Wash pump: seized')");
        await CutAsync(phone);
        await ChooseAsync(page, "outcome", "waiting_approval");
        await page.FillAsync("input[name='ask/amount']", "310");
        await UntilAsync(page, "async () => (await Outbox.all('drafts')).some(draft => draft.fields.some(field => field[0] === 'ask/amount' && field[1] === '310'))");
        await page.CloseAsync();

        page = await phone.NewPageAsync();
        await page.GotoAsync(Of("/visits/new?unit=OVEN-1"));
        await page.Locator("#draft-note").WaitForAsync();
        Assert.Equal("310", await page.InputValueAsync("input[name='ask/amount']"));
        await page.ClickAsync("text=Asked for, left, who came");
        await page.FillAsync("input[name=left]", Wall(now.AddMinutes(-95)));
        await KeepAsync(page, "whole-ask");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#kept").WaitForAsync();
        Assert.Equal(0, await CountAsync("visit"));
        await MendAsync(phone);

        // Sent by itself once there is a signal again: seconds, more on a busy machine.
        await page.Locator("#asked").WaitForAsync(new() { Timeout = 90_000 });
        Assert.Contains("Approval asked for: Replace wash pump, 310; nobody has decided yet.", await page.InnerTextAsync("#asked"), StringComparison.Ordinal);
        Assert.Equal(1, await CountAsync("visit"));
        Assert.Equal(1, await CountAsync("approval"));
        return page;
    }

    private static async Task GrantAsync(IPage page)
    {
        await page.ClickAsync("#asked a");
        Assert.Contains("Replace wash pump for 310", await page.InnerTextAsync("ol.asks"), StringComparison.Ordinal);
        await KeepAsync(page, "whole-approval");
        await page.FillAsync("form.decide input[name=by]", "B. Operator");
        await page.ClickAsync("form.decide button:has-text('Grant')");
        Assert.Contains("Granted", await page.InnerTextAsync("[role=status]"), StringComparison.Ordinal);
    }

    // The second visit: the sheet remembers; the part goes in, and every proof is taken.
    private async Task RepairAndProveAsync(IPage page)
    {
        await page.GotoAsync(Of("/units/OVEN-1/visit-sheet"));
        Assert.Contains("ound", await page.InnerTextAsync("dl.sheet-first"), StringComparison.Ordinal);
        await KeepAsync(page, "whole-second-sheet");
        await page.ClickAsync("text=Close out the visit");
        await KeptAsync(page);
        await FoldAsync(page, "Parts");
        await page.ClickAsync("details.part:has-text('Wash pump') > summary");
        await ChooseAsync(page, "part/wash-pump/out", "failed");
        await ChooseAsync(page, "part/wash-pump/mode", "seized");
        await ChooseAsync(page, "part/wash-pump/in", "P/100-2");
        await FoldAsync(page, "Proofs");
        foreach (string proof in await page.EvalOnSelectorAllAsync<string[]>("[data-proof]", "all => all.map(each => each.dataset.proof)"))
        {
            await ChooseAsync(page, proof, "pass");
        }

        await ChooseAsync(page, "outcome", "proven");
        await page.ClickAsync("label.segment:has-text('E21 is cleared')");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#saved").WaitForAsync();
        Assert.Contains("Repaired and proven", await page.InnerTextAsync("main"), StringComparison.Ordinal);
        await KeepAsync(page, "whole-proven");
    }

    private async Task TheUnitShowsItAsync(IPage page)
    {
        await page.ClickAsync("main a:has-text('To the unit')");
        string unit = await page.InnerTextAsync("main");
        Assert.Equal(2, await page.Locator("section:has(#visits) a[href*='/visits/']").CountAsync());
        Assert.Contains("P/100-2", unit, StringComparison.Ordinal);
        JsonElement report = await Api.GetFromJsonAsync<JsonElement>("/v1/units/OVEN-1");
        Assert.Empty(report.GetProperty("open_faults").EnumerateArray());
        await KeepAsync(page, "whole-unit");
    }

    private async Task PartLifeShowsItAsync(IPage page)
    {
        await page.GotoAsync(Of("/part-life/lives?position=wash-pump"));
        string lives = await page.InnerTextAsync("main");
        Assert.Contains("eized", lives, StringComparison.Ordinal);
        JsonElement life = await Api.GetFromJsonAsync<JsonElement>("/v1/part-life/wash-pump");
        Assert.Equal(1, life.GetProperty("basis").GetProperty("failures").GetInt32());
    }

    private async Task ApprovalsShowItAsync(IPage page)
    {
        await page.GotoAsync(Of("/approvals"));
        Assert.Equal("No repair waits for an approval.", await page.InnerTextAsync("h1"));
        await page.ClickAsync("section:has(#decided) summary");
        Assert.Contains("B. Operator", await page.InnerTextAsync("section:has(#decided)"), StringComparison.Ordinal);
        await KeepAsync(page, "whole-decided");
    }

    private async Task RepairQualityShowsItAsync(IPage page)
    {
        await page.GotoAsync(Of("/repairs"));
        string repairs = await page.InnerTextAsync("main");
        Assert.Contains("1 more ended less than", repairs, StringComparison.Ordinal);
        JsonElement episode = Assert.Single((await Api.GetFromJsonAsync<JsonElement>("/v1/repairs/episodes")).GetProperty("rows").EnumerateArray());
        Assert.Equal("E21", episode.GetProperty("code").GetString());
        Assert.Equal(2, episode.GetProperty("visits").GetArrayLength());
        await KeepAsync(page, "whole-repairs");
        await page.GotoAsync(Of("/?for=technician"));
        Assert.Contains("Every repair of the last 90\u00A0days is proven", await page.InnerTextAsync("main"), StringComparison.Ordinal);
    }

    private string Of(string path) => new Uri(Wire.Address, path).ToString();

    // The wall clock of the site, as the form's fields hold it.
    private static string Wall(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, TimeZoneInfo.FindSystemTimeZoneById("Europe/Vienna")).ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);

    // A fold that is open already stays open.
    private static async Task FoldAsync(IPage page, string fold)
    {
        if (!await page.EvaluateAsync<bool>("name => [...document.querySelectorAll('details.fold')].find(each => each.querySelector('h2').textContent.startsWith(name)).open", fold))
        {
            await TapAsync(page, fold);
        }
    }
}
