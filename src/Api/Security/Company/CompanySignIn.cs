using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Mvc;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;
using Washwear.Api.Audit;
using Washwear.Api.Http;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Security.Company;

/// <summary>The way in with the account of one's company.</summary>
internal static partial class CompanySignIn
{
    /// <summary>Maps the routes, if there is such a way.</summary>
    public static void MapCompanySignIn(this RouteGroupBuilder open, Settings settings)
    {
        if (settings.Company is not null)
        {
            open.MapGet(Urls.SignInWithCompanyRoute, StartAsync);
            open.MapGet(Urls.SignInWithCompany, BackAsync).Audited("session.begin");
        }
    }

    private static async Task<IResult> StartAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        ILogger<CompanyHandler> log,
        [FromQuery(Name = "return_to")] string? returnTo)
    {
        try
        {
            await context.ChallengeAsync(CompanyHandler.SchemeName, new AuthenticationProperties { RedirectUri = SignIn.Ours(returnTo) });
            return Results.Empty;
        }
        catch (Exception error) when (IsOfIssuer(error) && !context.RequestAborted.IsCancellationRequested)
        {
            LogNoIssuer(log, error);
            return SignIn.Form(context, pages, clock, new SignInReport(SignInTrouble.Unreachable, returnTo), StatusCodes.Status502BadGateway);
        }
    }

    private static async Task<IResult> BackAsync(
        HttpContext context,
        Pages pages,
        TimeProvider clock,
        Settings settings,
        CompanyPeople people,
        SignInAttempts attempts,
        IAuthenticationHandlerProvider handlers,
        ILogger<CompanyHandler> log,
        CancellationToken cancellationToken)
    {
        if (SignIn.MustWait(context, attempts) is { } wait)
        {
            return wait;
        }

        var handler = (CompanyHandler)(await handlers.GetHandlerAsync(context, CompanyHandler.SchemeName))!;
        (HandleRequestResult result, bool isLost) = await handler.ReadAsync();
        string? returnTo = result.Properties?.RedirectUri;
        CompanyAccount? account = result.Principal is { } claims ? CompanyAccount.Read(claims, settings.Company!.LoginClaim) : null;
        if (account is null)
        {
            LogNotTrusted(log, result.Failure);
            bool isDown = IsUnreachable(result.Failure);
            SignInTrouble why = isLost ? SignInTrouble.Lost
                : isDown ? SignInTrouble.Unreachable
                : context.Request.Query.ContainsKey("error") ? SignInTrouble.Denied
                : SignInTrouble.NotTrusted;
            int status = isDown && !isLost ? StatusCodes.Status502BadGateway : StatusCodes.Status401Unauthorized;
            return SignIn.Form(context, pages, clock, new SignInReport(why, returnTo), status);
        }

        CompanyEntry entry = await people.FindAsync(account, cancellationToken);
        if (entry.Person is not { } person)
        {
            return SignIn.Form(context, pages, clock, new SignInReport(entry.Refusal, returnTo), StatusCodes.Status401Unauthorized);
        }

        attempts.Succeeded(context.Connection.RemoteIpAddress);
        return await SignIn.EnterAsync(context, person.Id, null, returnTo, cancellationToken);
    }

    // The library says by these that it has no description of the issuer, or that the issuer refused what it was pushed.
    private static bool IsOfIssuer(Exception error) => error is InvalidOperationException or OpenIdConnectProtocolException || IsUnreachable(error);

    private static bool IsUnreachable(Exception? error) =>
        error is HttpRequestException or IOException or OperationCanceledException || (error?.InnerException is { } inner && IsUnreachable(inner));

    [LoggerMessage(Level = LogLevel.Warning, Message = "The issuer that oidc_issuer names cannot be asked")]
    private static partial void LogNoIssuer(ILogger log, Exception error);

    [LoggerMessage(Level = LogLevel.Warning, Message = "A sign-in with a company's account was not taken")]
    private static partial void LogNotTrusted(ILogger log, Exception? error);
}
