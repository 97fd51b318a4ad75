using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;
using Washwear.Api.Http;

namespace Washwear.Api.Security;

/// <summary>Knows programs by the key in their Authorization header, and says what a stranger has to do.</summary>
/// <param name="options">Not used.</param>
/// <param name="logger">The log.</param>
/// <param name="encoder">Not used.</param>
/// <param name="keys">The keys.</param>
public sealed class KeyHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, Keys keys)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    private const string Prefix = "Bearer ";

    /// <inheritdoc/>
    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        string header = Request.Headers.Authorization.ToString();
        if (!header.StartsWith(Prefix, StringComparison.OrdinalIgnoreCase))
        {
            return AuthenticateResult.NoResult();
        }

        ApiKey? key = await keys.FindAsync(header[Prefix.Length..].Trim(), Context.RequestAborted);
        return key is null
            ? AuthenticateResult.Fail("The key is not known or was revoked.")
            : AuthenticateResult.Success(
                new AuthenticationTicket(Authentication.Principal(key, Authentication.KeyScheme), Authentication.KeyScheme));
    }

    /// <inheritdoc/>
    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        if (IsPersonReading())
        {
            Response.Redirect(SignIn.Address(Request.Path + Request.QueryString));
            return Task.CompletedTask;
        }

        Response.StatusCode = StatusCodes.Status401Unauthorized;
        Response.Headers.WWWAuthenticate = "Bearer";
        return Task.CompletedTask;
    }

    // Nobody can be sent back to a form that was posted: that one gets the problem as a page.
    private bool IsPersonReading() =>
        HttpMethods.IsGet(Request.Method) && Request.Headers.Authorization.Count == 0 && Pages.IsForPerson(Request);
}
