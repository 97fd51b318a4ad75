using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Washwear.Browser;

/// <summary>The invented fleet as the demo command leaves it, and the session of the person who used its sign-in link. Years of ovens are lived once; each
/// class of tests gets a copy that it may change.</summary>
/// <param name="Folder">Folder of the database.</param>
/// <param name="Cookies">Cookies of the session, which every copy knows too.</param>
internal sealed partial record LivedFleet(string Folder, IReadOnlyList<Cookie> Cookies)
{
    private static readonly Lazy<Task<LivedFleet>> Lived = new(LiveAsync);

    /// <summary>Serves a copy.</summary>
    /// <returns>What serves it, the address, and the session.</returns>
    public static async Task<(ServedWashwear Served, Uri Address, IReadOnlyList<Cookie> Cookies)> ServeCopyAsync()
    {
        LivedFleet lived = await Lived.Value;
        (ServedWashwear served, string address) = await ServedWashwear.StartAsync(
            ["serve", "--urls", "http://127.0.0.1:0"],
            ListensLine(),
            new Dictionary<string, string> { ["WASHWEAR_DATABASE"] = "{folder}/washwear.db", ["WASHWEAR_INVENTED_DATA"] = "yes", ["WASHWEAR_INVENTED_NOW"] = FleetClock.Now },
            lived.Folder);
        return (served, new Uri(address), lived.Cookies);
    }

    private static async Task<LivedFleet> LiveAsync()
    {
        string folder = Directory.CreateTempSubdirectory("washwear-fleet-").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        (ServedWashwear served, string link) = await ServedWashwear.StartAsync(["demo", "--folder", folder, "--urls", "http://127.0.0.1:0", "--invented-now", FleetClock.Now], OpenLine());
        await using ServedWashwear program = served;
        return new LivedFleet(folder, await SignInAsync(new Uri(link)));
    }

    // Not by a browser: it goes by the clock of the machine, and drops a cookie that has ended by it.
    private static async Task<IReadOnlyList<Cookie>> SignInAsync(Uri link)
    {
        using var person = new HttpClient(new HttpClientHandler { UseCookies = false, AllowAutoRedirect = false });
        using HttpResponseMessage answer = await person.GetAsync(link);
        return [.. answer.Headers.GetValues("Set-Cookie").Select(cookie => cookie.Split(';')[0].Split('=', 2))
            .Select(pair => new Cookie { Name = pair[0], Value = pair[1], Domain = link.Host, Path = "/", HttpOnly = true })];
    }

    [GeneratedRegex("^Open (http://.*)$")]
    private static partial Regex OpenLine();

    [GeneratedRegex("Washwear listens on (http://[^ ,]+)")]
    private static partial Regex ListensLine();
}
