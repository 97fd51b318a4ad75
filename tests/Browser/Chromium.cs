using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>One headless Chromium for the tests of a class.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>Opens a fresh session: no cookies, its own screen.</summary>
    /// <param name="width">Width of the screen in CSS pixels.</param>
    /// <param name="dark">Whether the person prefers dark colours.</param>
    /// <param name="script">Whether scripts run.</param>
    /// <param name="locale">Language of the browser.</param>
    public Task<IBrowserContext> OpenAsync(int width = 1280, bool dark = false, bool script = true, string locale = "en-GB") =>
        _browser!.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = width < 600 ? 844 : 900 },
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            JavaScriptEnabled = script,
            Locale = locale,
        });

    /// <summary>Waits until a page is at an address. The driver's own wait for an address may miss the event it waits for, when that comes
    /// between its look and its listening; this one looks until it is so.</summary>
    /// <param name="page">The page.</param>
    /// <param name="path">What the path begins with.</param>
    public static async Task AtAsync(IPage page, string path) =>
        await page.WaitForFunctionAsync("path => document.readyState === 'complete' && location.pathname.startsWith(path)", path);

    /// <summary>Signs in with a key on the sign-in page.</summary>
    /// <param name="page">The page, which shows the form.</param>
    /// <param name="key">The key.</param>
    public static async Task SignInWithKeyAsync(IPage page, string key)
    {
        if (!await page.Locator("input[name=key]").IsVisibleAsync())
        {
            await page.ClickAsync("main summary");
        }

        await page.FillAsync("input[name=key]", key);
        await page.ClickAsync("form[action='/sign-in/key'] button");
    }

    public async Task InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Find(),
            Args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    public async Task DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _playwright?.Dispose();
    }

    private static string Find()
    {
        if (Environment.GetEnvironmentVariable("WASHWEAR_TEST_CHROMIUM") is { Length: > 0 } named)
        {
            return named;
        }

        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? string.Empty).Split(Path.PathSeparator);
        string[] names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
        return names.SelectMany(name => folders.Select(folder => Path.Combine(folder, name))).FirstOrDefault(File.Exists)
            ?? throw new InvalidOperationException("No Chromium found: run tests/Browser/install-chromium.sh, or set WASHWEAR_TEST_CHROMIUM.");
    }
}
