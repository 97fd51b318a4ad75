using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser.Guides;

/// <summary>Does what a guide says, on a page, by the words that the screen shows.</summary>
/// <param name="page">The page.</param>
/// <param name="address">Where the service is.</param>
internal sealed class GuideReader(IPage page, Uri address)
{
    // What a reader takes for one thing: a row, an entry, a group, a section.
    private const string Blocks = "li, tr, fieldset, details, section, form, dl > div, .entry";
    private const float Patience = 30_000;

    /// <summary>Does one step.</summary>
    /// <param name="step">The step.</param>
    /// <exception cref="InvalidOperationException">The screen does not show what the guide says.</exception>
    public async Task DoAsync(GuideStep step)
    {
        try
        {
            await (step.Verb switch
            {
                "start" => page.GotoAsync(address.ToString()),
                "follow" => LeaveAsync("a", step),
                "press" => LeaveAsync("button", step),
                "unfold" => UnfoldAsync(step),
                "choose" => ChooseAsync(step),
                "fill" => (await FieldAsync(step)).FillAsync(step.With!),
                "pick" => (await FieldAsync(step)).SelectOptionAsync(new SelectOptionValue { Label = step.With }),
                "see" => SeeAsync(step),
                _ => throw new InvalidOperationException("A verb that nobody does: " + step.Verb),
            });
        }
        catch (Exception trouble) when (trouble is TimeoutException or PlaywrightException or InvalidOperationException)
        {
            string shown = await page.InnerTextAsync("body");
            throw new InvalidOperationException($"{step} cannot be done at {page.Url}: {trouble.Message}\nThe screen shows:\n{shown[..Math.Min(shown.Length, 3_000)]}", trouble);
        }
    }

    // What leads to another page is done when that one is there: the driver's own wait may miss the event that it waits for.
    private async Task LeaveAsync(string kind, GuideStep step)
    {
        ILocator found = await FindAsync(kind, step);
        bool stays = await found.EvaluateAsync<bool>("each => !!each.hash && each.pathname + each.search === location.pathname + location.search");
        await page.EvaluateAsync("() => { window.stillHere = true; }");
        await found.ClickAsync(new() { Timeout = Patience });
        if (!stays)
        {
            await page.WaitForFunctionAsync("() => !window.stillHere && document.readyState === 'complete'", null, new() { Timeout = Patience });
        }
    }

    private async Task ChooseAsync(GuideStep step) =>
        await (await FindAsync("label:has(input[type=radio]), label:has(input[type=checkbox])", step)).ClickAsync(new() { Timeout = Patience });

    // What is open already stays open.
    private async Task UnfoldAsync(GuideStep step)
    {
        ILocator summary = await FindAsync("summary", step);
        if (!await summary.EvaluateAsync<bool>("each => each.parentElement.open"))
        {
            await summary.ClickAsync(new() { Timeout = Patience });
        }
    }

    // A field whose label is not in sight, as on a phone, is known by the button beside it.
    private async Task<ILocator> FieldAsync(GuideStep step)
    {
        ILocator named = await FindAsync("label, button", step);
        if (await named.EvaluateAsync<bool>("each => each.localName === 'button'"))
        {
            return named.Locator("xpath=ancestor::form").Locator("input:visible").First;
        }

        string? field = await named.GetAttributeAsync("for");
        return field is null ? named.Locator("input, select, textarea").First : page.Locator("#" + field);
    }

    private async Task SeeAsync(GuideStep step)
    {
        string words = Guide.Plain(step.Words);
        for (int tries = 0; ; tries++)
        {
            IReadOnlyList<string> shown = step.At is null
                ? [await page.InnerTextAsync("body")]
                : await page.Locator(Blocks).Filter(new() { HasText = step.At, Visible = true }).AllInnerTextsAsync();
            if (shown.Any(text => Guide.Plain(text).Contains(words, StringComparison.Ordinal)))
            {
                return;
            }

            if (tries == (int)(Patience / 200))
            {
                throw new InvalidOperationException("It is not to be seen.");
            }

            await Task.Delay(200);
        }
    }

    // The first that is named so, else the first whose words begin so, else the first whose words hold it; a reader looks in this order too.
    private async Task<ILocator> FindAsync(string kind, GuideStep step)
    {
        string words = string.Join(@"\s+", step.Words.Split(' ').Select(Regex.Escape));
        for (int tries = 0; tries < 2; tries++)
        {
            foreach (string pattern in new[] { $@"^\s*{words}\s*$", $@"^\s*{words}", words })
            {
                ILocator named = page.Locator(kind).Filter(new() { HasTextRegex = new Regex(pattern, RegexOptions.IgnoreCase), Visible = true });
                ILocator found = step.At is null ? named : Near(named, step.At).Locator(named);
                if (await found.CountAsync() > 0)
                {
                    return found.First;
                }
            }

            await page.WaitForTimeoutAsync(1_000);
        }

        throw new InvalidOperationException("Nothing there is called so.");
    }

    // The smallest block that shows the words and holds what is looked for.
    private ILocator Near(ILocator named, string at)
    {
        ILocator around = page.Locator(Blocks).Filter(new() { HasText = at, Has = named });
        return around.Filter(new() { HasNot = page.Locator(Blocks).Filter(new() { HasText = at, Has = named }) }).First;
    }
}
