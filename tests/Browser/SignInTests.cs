using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>A new installation: its administrator signs in with the key, finds nothing yet, and leaves.</summary>
public sealed partial class SignInTests(Chromium chromium) : IClassFixture<Chromium>
{
    private const string Key = "a-key-of-the-browser-tests-0123456789";

    [Fact]
    public async Task A_person_signs_in_with_a_key_sees_the_empty_pages_and_signs_out()
    {
        (ServedWashwear served, string address) = await ServedWashwear.StartAsync(
            ["serve", "--urls", "http://127.0.0.1:0"],
            ListensLine(),
            new Dictionary<string, string> { ["WASHWEAR_ADMIN_KEY"] = Key, ["WASHWEAR_DATABASE"] = "{folder}/washwear.db" });
        await using ServedWashwear program = served;
        await using IBrowserContext session = await chromium.OpenAsync(width: 390);
        IPage page = await session.NewPageAsync();

        await page.GotoAsync(address + "/cleaning");
        Assert.StartsWith(address + "/sign-in", page.Url, StringComparison.Ordinal);
        await Chromium.SignInWithKeyAsync(page, "not the key");
        Assert.Contains("not known", await page.InnerTextAsync("[role=alert]"), StringComparison.Ordinal);

        await Chromium.SignInWithKeyAsync(page, Key);
        foreach (string path in new[] { "/", "/cleaning", "/part-life", "/units" })
        {
            IResponse? answer = await page.GotoAsync(address + path);
            Assert.Equal(200, answer!.Status);
            Assert.Equal(1, await page.Locator("h1").CountAsync());
        }

        IResponse? missing = await page.GotoAsync(address + "/units/NO-SUCH-OVEN");
        Assert.Equal(404, missing!.Status);
        Assert.Contains("NO-SUCH-OVEN", await page.InnerTextAsync("main"), StringComparison.Ordinal);

        await page.GotoAsync(address + "/");
        await page.ClickAsync("form[action='/sign-out'] button");

        await Chromium.AtAsync(page, "/sign-in");
        await page.GotoAsync(address + "/");
        Assert.StartsWith(address + "/sign-in", page.Url, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_administrator_invites_somebody_who_joins_on_a_phone_and_is_signed_out_from_the_desk()
    {
        (ServedWashwear served, string address) = await ServedWashwear.StartAsync(
            ["serve", "--urls", "http://127.0.0.1:0"],
            ListensLine(),
            new Dictionary<string, string> { ["WASHWEAR_ADMIN_KEY"] = Key, ["WASHWEAR_DATABASE"] = "{folder}/washwear.db" });
        await using ServedWashwear program = served;
        await using IBrowserContext desk = await chromium.OpenAsync();
        IPage office = await desk.NewPageAsync();
        await office.GotoAsync(address + "/people");
        await Chromium.SignInWithKeyAsync(office, Key);
        await Chromium.AtAsync(office, "/people");
        await office.FillAsync("input[name=note]", "Ben");
        await office.ClickAsync("form[action='/people/invitations'] button[type=submit]");
        string link = await office.InnerTextAsync("code.secret");

        await using IBrowserContext phone = await chromium.OpenAsync(width: 390);
        IPage page = await phone.NewPageAsync();
        await page.GotoAsync(link);
        await page.FillAsync("#name", "Ben");
        await page.FillAsync("#login", "ben@example.org");
        await page.FillAsync("#password", "long enough for anybody");
        await page.ClickAsync("main button[type=submit]");
        await page.WaitForFunctionAsync("() => location.pathname === '/'");
        await page.ClickAsync("details.menu summary");
        await page.ClickAsync("details.menu a[href='/account']");
        await Chromium.AtAsync(page, "/account");
        Assert.Contains("Ben", await page.InnerTextAsync("h1"), StringComparison.Ordinal);
        Assert.True(await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= window.innerWidth"));

        await office.GotoAsync(address + "/people");
        await office.ClickAsync("tbody a");
        await office.ClickAsync("tbody form button");
        await office.WaitForSelectorAsync("text=Nowhere.");
        await page.GotoAsync(address + "/account");
        Assert.StartsWith(address + "/sign-in", page.Url, StringComparison.Ordinal);

        await page.FillAsync("#login", "ben@example.org");
        await page.FillAsync("#password", "long enough for anybody");
        await page.ClickAsync("form[action='/sign-in'] button");
        await Chromium.AtAsync(page, "/account");
    }

    [GeneratedRegex("Washwear listens on (http://[^ ,]+)")]
    private static partial Regex ListensLine();
}
