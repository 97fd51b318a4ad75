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

    [GeneratedRegex("Washwear listens on (http://[^ ,]+)")]
    private static partial Regex ListensLine();
}
