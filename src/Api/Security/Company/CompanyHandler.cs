using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.OpenIdConnect;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Options;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Security.Company;

/// <summary>Speaks OpenID Connect: the platform's own handler, asked by a route of ours instead of ahead of all routes, so that limits and
/// the audit hold for it as for any way in.</summary>
/// <param name="options">Its options.</param>
/// <param name="loggers">The log.</param>
/// <param name="html">Writes texts into pages.</param>
/// <param name="urls">Writes texts into addresses.</param>
internal sealed class CompanyHandler(IOptionsMonitor<OpenIdConnectOptions> options, ILoggerFactory loggers, HtmlEncoder html, UrlEncoder urls)
    : OpenIdConnectHandler(options, loggers, html, urls)
{
    /// <summary>Name of the scheme.</summary>
    public const string SchemeName = "company";

    private static readonly TimeSpan WayTakes = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan IssuerTakes = TimeSpan.FromSeconds(10);
    private bool _isLost;

    /// <summary>Registers the scheme.</summary>
    public static void Add(AuthenticationBuilder authentication, CompanyOptions company, Settings settings)
    {
        authentication.Services.TryAddEnumerable(
            ServiceDescriptor.Singleton<IPostConfigureOptions<OpenIdConnectOptions>, OpenIdConnectPostConfigureOptions>());
        authentication.AddRemoteScheme<OpenIdConnectOptions, CompanyHandler>(SchemeName, null, options => Configure(options, company, settings));
    }

    /// <summary>Reads and checks what the issuer sent the browser back with.</summary>
    /// <returns>Who it is, or why that is not known; and whether the way was begun elsewhere, too long ago, or gone before.</returns>
    public async Task<(HandleRequestResult Result, bool IsLost)> ReadAsync()
    {
        try
        {
            HandleRequestResult result = await HandleRemoteAuthenticateAsync();
            return (result, _isLost || (!result.Succeeded && result.Properties is null));
        }
        catch (Exception error) when (!Context.RequestAborted.IsCancellationRequested)
        {
            // As the platform's own handler: whatever it stumbles over in an answer from outside is a sign-in that failed.
            return (HandleRequestResult.Fail(error), _isLost);
        }
    }

    /// <inheritdoc/>
    public override Task<bool> HandleRequestAsync() => Task.FromResult(false);

    /// <inheritdoc/>
    protected override bool ValidateCorrelationId(AuthenticationProperties properties)
    {
        bool isOurs = base.ValidateCorrelationId(properties);
        _isLost = !isOurs;
        return isOurs;
    }

    private static void Configure(OpenIdConnectOptions options, CompanyOptions company, Settings settings)
    {
        options.Authority = company.Issuer;
        options.RequireHttpsMetadata = company.IsSecure;
        options.ClientId = company.ClientId;
        options.ClientSecret = company.ClientSecret;
        options.ResponseType = "code";
        options.ResponseMode = "query";
        options.UsePkce = true;
        options.MapInboundClaims = false;
        options.SignInScheme = Authentication.CookieScheme;
        options.CallbackPath = Urls.SignInWithCompany;
        options.RemoteSignOutPath = default;
        options.SignedOutCallbackPath = default;
        options.RemoteAuthenticationTimeout = WayTakes;
        options.BackchannelTimeout = IssuerTakes;
        options.ProtocolValidator.NonceLifetime = WayTakes;
        options.Scope.Clear();
        foreach (string scope in company.Scopes)
        {
            options.Scope.Add(scope);
        }

        // The issuer that was set, whatever its own description says of itself; and a signature, which the platform asks for only where
        // a token does not come from the issuer itself. One that is there was verified before.
        options.TokenValidationParameters.IssuerValidator = (issuer, token, _) => issuer != company.Issuer
            ? throw new SecurityTokenInvalidIssuerException("The token is of another issuer than setting oidc_issuer says.")
            : token is JsonWebToken { EncodedSignature.Length: > 0 }
                ? issuer
                : throw new SecurityTokenInvalidSignatureException("The token is not signed.");
        Authentication.HardenFixed(options.CorrelationCookie, "company-way.", settings);
        Authentication.HardenFixed(options.NonceCookie, "company-once.", settings);
        if (settings.GivenPublicUrl is { } address)
        {
            options.Events.OnRedirectToIdentityProvider = context =>
            {
                context.ProtocolMessage.RedirectUri = address + Urls.SignInWithCompany;
                return Task.CompletedTask;
            };
        }
    }
}
