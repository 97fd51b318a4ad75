using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Mvc;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Api.Registry;
using Washwear.Api.Security.Company;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Security;

/// <summary>Where people sign in with login and password, a key or a one-time link, and out again.</summary>
public static class SignIn
{
    /// <summary>Address of the form.</summary>
    public const string Path = Urls.SignIn;

    /// <summary>Address of one-time links.</summary>
    public const string LinkPath = "/sign-in/link";

    // Longer ones are none of ours; they are cut off before anything is hashed.
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
        open.MapPost(Path, WithPasswordAsync).Audited("session.begin");
        open.MapPost(Urls.SignInWithKey, WithKeyAsync).Audited("session.begin");
        open.MapGet(LinkPath, WithLinkAsync).Audited("session.begin");
        open.MapPost(Urls.SignOut, OutAsync).Audited("session.end");
        open.MapJoin();
        open.MapCompanySignIn(routes.ServiceProvider.GetRequiredService<Settings>());
    }

    /// <summary>Answers that tries to sign in have to wait; null: they may go on.</summary>
    /// <param name="context">The request.</param>
    /// <param name="attempts">Counts the tries.</param>
    /// <param name="login">Whose login is tried; null: none.</param>
    internal static ProblemResult? MustWait(HttpContext context, SignInAttempts attempts, string? login = null)
    {
        if (attempts.Begin(context.Connection.RemoteIpAddress, login) is not { } wait)
        {
            return null;
        }

        context.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        return Problems.Status(StatusCodes.Status429TooManyRequests, "Too many tries to sign in failed. Wait as long as the Retry-After header says, at most "
            + $"{Math.Ceiling(wait.TotalMinutes).ToString(CultureInfo.InvariantCulture)} min.");
    }

    /// <summary>Signs somebody in and goes on to a page of this service.</summary>
    /// <param name="context">The request.</param>
    /// <param name="personId">Number of the person; null: with a key.</param>
    /// <param name="keyId">Number of the key; null: for a person.</param>
    /// <param name="returnTo">Path and query of the page; anything else: the first page.</param>
    /// <param name="cancellationToken">Stops waiting.</param>
    internal static async Task<IResult> EnterAsync(
        HttpContext context, long? personId, long? keyId, string? returnTo, CancellationToken cancellationToken)
    {
        await SessionCookie.BeginAsync(context, personId, keyId, cancellationToken);
        return new SeeOther(Ours(returnTo));
    }

    private static IResult Show(HttpContext context, Pages pages, TimeProvider clock, [FromQuery(Name = "return_to")] string? returnTo) =>
        Form(context, pages, clock, new SignInReport(null, returnTo), StatusCodes.Status200OK);

    private static async Task<IResult> WithPasswordAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        People people,
        SignInAttempts attempts,
        [FromForm(Name = "login")] string? login,
        [FromForm(Name = "password")] string? password,
        [FromForm(Name = "return_to")] string? returnTo,
        CancellationToken cancellationToken)
    {
        string name = (login ?? string.Empty).Trim();
        if (MustWait(context, attempts, name) is { } wait)
        {
            return wait;
        }

        bool canBe = name.Length <= Codes.MaxLength && password is { Length: > 0 and <= MostSecretCharacters };
        Person? person = canBe ? await people.FindAsync(name, password!, cancellationToken) : null;
        if (person is null)
        {
            return Form(context, pages, clock, new SignInReport(SignInTrouble.NoMatch, returnTo), StatusCodes.Status401Unauthorized);
        }

        attempts.Succeeded(context.Connection.RemoteIpAddress, name);
        return await EnterAsync(context, person.Id, null, returnTo, cancellationToken);
    }

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
            var report = new SignInReport(SignInTrouble.UnknownKey, returnTo) { WithKey = true };
            return Form(context, pages, clock, report, StatusCodes.Status401Unauthorized);
        }

        attempts.Succeeded(context.Connection.RemoteIpAddress);
        AuditNote.Current?.By(AuditCaller.Of(key));
        return await EnterAsync(context, null, key.Id, returnTo, cancellationToken);
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
            var report = new SignInReport(SignInTrouble.UsedLink, null);
            return Form(context, pages, clock, report, StatusCodes.Status401Unauthorized);
        }

        attempts.Succeeded(context.Connection.RemoteIpAddress);
        return await EnterAsync(context, null, key.Id, null, cancellationToken);
    }

    private static async Task<IResult> OutAsync(HttpContext context, IAntiforgery forms, CancellationToken cancellationToken)
    {
        await forms.ValidateRequestAsync(context);
        await SessionCookie.EndAsync(context, cancellationToken);
        return new SeeOther(Path);
    }

    /// <summary>Where to go after signing in: only a path of this service, as '//host' and '/\host' lead a browser elsewhere.</summary>
    /// <param name="address">Path and query that were asked for; anything else: the first page.</param>
    internal static string Ours(string? address) =>
        address is { Length: > 0 } && address[0] == '/' && (address.Length == 1 || address[1] is not ('/' or '\\'))
        && !address.Any(char.IsControl) ? address : "/";

    /// <summary>The form, with every way in that there is.</summary>
    /// <param name="context">The request.</param>
    /// <param name="pages">Makes pages.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="report">What it says.</param>
    /// <param name="status">HTTP status code.</param>
    internal static IResult Form(HttpContext context, Pages pages, TimeProvider clock, SignInReport report, int status)
    {
        string? company = context.RequestServices.GetRequiredService<Settings>().Company?.Name;
        return pages.Of<SignInPage>(context, report with { CompanyAccount = company }, clock.GetUtcNow(), status);
    }
}

/// <summary>Sends a browser on by GET after a form was taken (303).</summary>
/// <param name="Address">Path and query of the page.</param>
internal sealed record SeeOther(string Address) : IResult
{
    /// <inheritdoc/>
    public Task ExecuteAsync(HttpContext httpContext)
    {
        httpContext.Response.StatusCode = StatusCodes.Status303SeeOther;
        httpContext.Response.Headers.Location = Address;
        return Task.CompletedTask;
    }
}
