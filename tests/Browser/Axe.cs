using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>The rules of axe for a page as it stands, asked in the page itself.</summary>
/// <remarks>There is a library that does this for pages with frames: it opens a second page for each look and hands it every element that passed,
/// which took longer than the rules. There are no frames here.</remarks>
internal static class Axe
{
    private const string Ask = """
        options => axe.run(document, { resultTypes: ['violations'], ...options }).then(result => result.violations.map(one =>
          one.id + ': ' + one.help + ': ' + one.nodes.slice(0, 3).map(node => node.html).join(' | ')))
        """;

    private static readonly string Script = new BundledAxeScriptProvider().GetScript();

    /// <summary>What there is to mend, one text a rule.</summary>
    /// <param name="page">The page.</param>
    /// <param name="options">What axe is asked for; null: the rules that it asks by itself.</param>
    public static async Task<string[]> FaultsAsync(IPage page, object? options = null)
    {
        Assert.Single(page.Frames);
        if (!await page.EvaluateAsync<bool>("() => 'axe' in window"))
        {
            await page.EvaluateAsync(Script);
        }

        return await page.EvaluateAsync<string[]>(Ask, options ?? new { });
    }
}
