using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;
using Washwear.Api.Http;
using Washwear.Api.Security;
using Washwear.Dashboard.Links;
using Washwear.Dashboard.Shell;

namespace Washwear.Api.Links;

/// <summary>Knows whoever has a shared address by the address itself: they may read the one thing that it shows, and nothing else.</summary>
/// <param name="options">Not used.</param>
/// <param name="logger">The log.</param>
/// <param name="encoder">Not used.</param>
/// <param name="links">The links.</param>
internal sealed class LinkHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, ViewLinks links)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    /// <summary>Name of the scheme.</summary>
    public const string SchemeName = "Link";

    /// <summary>Whether an address is one that was shared.</summary>
    /// <param name="request">The request.</param>
    public static bool IsShared(HttpRequest request) => request.Path.StartsWithSegments(Urls.SharedPrefix, StringComparison.Ordinal);

    /// <inheritdoc/>
    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        string[] parts = Request.Path.Value!.Split('/', StringSplitOptions.RemoveEmptyEntries);
        LinkView? asked = parts.Length != 3 ? null : parts[2] switch
        {
            "calendar.ics" => LinkView.Calendar,
            "board" => LinkView.Board,
            _ => null,
        };
        if (asked is not { } shows || await links.FindAsync(parts[1], shows, Context.RequestAborted) is not { } link)
        {
            return AuthenticateResult.Fail("The address was never shared, or it was revoked.");
        }

        var reader = new ApiKey(0, "link " + link.Name, Abilities.Read, link.Scope, link.MadeAt, null);
        return AuthenticateResult.Success(new AuthenticationTicket(Authentication.Principal(reader, SchemeName), SchemeName));
    }

    // Whoever guesses is not told whether there once was such an address.
    /// <inheritdoc/>
    protected override Task HandleChallengeAsync(AuthenticationProperties properties) =>
        Problems.Status(StatusCodes.Status404NotFound, "This address shows nothing; it may have been revoked. Ask whoever gave it to you.").ExecuteAsync(Context);

    /// <inheritdoc/>
    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => HandleChallengeAsync(properties);
}
