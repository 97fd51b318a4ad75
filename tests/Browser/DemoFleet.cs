using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>The invented fleet, served, and a browser whose person has used the sign-in link of the demo command.</summary>
public sealed class DemoFleet : IAsyncLifetime
{
    private static readonly HttpClient Reader = new(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false });
    private static readonly Lock Walking = new();
    private static Task<FleetWalk>? _walk;
    private readonly Chromium _chromium = new();
    private ServedWashwear? _served;
    private IReadOnlyList<Cookie> _cookies = [];

    /// <summary>Where it is served.</summary>
    public Uri Address { get; private set; } = new("http://127.0.0.1");

    /// <summary>Addresses of pages that show something else beside what links lead to first.</summary>
    public string[] Extra { get; } =
    [
        "/failures?of=parts&compare=model&by=part_number", "/part-life?position=wash-pump&clock=washes", "/planning/parts?position=wash-pump",
        "/cleaning?state=overdue&by=operator&days=91", "/failures/records?of=parts", "/planning/forecast?days=30&by=site",
    ];

    /// <summary>Every page that links lead to from the first one. Each class has a copy of one fleet: whoever asks first goes through it for all.</summary>
    internal Task<FleetWalk> WalkAsync()
    {
        lock (Walking)
        {
            return _walk ??= FleetWalk.ThroughAsync(PageAsync, Extra);
        }
    }

    /// <summary>Asks for an address as the person who is signed in.</summary>
    /// <param name="address">Path and query.</param>
    public async Task<HttpResponseMessage> GetAsync(string address)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(Address, address));
        request.Headers.Add("Accept", "text/html, */*");
        request.Headers.Add("Cookie", string.Join("; ", _cookies.Select(cookie => cookie.Name + "=" + cookie.Value)));
        return await Reader.SendAsync(request);
    }

    /// <summary>The text at an address.</summary>
    /// <param name="address">Path and query.</param>
    public async Task<string> ReadAsync(string address)
    {
        using HttpResponseMessage answer = await GetAsync(address);
        return await answer.Content.ReadAsStringAsync();
    }

    /// <summary>Opens a session of a person.</summary>
    /// <param name="width">Width of the screen in CSS pixels.</param>
    /// <param name="dark">Whether the person prefers dark colours.</param>
    /// <param name="script">Whether scripts run.</param>
    /// <param name="signedIn">Whether the person is signed in.</param>
    /// <param name="locale">Language of the browser.</param>
    public async Task<IBrowserContext> OpenAsync(int width = 1280, bool dark = false, bool script = true, bool signedIn = true, string locale = "en-GB")
    {
        IBrowserContext session = await _chromium.OpenAsync(width, dark, script, locale);
        await FleetClock.SetAsync(session);
        if (!signedIn)
        {
            return session;
        }

        await session.AddCookiesAsync(_cookies);
        return session;
    }

    public async Task InitializeAsync()
    {
        await _chromium.InitializeAsync();
        (_served, Address, _cookies) = await LivedFleet.ServeCopyAsync();
    }

    public async Task DisposeAsync()
    {
        await _chromium.DisposeAsync();
        if (_served is not null)
        {
            await _served.DisposeAsync();
        }
    }

    private async Task<string?> PageAsync(string address)
    {
        using HttpResponseMessage answer = await GetAsync(address);
        return answer.IsSuccessStatusCode && answer.Content.Headers.ContentType?.MediaType == "text/html" ? await answer.Content.ReadAsStringAsync() : null;
    }
}
