using System.Security.Cryptography;
using System.Text;

namespace Washwear.Api.Http;

/// <summary>Headers that tell a browser what a page of ours may do: nothing from elsewhere, no script or style in the page itself.</summary>
public static class SecurityHeaders
{
    private const string Policy =
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; "
        + "form-action 'self'; frame-ancestors 'none'; base-uri 'none'; manifest-src 'self'";

    /// <summary>Sets the headers on every answer.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseSecurityHeaders(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        Set(context);
        return next(context);
    });

    /// <summary>Lets one answer style itself: for the reference, which comes from a library that does.</summary>
    /// <param name="context">The request.</param>
    public static void AllowInlineStyle(HttpContext context) => context.Response.Headers.ContentSecurityPolicy =
        Policy.Replace("style-src 'self'", "style-src 'self' 'unsafe-inline'", StringComparison.Ordinal);

    /// <summary>Lets one answer have one style of its own, and no other: for a picture that stands alone and brings its dark colours.</summary>
    /// <param name="context">The request.</param>
    /// <param name="style">The style, to the letter.</param>
    public static void AllowStyle(HttpContext context, string style) => context.Response.Headers.ContentSecurityPolicy = Policy.Replace(
        "style-src 'self'",
        $"style-src 'self' 'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(style)))}'",
        StringComparison.Ordinal);

    /// <summary>Sets the headers on one answer.</summary>
    /// <param name="context">The request.</param>
    public static void Set(HttpContext context)
    {
        IHeaderDictionary headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        // With no referrer at all a browser hides the origin of our own forms, which could then not be told from those of others.
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Embedder-Policy"] = "require-corp";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()";
        headers.XFrameOptions = "DENY";
        if (context.Request.IsHttps)
        {
            headers.StrictTransportSecurity = "max-age=31536000";
        }
    }
}
