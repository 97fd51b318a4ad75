using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
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
    private const string KeyIdClaim = "key_id";
    private const string ScopeClaim = "scope";
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    /// <summary>Registers keys, cookies, abilities and form protection.</summary>
    /// <param name="services">The services.</param>
    /// <param name="settings">The settings.</param>
    public static void AddSecurity(this IServiceCollection services, Settings settings)
    {
        services.AddSingleton<Keys>();
        services.AddSingleton<SignInAttempts>();
        services.AddAbilities();
        services.AddAntiforgery(options => Harden(options.Cookie, "washwear-form"));
        services.AddDataProtection().SetApplicationName("washwear");
        services.AddSingleton<IConfigureOptions<KeyManagementOptions>, CookieKeyPlace>();
        services.AddAuthentication(options =>
            {
                options.DefaultScheme = ChooserScheme;
                options.DefaultChallengeScheme = KeyScheme;
                options.DefaultForbidScheme = KeyScheme;
            })
            .AddPolicyScheme(ChooserScheme, null, options => options.ForwardDefaultSelector = context =>
                context.Request.Headers.Authorization.Count > 0 ? KeyScheme : CookieScheme)
            .AddScheme<AuthenticationSchemeOptions, KeyHandler>(KeyScheme, null)
            .AddCookie(CookieScheme, options =>
            {
                Harden(options.Cookie, "washwear-session");
                options.ExpireTimeSpan = settings.SignInLasts;
                options.SlidingExpiration = true;
                options.Events.OnValidatePrincipal = RefreshAsync;
            });
    }

    /// <summary>The principal of a key.</summary>
    /// <param name="key">The key.</param>
    /// <param name="scheme">How the caller was known.</param>
    public static ClaimsPrincipal Principal(ApiKey key, string scheme)
    {
        var identity = new ClaimsIdentity(scheme, ClaimTypes.Name, ClaimTypes.Role);
        identity.AddClaim(new Claim(ClaimTypes.Name, key.Name));
        identity.AddClaim(new Claim(KeyIdClaim, key.Id.ToString(CultureInfo.InvariantCulture)));
        identity.AddClaims(AbilityRules.Words(key.Abilities).Select(word => new Claim(AbilityRules.Claim, word)));
        identity.AddClaim(new Claim(ScopeClaim, key.Scope.ToString()));
        return new ClaimsPrincipal(identity);
    }

    /// <summary>Which part of the fleet a caller sees; who is not known sees nothing.</summary>
    /// <param name="caller">The caller.</param>
    public static Scope ScopeOf(ClaimsPrincipal caller) =>
        caller.FindFirstValue(ScopeClaim) is { } text && Scope.Parse(text) is { } scope ? scope : Scope.Nothing;

    /// <summary>Number of the key that a caller was known by; 0: nobody is known.</summary>
    /// <param name="caller">The caller.</param>
    public static long KeyIdOf(ClaimsPrincipal caller) =>
        long.TryParse(caller.FindFirstValue(KeyIdClaim), NumberStyles.None, CultureInfo.InvariantCulture, out long id) ? id : 0;

    // A cookie is good as long as the key behind it is, and may do what that key may do now.
    private static async Task RefreshAsync(CookieValidatePrincipalContext context)
    {
        Keys keys = context.HttpContext.RequestServices.GetRequiredService<Keys>();
        string? id = context.Principal?.FindFirstValue(KeyIdClaim);
        ApiKey? key = int.TryParse(id, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? await keys.FindAsync(number, context.HttpContext.RequestAborted)
            : null;
        if (key is null)
        {
            context.RejectPrincipal();
            return;
        }

        context.ReplacePrincipal(Principal(key, CookieScheme));
    }

    private static void Harden(CookieBuilder cookie, string name)
    {
        cookie.Name = name;
        cookie.HttpOnly = true;
        cookie.SameSite = SameSiteMode.Lax;
        cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        cookie.IsEssential = true;
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
