using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>A technician's phone in a cellar: a new installation with two ovens, the wire between them and the browser, and what a thumb does.</summary>
public abstract partial class VisitOnAPhone : IAsyncLifetime, IDisposable
{
    protected const string Key = "a-key-of-the-browser-tests-0123456789";
    protected const int PhoneWidth = 390;

    // A test that hangs fails, milliseconds; the driver's own patience with each step is less, and says which it was.
    protected const int Patience = 90_000;

    private const string Registry = """
        {"operators":[{"operator":"harbour","name":"Harbour Kitchens (invented)"}],
         "sites":[{"site":"pier-4","operator":"harbour","name":"Pier 4","time_zone":"Europe/Vienna"}],
         "models":[{"model":"T10","name":"Ten-tray oven","kind":"combi oven",
           "positions":[{"position":"wash-pump","name":"Wash pump","failure_modes":["leaks","seized"],"part_numbers":["P/100-2"],"replace_minutes":35},
                        {"position":"suction-hose","name":"Pump suction hose"},{"position":"heating-element","name":"Heating element"}],
           "programmes":[{"programme":"night","grade":"standard","minutes":74}],
           "faults":[{"code":"E21","text":"No water circulates","locks_out_washing":true,"causes":[{"position":"wash-pump","failure_mode":"seized","cause":"scale","prior_weight":2},{"position":"suction-hose","failure_mode":"leaks","prior_weight":2}],
                      "checks":[{"check":"look-at-hose","text":"Look along the suction hose","minutes":15,"positions":["suction-hose"],"hazards":["water"]},
                                {"check":"turn-impeller","text":"Turn the impeller by hand","minutes":5,"positions":["wash-pump"],"hazards":["electric"]}]},
                     {"code":"E50","text":"Does not heat","locks_out_cooking":true,"causes":[{"position":"heating-element"}]}]}],
         "units":[{"unit":"OVEN-1","site":"pier-4","model":"T10","serial":"S/1","commissioned_on":"2023-05-01"},
                  {"unit":"OVEN-2","site":"pier-4","model":"T10","serial":"S/2","commissioned_on":"2023-05-01"}],
         "rules":[{"rule":"daily","scope":{},"grade":"standard","every_trading_days":1,"grace_hours":2,"basis":"House rule 7"}]}
        """;

    /// <summary>Between the phone and the program.</summary>
    private protected CuttableWire Wire { get; private set; } = null!;

    /// <summary>The program, without the wire, for an administrator.</summary>
    protected HttpClient Api { get; private set; } = null!;

    // A browser for each test: service workers of one test must not meet the next.
    private readonly Chromium _chromium = new();
    private ServedWashwear _served = null!;

    public async Task InitializeAsync()
    {
        await _chromium.InitializeAsync();
        (_served, string address) = await ServedWashwear.StartAsync(
            ["serve", "--urls", "http://127.0.0.1:0"],
            ListensLine(),
            new Dictionary<string, string> { ["WASHWEAR_ADMIN_KEY"] = Key, ["WASHWEAR_DATABASE"] = "{folder}/washwear.db" });
        Wire = new CuttableWire(new Uri(address));
        Api = new HttpClient { BaseAddress = new Uri(address) };
        Api.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Key);
        using HttpResponseMessage registry = await Api.PutAsync("/v1/registry", new StringContent(Registry, Encoding.UTF8, "application/json"));
        Assert.True(registry.IsSuccessStatusCode, await registry.Content.ReadAsStringAsync());
        string now = TimeProvider.System.GetUtcNow().AddHours(-3).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture);
        using HttpResponseMessage records = await Api.PostAsync("/v1/records", new StringContent(
            $$"""
            [{"type":"fault","key":"f","unit":"OVEN-1","at":"{{now}}","code":"E21"},
             {"type":"part_change","key":"p","unit":"OVEN-1","at":"2025-01-07T09:00:00Z","position":"wash-pump","fitted":{"part_number":"P/100-2"} }]
            """,
            Encoding.UTF8,
            "application/json"));
        Assert.True(records.IsSuccessStatusCode, await records.Content.ReadAsStringAsync());
    }

    public async Task DisposeAsync()
    {
        await _chromium.DisposeAsync();
        await Wire.DisposeAsync();
        await _served.DisposeAsync();
    }

    public void Dispose()
    {
        Api.Dispose();
        GC.SuppressFinalize(this);
    }

    [GeneratedRegex("Washwear listens on (http://[^ ,]+)")]
    private static partial Regex ListensLine();

    protected static Task EmptyAsync(IPage page) => UntilAsync(page, "async () => (await Outbox.all('outbox')).length === 0");

    // The driver's own waiting takes a promise for a yes.
    protected static async Task UntilAsync(IPage page, string question)
    {
        for (int tries = 0; tries < 600; tries++)
        {
            if (await page.EvaluateAsync<bool>(question).WaitAsync(TimeSpan.FromSeconds(30)))
            {
                return;
            }

            await Task.Delay(100);
        }

        Assert.Fail("Not within a minute: " + question);
    }

    // Pictures to look at are kept where this names a folder.
    protected static async Task KeepAsync(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("WASHWEAR_TEST_PICTURES") is { } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, "visit-" + name + ".png"), FullPage = true });
        }
    }

    // One white pixel.
    protected static byte[] Picture => Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8/5+hHgAHggJ/PchI7wAAAABJRU5ErkJggg==");

    protected static Task TapAsync(IPage page, string fold) => page.ClickAsync($"details.fold > summary:has-text('{fold}')");

    protected static Task ChooseAsync(IPage page, string name, string value) =>
        page.ClickAsync($"label.segment:has(input[name='{name}'][value='{value}'])");

    protected async Task CutAsync(IBrowserContext phone)
    {
        Wire.Cut();
        await phone.SetOfflineAsync(true);
    }

    protected Task MendAsync(IBrowserContext phone)
    {
        Wire.Mend();
        return phone.SetOfflineAsync(false);
    }

    protected async Task<IBrowserContext> SignInAsync(int width = PhoneWidth, bool dark = false, bool script = true, string locale = "en-GB")
    {
        IBrowserContext phone = await _chromium.OpenAsync(width, dark, script, locale);
        IPage page = await phone.NewPageAsync();
        await page.GotoAsync(new Uri(Wire.Address, "/sign-in").ToString());
        await Chromium.SignInWithKeyAsync(page, Key);
        await page.CloseAsync();
        return phone;
    }

    protected string AddressOf(string path) => new Uri(Wire.Address, path).ToString();

    protected Task<IBrowserContext> OpenAsync(string locale) => _chromium.OpenAsync(PhoneWidth, locale: locale);

    protected async Task OpenFormAsync(IPage page, string unit)
    {
        await page.GotoAsync(new Uri(Wire.Address, "/units/" + unit).ToString());
        await page.ClickAsync("text=Close out a visit");
        await KeptAsync(page);
    }

    // The form is there, and so is what it needs without a signal.
    protected static async Task KeptAsync(IPage page)
    {
        await page.Locator("form#close-out").WaitForAsync();
        await UntilAsync(page, "async () => navigator.serviceWorker.controller !== null && (await (await caches.open(Outbox.cacheName)).keys()).filter(each => !each.url.includes('/assets/') || each.url.includes('on-device')).length >= 3");
    }

    protected async Task<int> CountAsync(string type) =>
        (await Api.GetFromJsonAsync<JsonElement>("/v1/records?type=" + type)).GetProperty("items").GetArrayLength();
}
