using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>What is wrong with a close-out is told where it is mended, and lies over nothing.</summary>
public sealed class CloseOutProblemTests : VisitOnAPhone
{
    [Fact(Timeout = Patience)]
    public async Task What_is_wrong_with_a_choice_stands_beneath_all_of_its_answers()
    {
        await using IBrowserContext phone = await SignInAsync();
        IPage page = await phone.NewPageAsync();
        await OpenFormAsync(page, "OVEN-1");
        await ChooseAsync(page, "outcome", "proven");
        await page.ClickAsync(".save-bar button");
        await page.Locator("#problems").WaitForAsync();

        Assert.Equal(0, await page.Locator(".segment .field-error").CountAsync());
        Assert.NotEqual(0, await page.Locator("fieldset > .field-error").CountAsync());
    }
}
