using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;

namespace Washwear.Api.Security;

/// <summary>The cookie of a sign-in: it carries the secret of a session and nothing else.</summary>
public static class SessionCookie
{
    /// <summary>Name of the cookie; by https it is <see cref="HostCookies.Prefix"/> and this.</summary>
    public const string Name = "session";

    private const string SecretClaim = "session_secret";
    private static readonly object SessionItem = new();

    /// <summary>Sets up the scheme of people.</summary>
    /// <param name="options">Its options.</param>
    /// <param name="settings">How long a sign-in lasts.</param>
    public static void Configure(CookieAuthenticationOptions options, Settings settings)
    {
        Authentication.Harden(options.Cookie, Name);
        options.CookieManager = new HostCookies();
        options.ExpireTimeSpan = settings.SignInLasts;
        options.SlidingExpiration = false;
        options.Events.OnValidatePrincipal = RefreshAsync;
    }

    /// <summary>Begins a session and hands its cookie out; a session that the browser had ends.</summary>
    /// <param name="context">The request.</param>
    /// <param name="personId">Number of the person; null: with a key.</param>
    /// <param name="keyId">Number of the key; null: for a person.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public static async Task BeginAsync(HttpContext context, long? personId, long? keyId, CancellationToken cancellationToken)
    {
        Sessions sessions = context.RequestServices.GetRequiredService<Sessions>();
        string secret = await sessions.BeginAsync(personId, keyId, context, await SecretOfAsync(context), cancellationToken);
        var identity = new ClaimsIdentity([new Claim(SecretClaim, secret)], Authentication.CookieScheme);
        await context.SignInAsync(
            Authentication.CookieScheme, new ClaimsPrincipal(identity), new AuthenticationProperties { IsPersistent = true });
    }

    /// <summary>Ends the session of a request, on the server and in the browser.</summary>
    /// <param name="context">The request.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    public static async Task EndAsync(HttpContext context, CancellationToken cancellationToken)
    {
        if (await SecretOfAsync(context) is { } secret)
        {
            await context.RequestServices.GetRequiredService<Sessions>().EndAsync(secret, cancellationToken);
        }

        await context.SignOutAsync(Authentication.CookieScheme);
    }

    /// <summary>The session of a request; null: it has none, or came with a key in its header.</summary>
    /// <param name="context">The request.</param>
    public static Session? Of(HttpContext context) => context.Items.TryGetValue(SessionItem, out object? session) ? (Session?)session : null;

    // The principal of a request says who, not by which secret; that stays in the ticket.
    private static async Task<string?> SecretOfAsync(HttpContext context)
    {
        AuthenticateResult ticket = await context.AuthenticateAsync(Authentication.CookieScheme);
        return ticket.Properties?.GetParameter<string>(SecretClaim);
    }

    // A cookie is good as long as its session is, and its holder may do what the person or key may do now.
    private static async Task RefreshAsync(CookieValidatePrincipalContext context)
    {
        string? secret = context.Principal?.FindFirstValue(SecretClaim);
        Session? session = secret is null
            ? null
            : await context.HttpContext.RequestServices.GetRequiredService<Sessions>().FindAsync(secret, context.HttpContext.RequestAborted);
        if (session is null)
        {
            context.RejectPrincipal();
            return;
        }

        context.HttpContext.Items[SessionItem] = session;
        context.Properties.SetParameter(SecretClaim, secret);
        context.ReplacePrincipal(Authentication.Principal(session));
    }
}

/// <summary>Names cookies by how they are sent: by https with the prefix that binds them to this host alone (RFC 6265bis, section 4.1.3.2).</summary>
public sealed class HostCookies : ICookieManager
{
    /// <summary>What browsers take only by https, for one host and all of its paths.</summary>
    public const string Prefix = "__Host-";

    private readonly ChunkingCookieManager _cookies = new();

    /// <inheritdoc/>
    public string? GetRequestCookie(HttpContext context, string key) => _cookies.GetRequestCookie(context, NameOf(context, key));

    /// <inheritdoc/>
    public void AppendResponseCookie(HttpContext context, string key, string? value, CookieOptions options) =>
        _cookies.AppendResponseCookie(context, NameOf(context, key), value, options);

    /// <inheritdoc/>
    public void DeleteCookie(HttpContext context, string key, CookieOptions options) => _cookies.DeleteCookie(context, NameOf(context, key), options);

    private static string NameOf(HttpContext context, string key) => context.Request.IsHttps ? Prefix + key : key;
}
