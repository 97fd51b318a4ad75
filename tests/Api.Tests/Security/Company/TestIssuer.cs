using System.Buffers.Text;
using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Washwear.Api.Tests.Security.Company;

/// <summary>An issuer of OpenID Connect on a free loopback port, written from the standard alone: it shares no code with the program.
/// It is strict with its client and says of its one account whatever a test wants it to say, also what it should not.</summary>
internal sealed class TestIssuer : IAsyncDisposable
{
    public const string ClientId = "washwear-test";
    public const string ClientSecret = "secret-between-the-two";

    private readonly WebApplication _app;
    private readonly RSA _key = RSA.Create(2048);
    private readonly RSA _otherKey = RSA.Create(2048);
    private readonly ConcurrentDictionary<string, Asked> _codes = new();

    private TestIssuer(WebApplication app)
    {
        _app = app;
        app.MapGet("/.well-known/openid-configuration", Describe);
        app.MapGet("/keys", Keys);
        app.MapGet("/authorize", Authorize);
        app.MapPost("/token", TokenAsync);
    }

    /// <summary>Its name: where it listens.</summary>
    public string Name => _app.Urls.First();

    /// <summary>Claims of the account that is signed in there.</summary>
    public Dictionary<string, object> Claims { get; } = new() { ["sub"] = "account-1", ["email"] = "anna@example.org", ["email_verified"] = true };

    /// <summary>Changes claims of the token before it is signed; null: none.</summary>
    public Action<Dictionary<string, object>>? Spoil { get; set; }

    /// <summary>Whether tokens are signed with a key that is not among those it tells of.</summary>
    public bool SignsWithOtherKey { get; set; }

    /// <summary>Whether tokens carry no signature at all.</summary>
    public bool SignsNot { get; set; }

    /// <summary>Whether the token endpoint is out of order.</summary>
    public bool IsBroken { get; set; }

    /// <summary>Why it refused its client; empty: it never did.</summary>
    public ConcurrentQueue<string> Refusals { get; } = new();

    public static async Task<TestIssuer> StartAsync()
    {
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().UseUrls("http://127.0.0.1:0");
        builder.Services.AddRoutingCore();
        builder.Logging.ClearProviders();
        WebApplication app = builder.Build();
        var issuer = new TestIssuer(app);
        await app.StartAsync();
        return issuer;
    }

    public async ValueTask DisposeAsync()
    {
        await _app.DisposeAsync();
        _key.Dispose();
        _otherKey.Dispose();
    }

    private IResult Describe() => Results.Json(new Dictionary<string, object>
    {
        ["issuer"] = Name,
        ["authorization_endpoint"] = Name + "/authorize",
        ["token_endpoint"] = Name + "/token",
        ["jwks_uri"] = Name + "/keys",
        ["response_types_supported"] = new[] { "code" },
        ["subject_types_supported"] = new[] { "public" },
        ["id_token_signing_alg_values_supported"] = new[] { "RS256" },
    });

    private IResult Keys()
    {
        RSAParameters key = _key.ExportParameters(includePrivateParameters: false);
        var told = new { kty = "RSA", use = "sig", alg = "RS256", kid = "one", n = Base64Url.EncodeToString(key.Modulus), e = Base64Url.EncodeToString(key.Exponent) };
        return Results.Json(new { keys = new[] { told } });
    }

    // Signs its account in at once, as if a person had.
    private IResult Authorize(HttpRequest request)
    {
        string Of(string name) => request.Query[name].ToString();
        bool isGood = Of("response_type") == "code" && Of("client_id") == ClientId && Of("scope").Split(' ').Contains("openid")
            && Of("code_challenge_method") == "S256" && Of("code_challenge").Length == 43 && Of("state").Length > 0 && Of("nonce").Length > 0
            && Of("response_mode") is "" or "query";
        if (!isGood)
        {
            return Refuse("authorize " + request.QueryString);
        }

        string code = Convert.ToHexString(RandomNumberGenerator.GetBytes(16));
        _codes[code] = new Asked(Of("code_challenge"), Of("nonce"), Of("redirect_uri"));
        return Results.Redirect(QueryHelpers.AddQueryString(
            Of("redirect_uri"), new Dictionary<string, string?> { ["code"] = code, ["state"] = Of("state") }));
    }

    private async Task<IResult> TokenAsync(HttpRequest request)
    {
        if (IsBroken)
        {
            return Results.Text("<b>out of order</b>", "text/html", statusCode: StatusCodes.Status500InternalServerError);
        }

        IFormCollection form = await request.ReadFormAsync();
        string challenge = Base64Url.EncodeToString(SHA256.HashData(Encoding.ASCII.GetBytes(form["code_verifier"].ToString())));
        bool isGood = form["grant_type"] == "authorization_code" && form["client_id"] == ClientId && form["client_secret"] == ClientSecret;
        if (!isGood || !_codes.TryRemove(form["code"].ToString(), out Asked? asked) || asked.Challenge != challenge || asked.RedirectUri != form["redirect_uri"])
        {
            return Refuse("token");
        }

        return Results.Json(new { access_token = "not-used", token_type = "Bearer", expires_in = 300, id_token = Token(asked.Nonce) });
    }

    private string Token(string nonce)
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        var claims = new Dictionary<string, object>(Claims)
        {
            ["iss"] = Name,
            ["aud"] = ClientId,
            ["iat"] = now.ToUnixTimeSeconds(),
            ["exp"] = now.AddMinutes(5).ToUnixTimeSeconds(),
            ["nonce"] = nonce,
        };
        Spoil?.Invoke(claims);
        string head = Part(SignsNot ? new { alg = "none", typ = "JWT" } : new { alg = "RS256", typ = "JWT", kid = "one" });
        string signed = head + "." + Part(claims);
        byte[] signature = SignsNot ? [] : (SignsWithOtherKey ? _otherKey : _key).SignData(Encoding.ASCII.GetBytes(signed), HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        return signed + "." + Base64Url.EncodeToString(signature);
    }

    private IResult Refuse(string what)
    {
        Refusals.Enqueue(what);
        return Results.Json(new { error = "invalid_request", error_description = "<b>what the issuer says</b>" }, statusCode: StatusCodes.Status400BadRequest);
    }

    private static string Part(object content) => Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(content));

    private sealed record Asked(string Challenge, string Nonce, string RedirectUri);
}
