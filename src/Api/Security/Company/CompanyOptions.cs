namespace Washwear.Api.Security.Company;

/// <summary>Who vouches for people that sign in with the account of their company, by OpenID Connect.</summary>
/// <param name="Issuer">The issuer, as its tokens name it.</param>
/// <param name="ClientId">What this service is called there.</param>
/// <param name="ClientSecret">What this service proves itself by there; null: by PKCE alone.</param>
/// <param name="Scopes">What is asked for; openid among it.</param>
/// <param name="Name">What the account is called on the sign-in page.</param>
/// <param name="LoginClaim">Claim that is held against logins when an account comes first.</param>
public sealed record CompanyOptions(string Issuer, string ClientId, string? ClientSecret, IReadOnlyList<string> Scopes, string Name, string LoginClaim)
{
    /// <summary>The claim whose value counts only if the issuer has verified it.</summary>
    public const string EmailClaim = "email";

    /// <summary>Most characters of an issuer and of a name there (OpenID Connect Core 1.0, section 2, for the latter).</summary>
    public const int MostCharacters = 255;

    private const string OpenIdScope = "openid";

    /// <summary>Whether the issuer is spoken to by https; it is not only on this machine itself.</summary>
    public bool IsSecure => Issuer.StartsWith("https:", StringComparison.OrdinalIgnoreCase);

    /// <summary>Where the issuer is, for people; nothing secret.</summary>
    public override string ToString() => Issuer;

    /// <summary>Holds what was given against the rules.</summary>
    /// <exception cref="SettingException">Something cannot be taken.</exception>
    internal CompanyOptions Checked()
    {
        bool isIssuer = Issuer.Length <= MostCharacters && Uri.TryCreate(Issuer, UriKind.Absolute, out Uri? address)
            && (address.Scheme == Uri.UriSchemeHttps || (address.Scheme == Uri.UriSchemeHttp && address.IsLoopback))
            && address is { Query: "", Fragment: "", UserInfo: "" };
        return !isIssuer
            ? throw new SettingException("Setting oidc_issuer must be an address that begins with https:// (http:// only on this machine itself), without a query.")
            : ClientId.Length == 0
                ? throw new SettingException("Setting oidc_client_id is missing: the name under which the issuer knows this service.")
                : !Scopes.Contains(OpenIdScope) ? throw new SettingException("Setting oidc_scopes must contain openid.") : this;
    }
}
