using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>The invented fleet, served by the demo command, and a browser whose person has used the sign-in link.</summary>
public sealed partial class DemoFleet : IAsyncLifetime
{
    private readonly Chromium _chromium = new();
    private ServedWashwear? _served;
    private IReadOnlyList<BrowserContextCookiesResult> _cookies = [];

    /// <summary>Where it is served.</summary>
    public Uri Address { get; private set; } = new("http://127.0.0.1");

    /// <summary>Opens a session of a person who is signed in.</summary>
    /// <param name="width">Width of the screen in CSS pixels.</param>
    /// <param name="dark">Whether the person prefers dark colours.</param>
    /// <param name="script">Whether scripts run.</param>
    public async Task<IBrowserContext> OpenAsync(int width = 1280, bool dark = false, bool script = true)
    {
        IBrowserContext session = await _chromium.OpenAsync(width, dark, script);
        await session.AddCookiesAsync(_cookies.Select(cookie => new Cookie
        {
            Name = cookie.Name,
            Value = cookie.Value,
            Domain = cookie.Domain,
            Path = cookie.Path,
            HttpOnly = cookie.HttpOnly,
        }));
        return session;
    }

    public async Task InitializeAsync()
    {
        await _chromium.InitializeAsync();
        (_served, string link) = await ServedWashwear.StartAsync(
            ["demo", "--folder", "{folder}/fleet", "--urls", "http://127.0.0.1:0"], OpenLine());
        Address = new Uri(new Uri(link), "/");
        await using IBrowserContext session = await _chromium.OpenAsync();
        IPage page = await session.NewPageAsync();
        await page.GotoAsync(link);
        _cookies = await session.CookiesAsync();
    }

    public async Task DisposeAsync()
    {
        await _chromium.DisposeAsync();
        if (_served is not null)
        {
            await _served.DisposeAsync();
        }
    }

    [GeneratedRegex("^Open (http://.*)$")]
    private static partial Regex OpenLine();
}
