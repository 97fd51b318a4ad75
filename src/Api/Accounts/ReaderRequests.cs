using Microsoft.Net.Http.Headers;
using Washwear.Api.Security;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Accounts;

/// <summary>Who reads the answer to a request, and how: what a person has chosen, or a cookie where somebody signed in with a key, else what the browser asks for.</summary>
internal static class ReaderRequests
{
    /// <summary>Name of the cookie that holds what somebody without an account has chosen, and nothing else.</summary>
    public const string CookieName = "reading";

    private const int MostLanguages = 10;
    private static readonly object Item = new();
    private static readonly HostCookies Cookies = new();

    /// <summary>Lets pages and charts be written for their reader. Everything else, the whole API above all, is written for nobody in particular.
    /// So is what a form brings about, since it is kept; the page that answers it is written for its reader by <see cref="Http.Pages"/>.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseReaderPreferences(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        if (!IsPage(context.Request))
        {
            await next(context);
            return;
        }

        context.Response.Headers.Append(HeaderNames.Vary, "Accept-Language, Cookie");
        using (ReaderPreferences.Use(Of(context)))
        {
            await next(context);
        }
    });

    /// <summary>How the reader of a request reads.</summary>
    public static ReaderPreferences Of(HttpContext context)
    {
        if (context.Items.TryGetValue(Item, out object? known))
        {
            return (ReaderPreferences)known!;
        }

        ReaderPreferences preferences = Of(context, Chosen(context));
        context.Items[Item] = preferences;
        return preferences;
    }

    /// <summary>How the reader of a request would read with a choice.</summary>
    public static ReaderPreferences Of(HttpContext context, PreferenceChoice choice) => choice.For(Languages(context.Request));

    /// <summary>What the reader of a request has chosen.</summary>
    public static PreferenceChoice Chosen(HttpContext context) => PreferenceChoice.Read(
        SessionCookie.Of(context) is { PersonId: not null } session ? session.Preferences
            : Cookies.GetRequestCookie(context, CookieName));

    /// <summary>Keeps in the browser what somebody without an account has chosen.</summary>
    public static void KeepInCookie(HttpContext context, PreferenceChoice choice)
    {
        var cookie = new CookieBuilder { MaxAge = TimeSpan.FromDays(400) };
        Authentication.Harden(cookie, CookieName);
        if (choice == PreferenceChoice.None)
        {
            Cookies.DeleteCookie(context, CookieName, cookie.Build(context));
            return;
        }

        Cookies.AppendResponseCookie(context, CookieName, choice.Kept(), cookie.Build(context));
    }

    /// <summary>Whether a request asks for a page or a chart; files that belong to a page are none.</summary>
    private static bool IsPage(HttpRequest request) =>
        (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method))
        && !request.Path.StartsWithSegments("/v1", StringComparison.OrdinalIgnoreCase)
        && !request.Path.StartsWithSegments("/openapi", StringComparison.OrdinalIgnoreCase)
        && Path.GetExtension(request.Path.Value) is not (".csv" or ".ics" or ".json" or ".yaml" or ".xlsx");

    private static string[] Languages(HttpRequest request) =>
    [
        .. request.GetTypedHeaders().AcceptLanguage.Take(MostLanguages).Where(language => language.Quality is null or > 0)
            .OrderByDescending(language => language.Quality ?? 1).Select(language => language.Value.ToString()),
    ];
}
