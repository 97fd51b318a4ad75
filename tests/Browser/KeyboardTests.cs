using System.Text.Json;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>A reader without a mouse: Tab, Enter, Space and the arrows alone, who always sees where they are.</summary>
public sealed class KeyboardTests(DemoFleet fleet) : IClassFixture<DemoFleet>
{
    private const int MostTabs = 150;

    // A choice of the form is hidden behind the words beside it; they stand for it, and so does what a label holds.
    private const string Here = """
        () => {
          const at = document.activeElement;
          if (!at || at === document.body) return null;
          const label = at.closest('label');
          const rings = one => one && getComputedStyle(one).outlineStyle !== 'none' && parseFloat(getComputedStyle(one).outlineWidth) >= 2;
          const shown = label && at.matches('[type=radio], [type=checkbox]') ? label : at;
          const box = shown.getBoundingClientRect();
          return {
            words: (shown.innerText || at.value || '').replace(/\s+/g, ' ').trim(),
            href: at.getAttribute('href') ?? '',
            name: at.name ?? '',
            rings: !!(rings(at) || rings(label) || rings(at.nextElementSibling)),
            inSight: box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
          };
        }
        """;

    [Fact]
    public async Task From_the_first_page_to_an_oven_its_sheet_and_a_saved_close_out()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await OpenAsync(session, "/");
        await TabAsync(page, "the skip link", here => Is(here, "href", "#main"));
        await page.Keyboard.PressAsync("Enter");

        await TabAsync(page, "the ovens that cannot wash", here => Text(here, "words").EndsWith("locked out", StringComparison.Ordinal));
        await FollowAsync(page, "/cleaning");
        await TabAsync(page, "one of them", here => Is(here, "href", "/units/" + Text(here, "words")));
        await FollowAsync(page, "/units/");
        string unit = new Uri(page.Url).AbsolutePath;
        await TabAsync(page, "its visit sheet", here => Text(here, "href").StartsWith(unit + "/visit-sheet", StringComparison.Ordinal));
        await FollowAsync(page, unit + "/visit-sheet");
        await TabAsync(page, "the form", here => Is(here, "words", "Close out the visit"));
        await FollowAsync(page, "/visits/new");

        await TabAsync(page, "the proofs", here => Text(here, "words").StartsWith("Proofs", StringComparison.Ordinal));
        await page.Keyboard.PressAsync("Enter");
        await TabAsync(page, "the first proof", here => Is(here, "name", "proof/no-leak"));
        await page.Keyboard.PressAsync("ArrowRight");
        Assert.Equal("pass", await page.InputValueAsync("input[name='proof/no-leak']:checked"));
        await TabAsync(page, "how it ended", here => Is(here, "name", "outcome"));
        await page.Keyboard.PressAsync("Space");
        await page.Keyboard.PressAsync("ArrowDown");
        Assert.Equal("repaired_not_proven", await page.InputValueAsync("input[name=outcome]:checked"));
        await TabAsync(page, "the button that saves", here => Is(here, "words", "Save the close-out"));
        await page.Keyboard.PressAsync("Enter");

        await page.Locator("#saved").WaitForAsync();
        Assert.Contains("Repaired, not proven", await page.InnerTextAsync("main"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_slash_finds_an_oven_from_anywhere()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await OpenAsync(session, "/planning/stock");
        await page.Keyboard.PressAsync("/");
        await page.Keyboard.TypeAsync("oven 0024");
        await FollowAsync(page, "/units/OVEN-0024");
        await TabAsync(page, "its visit sheet", here => Text(here, "href").StartsWith("/units/OVEN-0024/visit-sheet", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_repair_is_granted()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await OpenAsync(session, "/approvals");
        await TabAsync(page, "a note", here => Is(here, "name", "note"));
        await page.Keyboard.TypeAsync("By keys alone");
        await TabAsync(page, "the button that grants", here => Text(here, "words").StartsWith("Grant", StringComparison.Ordinal));
        await page.Keyboard.PressAsync("Space");

        await page.Locator("main [role=status]").WaitForAsync();
        Assert.StartsWith("Granted", await page.InnerTextAsync("main [role=status]"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_planned_job_is_accepted()
    {
        await using IBrowserContext session = await fleet.OpenAsync();
        IPage page = await OpenAsync(session, "/planning");
        await TabAsync(page, "what can be decided", here => Is(here, "words", "Decide"));
        await page.Keyboard.PressAsync("Enter");
        await TabAsync(page, "the button that accepts", here => Text(here, "words").StartsWith("Accept", StringComparison.Ordinal));
        await page.Keyboard.PressAsync("Enter");

        await page.Locator("main [role=status]").WaitForAsync();
        Assert.Contains("is planned for", await page.InnerTextAsync("main [role=status]"), StringComparison.Ordinal);
    }

    private async Task<IPage> OpenAsync(IBrowserContext session, string path)
    {
        IPage page = await session.NewPageAsync();

        // Nothing glides: where the focus is stands in sight at once.
        await page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await page.GotoAsync(new Uri(fleet.Address, path).ToString());
        return page;
    }

    private static async Task FollowAsync(IPage page, string path)
    {
        await page.Keyboard.PressAsync("Enter");
        await Chromium.AtAsync(page, path);
    }

    // Goes on until the focus is where it should be; at each stop it has to be seen.
    private static async Task TabAsync(IPage page, string what, Func<JsonElement, bool> isThere)
    {
        for (int tabs = 0; tabs < MostTabs; tabs++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync(Here) is not { ValueKind: JsonValueKind.Object } here)
            {
                continue;
            }

            Assert.True(here.GetProperty("rings").GetBoolean(), $"On the way to {what} the focus cannot be seen: {here}");
            if (!here.GetProperty("inSight").GetBoolean())
            {
                await page.WaitForTimeoutAsync(200);
                here = (await page.EvaluateAsync(Here))!.Value;
                Assert.True(here.GetProperty("inSight").GetBoolean(), $"On the way to {what} the focus is out of sight: {here}");
            }

            if (isThere(here))
            {
                return;
            }
        }

        Assert.Fail($"After {MostTabs} times Tab the focus is still not at {what}.");
    }

    private static string Text(JsonElement here, string property) => here.GetProperty(property).GetString()!;

    private static bool Is(JsonElement here, string property, string text) => Text(here, property) == text;
}
