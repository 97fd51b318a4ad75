using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Mvc;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Security;

/// <summary>Where people sign in with a key or a one-time link, and out again.</summary>
public static class SignIn
{
    /// <summary>Address of the form.</summary>
    public const string Path = "/sign-in";

    /// <summary>Address of one-time links.</summary>
    public const string LinkPath = "/sign-in/link";

    private const string OutPath = "/sign-out";
    private const int MostSecretCharacters = 200;

    /// <summary>Address of the form, coming back to a page afterwards.</summary>
    /// <param name="returnTo">Path and query of the page.</param>
    public static string Address(string returnTo) => returnTo == "/" ? Path : $"{Path}?return_to={Uri.EscapeDataString(returnTo)}";

    /// <summary>Maps the routes; they are open to everybody.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapSignIn(this IEndpointRouteBuilder routes)
    {
        RouteGroupBuilder open = routes.MapGroup(string.Empty).AllowAnonymous().ExcludeFromDescription();
        open.MapGet(Path, Show);
        open.MapPost(Path, WithKeyAsync).Audited("session.begin");
        open.MapGet(LinkPath, WithLinkAsync).Audited("session.begin");
        open.MapPost(OutPath, OutAsync).Audited("session.end");
    }

    private static IResult Show(HttpContext context, Pages pages, TimeProvider clock, [FromQuery(Name = "return_to")] string? returnTo) =>
        Form(context, pages, clock, returnTo, null, StatusCodes.Status200OK);

    private static async Task<IResult> WithKeyAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        Keys keys,
        SignInAttempts attempts,
        [FromForm(Name = "key")] string? secret,
        [FromForm(Name = "return_to")] string? returnTo,
        CancellationToken cancellationToken)
    {
        if (MustWait(context, attempts) is { } wait)
        {
            return wait;
        }

        ApiKey? key = secret is { Length: > 0 and <= MostSecretCharacters } ? await keys.FindAsync(secret.Trim(), cancellationToken) : null;
        if (key is null)
        {
            attempts.Failed(context.Connection.RemoteIpAddress);
            return Form(context, pages, clock, returnTo, "This key is not known, or it was revoked.", StatusCodes.Status401Unauthorized);
        }

        return await EnterAsync(context, attempts, key, returnTo);
    }

    private static async Task<IResult> WithLinkAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        Keys keys,
        SignInAttempts attempts,
        string? token,
        CancellationToken cancellationToken)
    {
        if (MustWait(context, attempts) is { } wait)
        {
            return wait;
        }

        ApiKey? key = token is { Length: > 0 and <= MostSecretCharacters } ? await keys.UseSignInLinkAsync(token, cancellationToken) : null;
        if (key is null)
        {
            attempts.Failed(context.Connection.RemoteIpAddress);
            return Form(context, pages, clock, null, "This link was used already or is too old. Sign in with a key.", StatusCodes.Status401Unauthorized);
        }

        return await EnterAsync(context, attempts, key, null);
    }

    private static async Task<IResult> OutAsync(HttpContext context, IAntiforgery forms)
    {
        await forms.ValidateRequestAsync(context);
        await context.SignOutAsync(Authentication.CookieScheme);
        return new SeeOther(Path);
    }

    private static async Task<IResult> EnterAsync(HttpContext context, SignInAttempts attempts, ApiKey key, string? returnTo)
    {
        attempts.Succeeded(context.Connection.RemoteIpAddress);
        AuditNote.Current?.By(AuditCaller.Of(key));
        await context.SignInAsync(
            Authentication.CookieScheme,
            Authentication.Principal(key, Authentication.CookieScheme),
            new AuthenticationProperties { IsPersistent = true });
        return new SeeOther(IsOurs(returnTo) ? returnTo! : "/");
    }

    private static ProblemResult? MustWait(HttpContext context, SignInAttempts attempts)
    {
        if (attempts.Wait(context.Connection.RemoteIpAddress) is not { } wait)
        {
            return null;
        }

        context.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        return Problems.Status(StatusCodes.Status429TooManyRequests);
    }

    // Only a path of this service: '//host' and '/\host' lead a browser elsewhere.
    private static bool IsOurs(string? address) =>
        address is { Length: > 0 } && address[0] == '/' && (address.Length == 1 || address[1] is not ('/' or '\\'))
        && !address.Any(char.IsControl);

    private static IResult Form(HttpContext context, Pages pages, TimeProvider clock, string? returnTo, string? problem, int status) =>
        pages.Of<SignInPage>(context, new SignInReport(problem, returnTo), clock.GetUtcNow(), status);

    // 303: the browser goes on by GET.
    private sealed record SeeOther(string Address) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            httpContext.Response.StatusCode = StatusCodes.Status303SeeOther;
            httpContext.Response.Headers.Location = Address;
            return Task.CompletedTask;
        }
    }
}
