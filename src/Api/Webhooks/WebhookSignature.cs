using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Washwear.Api.Webhooks;

/// <summary>Secrets and signatures of messages, as Standard Webhooks 1.0.0 has them.</summary>
public static class WebhookSignature
{
    private const string Prefix = "whsec_";
    private const int SecretBytes = 32;

    /// <summary>Makes a secret: 'whsec_' and 32 random bytes in base64.</summary>
    public static string CreateSecret() => Prefix + Convert.ToBase64String(RandomNumberGenerator.GetBytes(SecretBytes));

    /// <summary>Signs: 'v1,' and the base64 of HMAC-SHA256 over 'id.timestamp.body'.</summary>
    /// <param name="secret">The secret, with its prefix.</param>
    /// <param name="id">The header webhook-id.</param>
    /// <param name="unixSeconds">The header webhook-timestamp.</param>
    /// <param name="body">The body, byte for byte.</param>
    public static string Sign(string secret, string id, long unixSeconds, ReadOnlySpan<byte> body)
    {
        byte[] head = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{id}.{unixSeconds}."));
        byte[] signed = [.. head, .. body];
        return "v1," + Convert.ToBase64String(HMACSHA256.HashData(Convert.FromBase64String(secret[Prefix.Length..]), signed));
    }
}
