using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Washwear.Api.Links;
using Washwear.Api.Security.Company;
using Washwear.Api.Security.Scoped;
using Washwear.Api.Storage;

namespace Washwear.Api.Security;

/// <summary>Who is calling: a program by the key in its Authorization header, a person by the cookie of a sign-in.</summary>
public static class Authentication
{
    /// <summary>Scheme of programs.</summary>
    public const string KeyScheme = "Bearer";

    /// <summary>Scheme of people.</summary>
    public const string CookieScheme = CookieAuthenticationDefaults.AuthenticationScheme;

    private const string ChooserScheme = "key-or-cookie";
    private const string RefuserScheme = "refuser";
    private const string KeyIdClaim = "key_id";
    private const string PersonIdClaim = "person_id";
    private const string ScopeClaim = "scope";
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    /// <summary>Registers keys, cookies, abilities and form protection.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    public static void AddSecurity(this IServiceCollection services, Settings settings)
    {
        services.AddSingleton<Keys>();
        services.AddSingleton<Passwords>();
        services.AddSingleton<People>();
        services.AddSingleton<PersonLinks>();
        services.AddSingleton<SessionCache>();
        services.AddSingleton<Sessions>();
        services.AddHostedService<SessionWorker>();
        services.AddSingleton<SignInAttempts>();
        services.AddSingleton<ScopedServices>();
        services.AddAbilities();
        services.AddAntiforgery(options => HardenFixed(options.Cookie, "form", settings));
        services.AddDataProtection().SetApplicationName("washwear");
        services.AddSingleton<IConfigureOptions<KeyManagementOptions>, CookieKeyPlace>();
        AuthenticationBuilder authentication = services.AddAuthentication(options =>
            {
                options.DefaultScheme = ChooserScheme;
                options.DefaultChallengeScheme = RefuserScheme;
                options.DefaultForbidScheme = RefuserScheme;
            })
            .AddPolicyScheme(RefuserScheme, null, options => options.ForwardDefaultSelector = context =>
                LinkHandler.IsShared(context.Request) ? LinkHandler.SchemeName : KeyScheme)
            .AddPolicyScheme(ChooserScheme, null, options => options.ForwardDefaultSelector = context =>
                LinkHandler.IsShared(context.Request) ? LinkHandler.SchemeName
                    : context.Request.Headers.Authorization.Count > 0 ? KeyScheme
                    : CookieScheme)
            .AddScheme<AuthenticationSchemeOptions, KeyHandler>(KeyScheme, null)
            .AddScheme<AuthenticationSchemeOptions, LinkHandler>(LinkHandler.SchemeName, null)
            .AddCookie(CookieScheme, options => SessionCookie.Configure(options, settings));
        if (settings.Company is { } company)
        {
            services.AddSingleton<CompanyPeople>();
            CompanyHandler.Add(authentication, company, settings);
        }
    }

    /// <summary>The principal of a session.</summary>
    /// <param name="session">The session.</param>
    public static ClaimsPrincipal Principal(Session session) => session.PersonId is { } person
        ? Principal(CookieScheme, PersonIdClaim, person, session.Name, session.Abilities, session.Scope)
        : Principal(CookieScheme, KeyIdClaim, session.KeyId ?? 0, session.Name, session.Abilities, session.Scope);

    /// <summary>The principal of a key.</summary>
    /// <param name="key">The key.</param>
    /// <param name="scheme">How the caller was known.</param>
    public static ClaimsPrincipal Principal(ApiKey key, string scheme) =>
        Principal(scheme, KeyIdClaim, key.Id, key.Name, key.Abilities, key.Scope);

    /// <summary>Which part of the fleet a caller sees; who is not known sees nothing.</summary>
    /// <param name="caller">The caller.</param>
    public static Scope ScopeOf(ClaimsPrincipal caller) =>
        caller.FindFirstValue(ScopeClaim) is { } text && Scope.Parse(text) is { } scope ? scope : Scope.Nothing;

    /// <summary>Number of the key that a caller was known by; 0: nobody is known.</summary>
    /// <param name="caller">The caller.</param>
    public static long KeyIdOf(ClaimsPrincipal caller) =>
        long.TryParse(caller.FindFirstValue(KeyIdClaim), NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : 0;

    /// <summary>Number of the person that a caller was known by; null: a program, or somebody who signed in with a key.</summary>
    /// <param name="caller">The caller.</param>
    public static long? PersonIdOf(ClaimsPrincipal caller) =>
        long.TryParse(caller.FindFirstValue(PersonIdClaim), NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : null;

    // Forms are bound to the name identifier: what somebody may do can change while a form is open.
    private static ClaimsPrincipal Principal(string scheme, string idClaim, long id, string name, Abilities abilities, Scope scope)
    {
        string number = id.ToString(CultureInfo.InvariantCulture);
        var identity = new ClaimsIdentity(scheme, ClaimTypes.Name, ClaimTypes.Role);
        identity.AddClaim(new Claim(ClaimTypes.NameIdentifier, idClaim + ":" + number));
        identity.AddClaim(new Claim(ClaimTypes.Name, name));
        identity.AddClaim(new Claim(idClaim, number));
        identity.AddClaims(AbilityRules.Words(abilities).Select(word => new Claim(AbilityRules.Claim, word)));
        identity.AddClaim(new Claim(ScopeClaim, scope.ToString()));
        return new ClaimsPrincipal(identity);
    }

    /// <summary>Sets what every cookie of ours has: no script reads it, no page of another site sends it along with a change.</summary>
    /// <param name="cookie">The cookie.</param>
    /// <param name="name">Its name.</param>
    internal static void Harden(CookieBuilder cookie, string name)
    {
        cookie.Name = name;
        cookie.Path = "/";
        cookie.HttpOnly = true;
        cookie.SameSite = SameSiteMode.Lax;
        cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        cookie.IsEssential = true;
    }

    /// <summary>Hardens a cookie to which the platform gives one name for all requests: only where people come by https alone can it be
    /// bound to the host.</summary>
    /// <param name="cookie">The cookie.</param>
    /// <param name="name">Its name, or what its name begins with.</param>
    /// <param name="settings">By which address people come.</param>
    internal static void HardenFixed(CookieBuilder cookie, string name, Settings settings)
    {
        bool isSecure = settings.PublicUrl.StartsWith("https://", StringComparison.OrdinalIgnoreCase);
        Harden(cookie, isSecure ? HostCookies.Prefix + name : name);
        cookie.SecurePolicy = isSecure ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
    }

    // Runs when a cookie is first protected or read: nothing is written while the API is merely described.
    private sealed class CookieKeyPlace(Database database) : IConfigureOptions<KeyManagementOptions>
    {
        public void Configure(KeyManagementOptions options)
        {
            if (database.Engine.IsShared)
            {
                options.XmlRepository = new CookieKeyQueries(database);
                return;
            }

            string folder = Path.Combine(Path.GetDirectoryName(database.File)!, "cookie-keys");
            DirectoryInfo created = OperatingSystem.IsWindows()
                ? Directory.CreateDirectory(folder)
                : Directory.CreateDirectory(folder, OwnerOnly);
            options.XmlRepository = new FileSystemXmlRepository(created, NullLoggerFactory.Instance);
        }
    }
}
