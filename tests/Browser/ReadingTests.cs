using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>Somebody who reads in US units sees pages and the close-out form in them; what is kept is the same for everybody.</summary>
public sealed partial class ReadingTests : VisitOnAPhone
{
    [Fact(Timeout = Patience)]
    public async Task Us_units_change_the_unit_page_the_close_out_form_and_the_receipt_and_leave_the_record_as_it_is()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await page.GotoAsync(AddressOf("/units/OVEN-1"));
        Assert.Matches(DayFirst(), await page.InnerTextAsync("main"));

        await page.GotoAsync(AddressOf("/account"));
        await page.SelectOptionAsync("select[name=culture]", "en-US");
        await page.SelectOptionAsync("select[name=volume]", "gallons");
        await page.SelectOptionAsync("select[name=temperature]", "fahrenheit");
        await page.SelectOptionAsync("select[name=hardness]", "grains_per_gallon");
        await page.ClickAsync("#reading-form button");
        await page.Locator("[role=status]").WaitForAsync();
        Assert.Equal("fahrenheit", await page.InputValueAsync("select[name=temperature]"));
        Assert.True(await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth") <= PhoneWidth);
        Assert.Empty(await Axe.FaultsAsync(page));
        await KeepAsync(page, "account-us");

        await page.GotoAsync(AddressOf("/units/OVEN-1"));
        string unit = await page.InnerTextAsync("main");
        Assert.Matches(MonthFirst(), unit);
        Assert.DoesNotMatch(DayFirst(), unit);
        await KeepAsync(page, "unit-us");

        await OpenFormAsync(page, "OVEN-1");
        string[] offered = await page.Locator("[name='check/turn-impeller/unit'] option").EvaluateAllAsync<string[]>("options => options.map(option => option.value)");
        Assert.Empty(new[] { "°F", "°C", "US gal", "L", "US gal/min", "L/min", "gpg" }.Except(offered));
        Assert.True(Array.IndexOf(offered, "°F") < Array.IndexOf(offered, "°C"));
        await TapAsync(page, "Checks");
        await ChooseAsync(page, "check/turn-impeller/result", "pass");
        await page.ClickAsync(".entry:has([name='check/turn-impeller/reading']) summary");
        await page.FillAsync("[name='check/turn-impeller/reading']", "149.9");
        await page.SelectOptionAsync("[name='check/turn-impeller/unit']", "°F");
        await KeepAsync(page, "form-us");
        await ChooseAsync(page, "outcome", "repaired_not_proven");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#saved").WaitForAsync();
        Assert.Contains("149.9\u00A0°F", await page.InnerTextAsync("main"), StringComparison.Ordinal);
        await KeepAsync(page, "receipt-us");

        string key = Uri.UnescapeDataString(new Uri(page.Url).AbsolutePath.Split('/')[^1]);
        JsonElement check = (await Api.GetFromJsonAsync<JsonElement>("/v1/visits/" + Uri.EscapeDataString(key))).GetProperty("checks")[0];
        Assert.Equal(65.5, check.GetProperty("reading").GetDouble());
        Assert.Equal("°C", check.GetProperty("unit_of_measure").GetString());
    }

    [Fact(Timeout = Patience)]
    public async Task Somebody_whose_browser_asks_for_German_signs_in_and_keeps_house_in_German()
    {
        await using IBrowserContext session = await OpenAsync(locale: "de-AT");
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(AddressOf("/sign-in"));
        Assert.Equal("de", await page.GetAttributeAsync("html", "lang"));
        Assert.Equal("Anmelden", await page.InnerTextAsync("h1"));
        Assert.Empty(await Axe.FaultsAsync(page));
        await KeepAsync(page, "sign-in-de");
        await Chromium.SignInWithKeyAsync(page, Key);
        await page.GotoAsync(AddressOf("/account"));
        Assert.Contains("nur hier angemeldet", await page.InnerTextAsync("h1"), StringComparison.Ordinal);
        Assert.True(await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth") <= PhoneWidth);
        Assert.Empty(await Axe.FaultsAsync(page));
        await KeepAsync(page, "account-de");
    }

    [GeneratedRegex(@"\b\d{1,2} (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b")]
    private static partial Regex DayFirst();

    [GeneratedRegex(@"\b(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec) \d{1,2}, \d{4}, \d{1,2}:\d\d [AP]M\b")]
    private static partial Regex MonthFirst();
}
